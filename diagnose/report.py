"""The answer to "why did it fail": per defect seen, the causes in order and what they rest on."""

from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose import wording
from diagnose.answer import CauseReport, Diagnosis
from diagnose.bought_bisque import fires_it, fixes_that_fit, is_bought, that_fit
from diagnose.fixes.ranges import apart
from diagnose.handling import leaching, of_layers, spoken, that_apply
from diagnose.own_tiles.right_shelf import right_shelf, shelves_that_miss
from diagnose.together import explained_by, share_without, weigh_all
from diagnose.view import severity_step, sightings
from diagnose.vocabulary import effort_of, one_of_each_kind
from tiles.errors import TilesError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.case import Case
    from diagnose.measures.of_area import Measure
    from diagnose.own_tiles.right_shelf import RightShelf
    from diagnose.rules import Cause
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

__all__ = ["CauseReport", "Diagnosis", "defects_seen", "is_enough", "most_telling", "why"]

ENOUGH_SHARE = 0.40
"""The first cause must hold this share ..."""
ENOUGH_SUPPORT = 1.0
"""... and rest on this much evidence, recorded or of own tiles (log-odds; one medium sign) ..."""
ENOUGH_BY_ELIMINATION = 0.60
"""... or hold this share because the record speaks against the others. All three are estimates."""
GAIN_BY_ELIMINATION = 0.25
"""What the share must then have gained over the prior."""
MOST_MISSING = 4
NO_CONE_FOR_BOTH = "First another glaze or another clay: no cone suits both labels."
ROUNDING = 1e-9


def why(
    record: "TileRecord",
    defect: str | None = None,
    others: "Sequence[TileRecord]" = (),
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
    cases = weigh_all(record, seen)
    if others:
        cases = {name: _with_own(case, others) for name, case in cases.items()}
    found = []
    for each in [defect] if defect else seen:
        answer = _diagnose(record, each, cases)
        found.append(answer)
        other = answer.look_alike
        if other and other not in seen:
            found.append(_under_right_name(record, each, other, others))
    return found


def _with_own(case: "Case", others: "Sequence[TileRecord]") -> "Case":
    from diagnose.answered import answered_by_record
    from diagnose.own_tiles.bodies import ANSWERED_BY_SOUND_BODY, clay_count, sound_body
    from diagnose.own_tiles.glaze import as_glaze_did
    from diagnose.own_tiles.say import joined, your_tiles_say
    from diagnose.own_tiles.sisters import as_soon_as_sisters
    from diagnose.own_tiles.twins import untried_twins
    from diagnose.own_tiles.versions import sound_version
    from diagnose.trials.tried import changed_in, not_asked, trials_of, with_trials, without

    # A trial tells by itself what it is worth: it is no second witness among the counts.
    trials = trials_of(case, others)
    rest = without(others, changed_in(trials))
    counted = without(others, trials)
    told = your_tiles_say(counted, case.record, case.area_number, case.defect)
    sound_on = sound_body(others, case.record, case.area_number, case.defect)
    case = as_glaze_did(as_soon_as_sisters(case, others), counted)
    case = with_trials(joined(case, told), trials, rest)
    known = answered_by_record(case, others)
    known |= ANSWERED_BY_SOUND_BODY if sound_on is not None else frozenset()
    known |= told.answered if told else frozenset()
    case = replace(case, rows=not_asked(case.rows, known))
    clay = clay_count(others, case.record, case.area_number, case.defect)
    off_shelves = shelves_that_miss(case.record, others)
    version = sound_version(others, case.view)
    case = replace(case, sound_on=sound_on, off_shelves=off_shelves, clay=clay)
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
    worst: dict[str, int] = {}
    for look in sorted(record.inspections, key=lambda each: each.inspected_on):
        for seen in look.defects:
            worst[seen.defect] = max(worst.get(seen.defect, 0), severity_step(seen) or 0)
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
        causes=[_cause_report(row, case, _may_advise(row, case, enough)) for row in case.rows],
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
        return wording.not_enough(case, most_telling(case.rows, case.facts))
    return wording.lead(case.defect, case.first) + wording.one_cause(case.defect, also_explains)


def _under_right_name(
    record: "TileRecord", logged: str, right: str, others: "Sequence[TileRecord]"
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
    cases = weigh_all(told, [right])
    if others:
        cases = {name: _with_own(case, others) for name, case in cases.items()}
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


def most_telling(
    rows: "Sequence[Weighed]", known: "Mapping[str, Measure]", how_many: int = 3
) -> list[str]:
    """The unrecorded measures and clues that could move the shares most, by name.

    What the piece must be broken for comes after all that can be told of it whole.
    """
    worth: dict[str, float] = {}
    for row in rows:
        for sign in row.missing:
            gain = row.share * max(sign.weight_for, sign.weight_against)
            worth[sign.measure] = worth.get(sign.measure, 0.0) + gain
    by_worth = sorted(worth, key=lambda name: (effort_of(name), -worth[name]))
    return _to_ask(by_worth, known)[:how_many]


def _to_ask(names: list[str], known: "Mapping[str, Measure]") -> list[str]:
    """One of each kind; nobody counts the coats of a tile that was dipped once."""
    is_one_dip = wording.is_one_dip(known)
    return one_of_each_kind([n for n in names if not (n == "coats" and is_one_dip)], known)


def _may_advise(row: "Weighed", case: "Case", enough: bool) -> bool:
    """Whether the fixes of a cause are worth a try.

    Not where the record rules the cause out; and where the answer is that there is no fault, or
    that it is another one, the other causes of the logged fault need no mending.
    """
    is_other_answer = enough and not (case.first.cause.is_fault and not case.first.cause.right_name)
    return not row.is_ruled_out and (row is case.first or not is_other_answer)


def _cause_report(row: "Weighed", case: "Case", may_advise: bool) -> CauseReport:
    cause = row.cause
    if cause is None:
        own = _of_own(row, case)
        return CauseReport("other", row.title, row.share, [], [], [], [], [], [], "estimate", **own)
    shelf = right_shelf(case.record, cause.name)
    shelf = shelf if shelf and case.goes_to(shelf.name) else None
    stop = apart(case.view)
    fixes = _fixes(row, case, shelf, stop) if may_advise else []
    return CauseReport(
        name=cause.name,
        title=cause.title,
        share=row.share,
        for_=[wording.argument(each) for each in row.for_],
        against=[wording.argument(each) for each in row.against],
        not_recorded=[wording.missing(name) for name in _missing_names(row, case.facts)],
        confirm=_confirm(cause, case, shelf, stop),
        fixes=fixes,
        cautions=_cautions(cause, case),
        basis=cause.basis,
        is_ruled_out=row.is_ruled_out,
        is_unspoken=row.is_unspoken,
        **_of_own(row, case),
    )


def _cautions(cause: "Cause", case: "Case") -> list[str]:
    told = that_apply(cause.cautions, case.layers)
    return [each for each in told if not (is_bought(case.record) and fires_it(each))]


def _confirm(cause: "Cause", case: "Case", shelf: "RightShelf | None", stop: str) -> list[str]:
    """What proves it; nothing that the tile shows already, nor a shelf that was tried."""
    if shelf is None:
        from diagnose.fixes.bench import Bench
        from diagnose.fixes.bisque_advice import that_can_be_fired
        from diagnose.own_tiles.head_count import made_by_own

        fit = that_fit(case.record, cause.confirm)
        fit = that_can_be_fired(fit, Bench(case.view, cause.name, case.setting))
        open_ = made_by_own([each for each in fit if not each.is_met(case.facts)], case)
        said = [each.say for each in open_ if not (stop and each.to_the_label)]
        return [wording.as_put_on(each, case.facts) for each in said]
    is_done = any(each.change == shelf.change.said for each in case.tried)
    return [] if is_done else [shelf.confirm]


def _fixes(row: "Weighed", case: "Case", shelf: "RightShelf | None", stop: str) -> list[str]:
    """What to do about a cause, first what own tiles and the figures of the bucket show.

    ``stop`` says why its glaze and clay have no firing in common; empty where they have one.
    """
    from diagnose.fixes.bench import Bench
    from diagnose.fixes.bisque_advice import with_its_cone
    from diagnose.fixes.steps import STEPS, other_body
    from diagnose.fixes.tried import by_own_area, not_failed
    from diagnose.own_tiles.late_looks import COMES_LATE, LOOK_AGAIN_DAYS
    from diagnose.trials.tried import proven

    cause = row.cause
    own = [shelf.say] if shelf else []
    again = f" Look again {LOOK_AGAIN_DAYS} days after the firing."
    again = again if case.defect in COMES_LATE else ""
    worked = proven(case.tried) if row is case.first else []
    own += [f"{wording.sentence(each)}{again}" for each in worked]
    version = case.sound_version
    if version and not worked and version.mends(case.defect, cause.name):
        own.append(version.say)
    if case.sound_on is not None and other_body in STEPS.get(cause.name, ()):
        own.append(case.sound_on.say)
    counts = case.own.lessons_of(row, case.facts) if case.own else []
    own += [wording.sentence(each.sound_on) for each in counts if each.sound_on]
    own += [*by_own_area(cause.name, case), *_of_bucket(row, case)]
    advice = fixes_that_fit(case.record, cause.fixes)
    advice = wording.fixes(advice, case.facts, case.setting, one_shelf=bool(shelf))
    advice = with_its_cone(advice, Bench(case.view, cause.name, case.setting))
    advice = not_failed(advice, cause.name, case)
    # Where something on the tile speaks for the cause, less of it may help within the range too.
    advice = [each for each in advice if row.for_ or not each.is_met(case.facts)]
    # What is so already goes last; one coat less is none of that.
    advice.sort(key=lambda each: each.is_met(case.facts) and not each.changes)
    kept = [each for each in advice if not (stop and each.to_the_label)]
    if stop and row is case.first:
        own.insert(0, stop)
    elif len(kept) < len(advice):
        own.insert(0, NO_CONE_FOR_BOTH)
    return [*own, *(each.say for each in kept)]


def _of_bucket(row: "Weighed", case: "Case") -> list[str]:
    """A slop that was thinned too far is mended first, where that speaks for a cause."""
    from diagnose.fixes.bench import Bench
    from diagnose.fixes.steps import STEPS, thicken_slop
    from diagnose.fixes.steps_coat import LOST_GUM

    speaks = any(each.sign.measure == "specific_gravity" for each in row.for_)
    if not speaks or thicken_slop not in STEPS.get(row.name, ()):
        return []
    made = thicken_slop(Bench(case.view, row.name, case.setting))
    if made is None:
        return []
    gum = f" {LOST_GUM}" if LOST_GUM in made.spoils else ""
    return [wording.sentence(f"{made.title}: {made.changes[0].said}") + gum]


def _of_own(row: "Weighed", case: "Case") -> dict:
    """What own tiles say of a cause, where they were asked."""
    if case.own is None and not case.tried and not case.twins and not by_clay(case):
        return {}
    from diagnose.own_tiles.twins import bearing_on
    from diagnose.trials.tried import TOLD_FROM, by_change, said

    told = [each.say for each in case.own.lessons_of(row, case.facts)] if case.own else []
    for alike in by_change(case.tried):
        if abs(sum(each.move(row.name) for each in alike)) >= TOLD_FROM:
            told.append(said(alike))
    told += by_clay(case) if row is case.first else []
    if row.cause and not row.is_ruled_out:
        told += [each.say for each in bearing_on(case, row.cause)]
    return {
        "practice_share": case.practice_shares[row.name or "other"],
        "own_log_odds": row.own,
        "your_tiles": [wording.sentence(each) for each in told],
    }


def by_clay(case: "Case") -> list[str]:
    """How own tiles did by clay, where that is told by no fix of the first cause."""
    from diagnose.fixes.steps import STEPS, other_body

    if case.sound_on is not None and other_body in STEPS.get(case.first.name, ()):
        return []
    count = case.clay or (case.sound_on.count if case.sound_on else "")
    return [count] if count else []


def _missing_names(row: "Weighed", known: "Mapping[str, Measure]") -> list[str]:
    """What would settle this cause, the weightiest first, one of each kind."""
    weights = {sign.measure: max(sign.weight_for, sign.weight_against) for sign in row.missing}
    return _to_ask(sorted(weights, key=lambda name: -weights[name]), known)[:MOST_MISSING]
