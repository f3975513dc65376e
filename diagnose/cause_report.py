"""What is reported of one cause: what it rests on, what proves it, and what to do about it."""

from typing import TYPE_CHECKING

from diagnose import wording
from diagnose.answer import CauseReport, Said
from diagnose.bought_bisque import fires_it, fixes_that_fit, is_bought, that_fit
from diagnose.fixes.ranges import apart
from diagnose.handling import that_apply
from diagnose.own_tiles.right_shelf import right_shelf
from diagnose.unrecorded import missing_names

if TYPE_CHECKING:
    from collections.abc import Iterable

    from diagnose.case import Case
    from diagnose.own_tiles.lesson import Lesson
    from diagnose.own_tiles.right_shelf import RightShelf
    from diagnose.own_tiles.twins import Twin
    from diagnose.rules import Cause
    from diagnose.weighing import Weighed

NO_CONE_FOR_BOTH = "First another glaze or another clay: no cone suits both labels."


def cause_report(row: "Weighed", case: "Case", may_advise: bool) -> CauseReport:
    """One cause of a fault on a tile; without fixes where none is worth a try."""
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
        not_recorded=[wording.missing(name) for name in missing_names(row, case.facts)],
        tests=_tests(cause, case, shelf, stop),
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


def _tests(cause: "Cause", case: "Case", shelf: "RightShelf | None", stop: str) -> list[Said]:
    """What proves it; nothing that the tile shows already, nor a shelf that was tried."""
    if shelf is None:
        from diagnose.fixes.bench import Bench
        from diagnose.fixes.bisque_advice import that_can_be_fired
        from diagnose.own_tiles.head_count import made_by_own

        fit = that_fit(case.record, cause.confirm)
        fit = that_can_be_fired(fit, Bench(case.view, cause.name, case.setting))
        open_ = made_by_own([each for each in fit if not each.is_met(case.facts)], case)
        return [
            Said(wording.as_put_on(each.say, case.facts), (shown,) if shown else ())
            for each, shown in open_
            if not (stop and each.to_the_label)
        ]
    is_done = any(each.change == shelf.change.said for each in case.tried)
    return [] if is_done else [Said(shelf.confirm)]


def _fixes(row: "Weighed", case: "Case", shelf: "RightShelf | None", stop: str) -> list[str]:
    """What to do about a cause, first what own tiles and the figures of the bucket show.

    ``stop`` says why its glaze and clay have no firing in common; empty where they have one.
    """
    from diagnose.fixes.bench import Bench
    from diagnose.fixes.bisque_advice import with_its_cone
    from diagnose.fixes.steps import STEPS, other_body
    from diagnose.fixes.tried import by_own_area, not_failed
    from diagnose.trials.worked import proven

    cause = row.cause
    own = [shelf.say] if shelf else []
    worked = proven(case.tried) if row is case.first else []
    own += map(wording.sentence, worked)
    version = case.sound_version
    if version and not worked and version.mends(case.defect, cause.name):
        own.append(version.say)
    if case.sound_on is not None and other_body in STEPS.get(cause.name, ()):
        own.append(case.sound_on.say)
    counts = case.own.lessons_of(row, case.facts) if case.own else []
    own += [wording.sentence(each.sound_on) for each in counts if each.sound_on]
    bucket = _of_bucket(row, case)
    own += [*by_own_area(cause.name, case), *bucket]
    advice = fixes_that_fit(case.record, cause.fixes)
    advice = wording.fixes(advice, case.facts, case.setting, one_shelf=bool(shelf))
    advice = with_its_cone(advice, Bench(case.view, cause.name, case.setting))
    advice = not_failed(advice, cause.name, case)
    # Where something on the tile speaks for the cause, less of it may help within the range too.
    advice = [each for each in advice if row.for_ or not each.is_met(case.facts)]
    if bucket:  # as many coats as it had already are no remedy
        advice = [each for each in advice if "coats" not in each.aim or not each.is_met(case.facts)]
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
    from diagnose.fixes.steps_jar import watery_jar

    if thicken_slop not in STEPS.get(row.name, ()):
        return []
    if watery := watery_jar(case.view):
        return [watery]
    if not any(each.sign.measure == "specific_gravity" for each in row.for_):
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

    told = own_said(case.own.lessons_of(row, case.facts)) if case.own else []
    for alike in by_change(case.tried):
        if abs(sum(each.move(row.name) for each in alike)) >= TOLD_FROM:
            told.append(Said(wording.sentence(said(alike))))
    told += [Said(wording.sentence(each)) for each in by_clay(case)] if row is case.first else []
    if row.cause and not row.is_ruled_out:
        told += own_said(bearing_on(case, row.cause))
    return {
        "practice_share": case.practice_shares[row.name or "other"],
        "own_log_odds": row.own,
        "of_own": told,
    }


def own_said(facts: "Iterable[Lesson | Twin]") -> list[Said]:
    """Counts or twins among own tiles, a sentence each."""
    return [Said(wording.sentence(each.say), (each,)) for each in facts]


def by_clay(case: "Case") -> list[str]:
    """How own tiles did by clay, where that is told by no fix of the first cause; and by firing."""
    from diagnose.fixes.steps import STEPS, other_body

    is_told = case.sound_on is not None and other_body in STEPS.get(case.first.name, ())
    count = case.clay or (case.sound_on.count if case.sound_on else "")
    return [each for each in ("" if is_told else count, case.firing) if each]
