"""The answer of ``tiles why --all``: every cause in full, and what was ruled out by what."""

from math import exp

from tiles.cli.prose import percent
from tiles.cli.why_counts import in_answer, not_counted, not_tested, of_load
from tiles.cli.why_text import (
    capital,
    handling,
    hanging,
    has_suspect,
    heading,
    labelled,
    leaching,
    news,
    of_all_glazes,
    tile,
    wrap,
)
from tiles.cli.why_twins import with_what_it_tells
from tiles.errors import shell_word


def lines(record, diagnoses: list) -> list[str]:
    """One line about the tile, then all that is known of each defect.

    Of a bisque its peak, where no cone of it is known.
    """
    from tiles.records.derived import bisque_peak
    from tiles.records.spoken import spoken_bisque

    found = tile(record)
    if bisque_peak(record):
        found += wrap(f"Bisque: {spoken_bisque(record)}.")
    for diagnosis in diagnoses:
        found += ["", *_diagnosis(diagnosis, many_areas=len(record.areas) > 1)]
    if told := leaching(diagnoses):
        found += ["", *told]
    for number, text in enumerate(handling(diagnoses)):
        found += [*([] if number else [""]), *wrap(text)]
    return found


def _diagnosis(diagnosis, *, many_areas: bool) -> list[str]:
    told = [*wrap(heading(diagnosis, many_areas)), *wrap(diagnosis.say), *wrap(of_load(diagnosis))]
    causes = diagnosis.causes
    shown = [cause for cause in causes if not cause.is_ruled_out or cause is causes[0]]
    for note in news(diagnosis, shown):
        told += wrap(note)
    for each in diagnosis.case.twins:
        told += wrap(with_what_it_tells(diagnosis.case, each).in_full)
    told += [line for each in diagnosis.case.of_kin for line in wrap(each)]
    told += wrap(diagnosis.case.since) if diagnosis.case.since else []
    told += wrap(diagnosis.case.together) if diagnosis.case.together else []
    told += wrap(of_all_glazes(diagnosis.case)) if diagnosis.case.studio else []
    if not has_suspect(diagnosis):
        known = f"All causes known: tiles rules {shell_word(diagnosis.defect)}"
        return [*told, "", *wrap(known)]
    if shown and not diagnosis.enough_to_tell:
        told += ["", "Candidates only, until more is known:"]
    for place, cause in enumerate(shown, start=1):
        told += ["", *_cause(place, cause, in_answer(diagnosis))]
    return [*told, *_ruled_out([cause for cause in causes if cause not in shown])]


def _cause(place: int, cause, answer) -> list[str]:
    told = hanging(f"{place}. ", f"{capital(cause.title)}  ({percent(cause.share)})")
    parts = (
        ("share", _joined(cause)),
        ("for", cause.for_),
        ("against", cause.against),
        ("your tiles", not_tested(cause.of_own, cause.tests)),
        ("not recorded", cause.not_recorded),
        ("to be sure", [each.say for each in not_counted(cause.tests, [], answer)]),
        ("fix", cause.fixes),
        ("caution", cause.cautions),
    )
    for label, sentences in parts:
        for number, sentence in enumerate(sentences):
            told += labelled(label if number == 0 else "", sentence)
    return [*told, *labelled("basis", cause.basis)]


def _joined(cause) -> list[str]:
    """What common practice and own tiles each make of it, where own tiles moved it."""
    if not cause.own_log_odds:
        return []
    times = exp(cause.own_log_odds)
    alone = f"common practice alone {percent(cause.practice_share)}"
    return [f"{alone}; your tiles make it {times:.1f} times as likely."]


def _ruled_out(causes: list) -> list[str]:
    if not causes:
        return []
    told = ["", "RULED OUT by what is recorded"]
    for cause in causes:
        told += labelled(f"{percent(cause.share)}", f"{capital(cause.title)}: {cause.against[0]}")
    return told
