"""The answer to "why did it fail": per defect seen, the causes in order and what they rest on."""

from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose import wording
from diagnose.answer import CauseReport, Diagnosis
from diagnose.cause_report import cause_report
from diagnose.handling import leaching, of_layers, spoken
from diagnose.own_tiles.right_shelf import shelves_that_miss
from diagnose.together import explained_by, share_without, weigh_all
from diagnose.unrecorded import most_telling
from diagnose.view import at_worst, severity_step, sightings
from tiles.errors import TilesError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.case import Case
    from diagnose.comparing.of_studio import CountOf
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

__all__ = ["CauseReport", "Diagnosis", "defects_seen", "is_enough", "why"]

ENOUGH_SHARE = 0.40
"""The first cause must hold this share ..."""
ENOUGH_SUPPORT = 1.0
"""... and rest on this much evidence, recorded or of own tiles (log-odds; one medium sign) ..."""
ENOUGH_BY_ELIMINATION = 0.60
"""... or hold this share because the record speaks against the others. All three are estimates."""
GAIN_BY_ELIMINATION = 0.25
"""What the share must then have gained over the prior."""
ROUNDING = 1e-9


def why(
    record: "TileRecord",
    defect: str | None = None,
    others: "Sequence[TileRecord]" = (),
    count_of: "CountOf | None" = None,
) -> list[Diagnosis]:
    """Explain the defects seen on a tile, the worst first.

    Parameters
    ----------
    record : TileRecord
        The tile, as the database or a JSON file gives it. It is only read.
    defect : str, optional
        One word of the defect list; without it, every defect seen.
    others : sequence of TileRecord, optional
        Own tiles of the same glaze: what they say is then joined with common practice.
    count_of : callable, optional
        What is clear of a defect over all tiles (`of_studio.counter`): a load that failed as a
        whole is then told, and weighed.

    Returns
    -------
    list[Diagnosis]
        One per defect. Where the record does not say enough, ``enough_to_tell`` is false and
        ``say`` names what to measure. Where a defect was misnamed, the one it really is follows.

    Raises
    ------
    TilesError
        The tile is not inspected, is clean, or never showed the defect asked for.
    """
    seen = defects_seen(record)
    _refuse_unseen(record, seen, defect)
    cases = _weighed(record, seen, others, count_of)
    found = []
    for each in [defect] if defect else seen:
        answer = _diagnose(record, each, cases)
        found.append(answer)
        other = answer.look_alike
        if other and other not in seen:
            found.append(_under_right_name(record, each, other, others, count_of))
    return found


def _weighed(
    record: "TileRecord",
    defects: "Sequence[str]",
    others: "Sequence[TileRecord]",
    count_of: "CountOf | None",
) -> "dict[str, Case]":
    """Each defect as common practice weighs it, and own tiles where there are others."""
    cases = weigh_all(record, defects)
    if not others:
        return cases
    return {name: _with_own(case, others, count_of) for name, case in cases.items()}


def _with_own(case: "Case", others: "Sequence[TileRecord]", count_of: "CountOf | None") -> "Case":
    from diagnose.answered import answered_by_record
    from diagnose.own_tiles.bodies import ANSWERED_BY_SOUND_BODY, clay_count, sound_body
    from diagnose.own_tiles.by_firing import firing_count
    from diagnose.own_tiles.glaze import as_glaze_did
    from diagnose.own_tiles.load import with_load
    from diagnose.own_tiles.other_words import that_mean_the_same
    from diagnose.own_tiles.say import joined, your_tiles_say
    from diagnose.own_tiles.sisters import as_soon_as_sisters
    from diagnose.own_tiles.twins import untried_twins
    from diagnose.own_tiles.versions import sound_version
    from diagnose.trials.repeated import all_trials
    from diagnose.trials.tried import changed_in, not_asked, with_trials, without

    # The kiln is told of by all tiles, also by those that tell nothing of the fault.
    off_shelves = shelves_that_miss(case.record, others)
    others = that_mean_the_same(others, case)
    # A trial tells by itself what it is worth: it is no second witness among the counts.
    trials = all_trials(case, others)
    rest = without(others, changed_in(trials))
    counted = without(others, trials)
    told = your_tiles_say(counted, case.record, case.area_number, case.defect)
    sound_on = sound_body(others, case.record, case.area_number, case.defect)
    case = as_glaze_did(as_soon_as_sisters(case, others), counted)
    case, told = with_load(case, told, counted, count_of)
    case = with_trials(joined(case, told), trials, rest)
    known = answered_by_record(case, others)
    known |= ANSWERED_BY_SOUND_BODY if sound_on is not None else frozenset()
    known |= told.answered if told else frozenset()
    case = replace(case, rows=not_asked(case.rows, known))
    clay = clay_count(others, case.record, case.area_number, case.defect)
    version = sound_version(others, case.view)
    case = replace(case, sound_on=sound_on, off_shelves=off_shelves, clay=clay)
    case = replace(case, firing=firing_count(case, counted))
    case = replace(case, sound_version=version, since=told.since if told else "")
    return replace(case, twins=untried_twins(case, rest, trials))


def _refuse_unseen(record: "TileRecord", seen: list[str], defect: str | None) -> None:
    from tiles.records.gone import gone, is_gone

    if is_gone(record):
        raise TilesError(
            f"{record.mark} is noted as {gone(record.note)}, and nobody looked at it: nothing is "
            "known of how it came out.",
            "a tile made like it.",
            field="mark",
            value=record.mark,
        )
    if not record.inspections:
        raise TilesError(
            f"{record.mark} is not inspected, so there is nothing to explain yet.",
            "look at the fired tile and record what you see, clean or not.",
            field="mark",
            value=record.mark,
        )
    if not seen:
        last = max(look.inspected_on for look in record.inspections)
        raise TilesError(
            f"{record.mark} is clean: no inspection saw a fault (last look {last}), "
            "so there is nothing to explain.",
            "a tile with a fault; if you see one on this tile, record it first.",
            field="mark",
            value=record.mark,
        )
    if defect is not None and defect not in seen:
        raise TilesError(
            f"No inspection of {record.mark} saw {defect}.",
            f"one of the faults seen: {', '.join(seen)}.",
            field="defect",
            value=defect,
        )


def defects_seen(record: "TileRecord") -> list[str]:
    """Every defect seen, the worst first, then in the order of the inspections."""
    looks = sorted(record.inspections, key=lambda each: each.inspected_on)
    worst = at_worst(seen for look in looks for seen in look.defects)
    return sorted(worst, key=lambda name: -worst[name])


def _head(record: "TileRecord", defect: str) -> tuple:
    """Defect, severity, areas, and the day it was first seen."""
    seen = sightings(record, defect)
    worst = max(seen, key=lambda each: severity_step(each) or 0)
    areas = {each.area for each in seen}
    numbers = [a.number for a in record.areas] if None in areas else sorted(areas)
    first = min(
        look.inspected_on
        for look in record.inspections
        if any(each.defect == defect for each in look.defects)
    )
    return defect, worst.severity, sorted(numbers), first


def _diagnose(record: "TileRecord", defect: str, cases: "Mapping[str, Case]") -> Diagnosis:
    case = cases[defect]
    enough = is_enough(case.rows)
    first = case.first.cause
    also = explained_by(case, cases) if enough else []
    return Diagnosis(
        *_head(record, defect),
        enough_to_tell=enough,
        say=_say(case, enough, also),
        causes=[cause_report(row, case, _may_advise(row, case, enough)) for row in case.rows],
        is_fault=not enough or first.is_fault,
        look_alike=(first.right_name or None) if enough else None,
        from_notes=[wording.note(each) for each in case.notes],
        also_explains=also,
        case=case,
        handling=spoken(of_layers(case.layers)),
        leaching=leaching(case.layers, defect),
        twins=[each.say for each in case.twins],
    )


def _say(case: "Case", enough: bool, also_explains: list[str]) -> str:
    if not enough:
        return wording.not_enough(case, most_telling(case.rows, case.facts, first=case.ask_first))
    return wording.lead(case.defect, case.first) + wording.one_cause(case.defect, also_explains)


def _under_right_name(
    record: "TileRecord",
    logged: str,
    right: str,
    others: "Sequence[TileRecord]",
    count_of: "CountOf | None",
) -> Diagnosis:
    """The diagnosis the tile would get had the defect been logged under its right name."""
    renamed = [
        look.model_copy(
            update={
                "defects": [
                    seen.model_copy(update={"defect": right}) if seen.defect == logged else seen
                    for seen in look.defects
                ]
            }
        )
        for look in record.inspections
    ]
    told = record.model_copy(update={"inspections": renamed})
    cases = _weighed(told, [right], others, count_of)
    return replace(_diagnose(told, right, cases), instead_of=logged)


def is_enough(rows: "Sequence[Weighed]") -> bool:
    """Whether the first cause holds enough share and rests on recorded evidence."""
    first = rows[0]
    if first.cause is None:
        return False
    by_signs = share_without(rows, "expected")
    if by_signs >= ENOUGH_SHARE and first.evidence > ENOUGH_SUPPORT - ROUNDING:
        return True
    alone = share_without(rows, "bonus", "expected")
    return alone >= ENOUGH_BY_ELIMINATION and alone - first.prior >= GAIN_BY_ELIMINATION


def _may_advise(row: "Weighed", case: "Case", enough: bool) -> bool:
    """Whether the fixes of a cause are worth a try.

    Not where the record rules the cause out; and where the answer is that there is no fault, or
    that it is another one, the other causes of the logged fault need no mending.
    """
    is_other_answer = enough and not (case.first.cause.is_fault and not case.first.cause.right_name)
    return not row.is_ruled_out and (row is case.first or not is_other_answer)
