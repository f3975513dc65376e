"""The answer of ``tiles why`` as text: it leads with the answer and fits one screen."""

import shutil
import textwrap
from dataclasses import dataclass, replace
from math import exp

IN_FULL = 3
"""So many causes are told, as long as each holds ..."""
WORTH_TELLING = 0.05
"""... this share."""
WORTH_NAMING = 0.01
MOST_NAMED = 6
MOST_COUNTS = 2
"""So many counts of own tiles are told for a cause."""
SCREEN_LINES = 37
"""One defect takes so many lines at most, so that the tile's name above it fits the screen too."""
OTHER = "other"
"""The name of what is in no list: there is nothing to tell of it but its share."""
LABEL_WIDTH = 14
MOST_WIDTH = 96


@dataclass(frozen=True)
class Detail:
    """How much is told: causes, and sentences of each kind for the first cause and the others."""

    causes: int
    of_first: int
    of_others: int
    not_recorded: int = 3


_LESS_AND_LESS = (
    Detail(IN_FULL, 4, 4, 3),
    Detail(IN_FULL, 4, 2, 2),
    Detail(IN_FULL, 3, 1, 1),
    Detail(2, 3, 1, 1),
    Detail(2, 2, 1, 1),
    Detail(1, 2, 1, 1),
)
_EVERYTHING = Detail(99, 99, 99, 99)


def lines(record, diagnoses: list, *, show_all: bool) -> list[str]:
    """What a person reads: one line about the tile, then each defect."""
    found = wrap(_tile(record))
    handling = _handling(record.mark, diagnoses, show_all)
    room = SCREEN_LINES - len(handling)
    for diagnosis in diagnoses:
        found += ["", *_fitting(diagnosis, show_all, room, many_areas=len(record.areas) > 1)]
    return found + handling


def _handling(mark: str, diagnoses: list, show_all: bool) -> list[str]:
    """What the glazes hold that calls for care: by name, in full where all was asked for."""
    texts = list(dict.fromkeys(text for each in diagnoses for text in each.handling))
    if not texts:
        return []
    if show_all:
        return ["", *(line for text in texts for line in wrap(text))]
    named = ", ".join(text.partition(" (")[0] for text in texts)
    return ["", *wrap(f"Handle with care: {named}. How: tiles why {mark} --all.")]


def _tile(record) -> str:
    from tiles.records import derived
    from tiles.records.spoken import spoken_layers

    reached = derived.cone_reached(record)
    coats = " | ".join(dict.fromkeys(spoken_layers(area.layers) for area in record.areas))
    cone = f"cone {reached.cone}" if reached else "cone reached not recorded"
    return f"{record.mark}: {record.body.name}, {coats}, {cone}"


def _fitting(diagnosis, show_all: bool, room: int, *, many_areas: bool) -> list[str]:
    """As much as fits one screen; everything where that was asked for."""
    if show_all:
        return _diagnosis(diagnosis, _EVERYTHING, many_areas)
    for detail in _LESS_AND_LESS:
        told = _diagnosis(diagnosis, detail, many_areas)
        if len(told) <= room:
            break
    return told


def _diagnosis(diagnosis, detail: Detail, many_areas: bool) -> list[str]:
    told = [_heading(diagnosis, many_areas), *wrap(diagnosis.say)]
    if detail is not _EVERYTHING and (diagnosis.look_alike or not diagnosis.is_fault):
        detail = replace(detail, causes=1)
    shown = _shown(diagnosis.causes, detail)
    for note in _news(diagnosis, shown):
        told += wrap(note)
    if shown and not diagnosis.enough_to_tell:
        told += ["", "Candidates only, until more is known:"]
    for place, cause in enumerate(shown, start=1):
        told += ["", *_cause(place, cause, detail)]
    rest = [cause for cause in diagnosis.causes if cause not in shown]
    if detail is _EVERYTHING:
        return [*told, *_ruled_out(rest)]
    return [*told, "", *wrap(f"{_rest(rest)}{_next_step(diagnosis)}")] if rest else told


def _news(diagnosis, shown: list) -> list[str]:
    """What notes say that neither the record nor the evidence below says."""
    from diagnose.wording import note

    notes = diagnosis.case.notes if diagnosis.case else ()
    evidence = [text for cause in shown for text in (*cause.for_, *cause.against)]
    return [
        note(each)
        for each in notes
        if not each.agrees and not any(f'"{each.phrase}"' in text for text in evidence)
    ]


def _heading(diagnosis, many_areas: bool) -> str:
    where = f", area {', '.join(map(str, diagnosis.areas))}" if many_areas else ""
    severity = f", {diagnosis.severity}" if diagnosis.severity else ""
    logged = f" (logged as {diagnosis.instead_of})" if diagnosis.instead_of else ""
    return f"{diagnosis.defect.upper()}{logged}{severity}{where}"


def _shown(causes: list, detail: Detail) -> list:
    """The first cause always; the next ones while they are worth a person's time."""
    if detail is _EVERYTHING:
        return [cause for cause in causes if not cause.is_ruled_out or cause is causes[0]]
    listed = [cause for cause in causes if cause.name != OTHER]
    worth = [
        cause
        for cause in listed[1 : detail.causes]
        if cause.share >= WORTH_TELLING and not cause.is_ruled_out
    ]
    return [*listed[:1], *worth]


def _ruled_out(causes: list) -> list[str]:
    if not causes:
        return []
    told = ["", "RULED OUT by what is recorded"]
    for cause in causes:
        told += labelled(f"{cause.share:.0%}", f"{_capital(cause.title)}: {cause.against[0]}")
    return told


def _rest(causes: list) -> str:
    named = [cause for cause in causes if cause.share >= WORTH_NAMING][:MOST_NAMED]
    less = "; ".join(f"{cause.title} ({cause.share:.0%})" for cause in named)
    tiny = len(causes) - len(named)
    text = f"Less likely: {less}. " if named else ""
    if tiny:
        more = f"{tiny} more cause{'s' if tiny > 1 else ''}"
        under = f" under {WORTH_NAMING:.0%}" if causes[len(named)].share < WORTH_NAMING else ""
        text += f"And {more}{under}. " if named else f"Also weighed: {more}{under}. "
    return f"{text}All in full: --all."


def _next_step(diagnosis) -> str:
    mark = diagnosis.case.record.mark
    if diagnosis.look_alike or not diagnosis.is_fault:
        return ""
    if diagnosis.enough_to_tell:
        return f" Amounts worked out: tiles fix {mark}."
    return f" Asked what would tell most: tiles why {mark} --ask."


def _cause(place: int, cause, detail: Detail) -> list[str]:
    told = [f"{place}. {_capital(cause.title)}  ({cause.share:.0%})"]
    most = detail.of_first if place == 1 else detail.of_others
    parts = (
        ("share", _joined(cause)),
        ("for", cause.for_[:most]),
        ("against", cause.against[:most]),
        ("your tiles", cause.your_tiles[: min(most, MOST_COUNTS)]),
        ("not recorded", cause.not_recorded[: min(most, detail.not_recorded)]),
        ("to be sure", cause.confirm[:most]),
        ("fix", cause.fixes[:most]),
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
    alone = f"common practice alone {cause.practice_share:.0%}"
    return [f"{alone}; your tiles make it {times:.1f} times as likely."]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def width() -> int:
    """Columns to write in: the terminal's, but no wider than is good to read."""
    return min(shutil.get_terminal_size().columns, MOST_WIDTH)


def labelled(label: str, text: str) -> list[str]:
    """A text beside its label, wrapped."""
    indent = " " * (LABEL_WIDTH + 3)
    wrapped = textwrap.wrap(text, width() - len(indent))
    first = f"   {label:<{LABEL_WIDTH}}"
    return [(first if not number else indent) + line for number, line in enumerate(wrapped)]


def wrap(text: str, indent: int = 0) -> list[str]:
    """A text wrapped to the width, less an indent."""
    return textwrap.wrap(text, width() - indent)
