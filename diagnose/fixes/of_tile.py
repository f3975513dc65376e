"""Fixes with amounts: what to weigh, coat, fire or hold otherwise, and the tiles that prove it.

The causes come from `report.why`, in its order. A jar gets only what its user can change, never
another recipe, and no cone outside its label. Nothing is stored here.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from types import MappingProxyType
from typing import TYPE_CHECKING

from diagnose.changed import changed
from diagnose.comparing.of_studio import fails_together, with_studio
from diagnose.fixes.aims import Body
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.hot_shelf import hot_shelf
from diagnose.fixes.kin import kin_says
from diagnose.fixes.letters import Letters, named_in
from diagnose.fixes.own_coat import own_coat
from diagnose.fixes.ranges import not_together
from diagnose.fixes.recipe import Desk, read_recipe
from diagnose.fixes.repeats import repeats
from diagnose.fixes.shapes import Answer, Fix, Worked
from diagnose.fixes.steps import steps_for
from diagnose.fixes.steps_coat import PART_BAG, has_no_bag
from diagnose.fixes.steps_jar import OTHER_JAR
from diagnose.fixes.trial_set import Known, control_of_load, first_of, trial_set
from diagnose.fixes.trials import recipe_trial, step_trial, without_second_control
from diagnose.fixes.tried import judged, not_told
from diagnose.handling import each_once, of_layers, of_materials, spoken
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.odds import Inspected
from diagnose.next_tiles.safety import runs_off
from diagnose.own_tiles.against import spoken_against
from diagnose.own_tiles.failing_coats import failing_coats
from diagnose.own_tiles.failures import is_in_vain, own_tiles
from diagnose.own_tiles.load_or_make import load_or_make
from diagnose.own_tiles.other_fault import other_fault
from diagnose.own_tiles.other_words import that_mean_the_same
from diagnose.own_tiles.twins import bearing_on
from diagnose.own_tiles.versions import OWN_VERSION
from diagnose.report import why
from diagnose.rules import MISNAMED, load
from diagnose.trials.repeated import sisters_of
from diagnose.trials.worked import worked_already
from diagnose.view import View, area_of
from diagnose.wording import sentence
from tiles.records.derived import analysed
from tiles.records.failures_only import failures_only

if TYPE_CHECKING:
    from diagnose.answer import CauseReport, Diagnosis
    from diagnose.body_limit.fit import BodyLimit
    from diagnose.case import Case
    from diagnose.comparing.of_studio import CountOf
    from diagnose.own_tiles.failures import OwnTiles
    from diagnose.weighing import Weighed
    from tiles.chemistry.materials import Material
    from tiles.records.forms import BatchRecord, BodyRecord, GlazeRecord, RecipeRecord, TileRecord

MOST_CAUSES, MOST_STEPS, MOST_TWINS = 3, 2, 1
LEAST_SHARE = 0.05
"""Causes below this share are not worked out, but for the first; nor below twice as much those
that own tiles speak against."""
OTHER_PAIR = "First another glaze or another clay, as said above."


def fix(
    record: "TileRecord",
    defect: str | None = None,
    *,
    own: "Iterable[Material]" = (),
    bodies: "Sequence[BodyRecord]" = (),
    glazes: "Sequence[GlazeRecord]" = (),
    batches: "Mapping[str, Sequence[BatchRecord]]" = MappingProxyType({}),
    body_limit: "BodyLimit | float | None" = None,
    others: "Sequence[TileRecord]" = (),
    trial_recipes: "Mapping[str, Sequence[RecipeRecord]]" = MappingProxyType({}),
    akin: "Sequence[tuple[Case, str]]" = (),
    count_of: "CountOf | None" = None,
) -> list[Answer]:
    """The fixes of the likeliest causes, with amounts.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    defect : str, optional
        One word of the defect list; without it, every defect seen.
    own : iterable of Material
        The user's own analyses, where the record was not read with them from a database.
    bodies, glazes : sequences
        What else is on record, to choose another body or a clear from.
    batches : mapping, optional
        The batches of glazes that have several, by the glaze's name.
    body_limit : BodyLimit or float, optional
        Highest glaze expansion known not to craze on this body [1e-6/K], or what own tiles tell of
        it; it goes before what the body's own expansion suggests.
    others : sequence of TileRecord
        Own tiles of the same glaze; as `report.why`.
    trial_recipes : mapping, optional
        The recipes on record for trials of this tile by their glazes' names, also those that are
        on no tile.
    akin : sequence of tuple
        Tiles whose trials tell of this one as well, with how they are spoken of (`kin.kin_of`).
    count_of : callable, optional
        As `report.why`.

    Returns
    -------
    list[Answer]
        One for each defect, the worst first.

    Raises
    ------
    TilesError
        As `report.why`.
    """
    own = tuple(own)
    if own:
        record = analysed(record.model_copy(deep=True), own)
    letters = Letters(record.mark, {**named_in(others), **trial_recipes})
    told = why(record, defect, others, count_of)
    told = with_studio(told, count_of) if count_of else told
    answers = [
        _answer(each, (own, bodies, glazes, batches, body_limit, others), letters, akin)
        for each in told
    ]
    return without_second_control(answers)


def _answer(diagnosis: "Diagnosis", stock: tuple, letters: Letters, akin: "Sequence") -> Answer:
    """The fixes of one defect; ``stock`` is what else is on record."""
    own, bodies, glazes, batches, body_limit, others = stock
    case = diagnosis.case
    of_kiln, others = others, that_mean_the_same(others, case)
    view, cone = case.view, _cone(case.view)
    body = _body(case.record.body, body_limit)
    desk = Desk(*read_recipe(view.top, cone, own), cone, body, case.setting)
    stop = not_together(view)
    of_glaze = batches.get(view.glaze_name or "", ())
    told, worked = own_tiles(case, others), list[Worked]()
    load = load_or_make(diagnosis, of_kiln)
    for cause in wanted_causes(diagnosis, of_glaze):
        row = next(each for each in case.rows if each.name == cause.name)
        stocked = bodies, glazes, of_glaze, case.sound_on, failing_coats(case)
        bench = Bench(view, cause.name, case.setting, *stocked, off_shelves=case.off_shelves)
        steps, off = _steps(bench, case, row, told)
        work = _work_apart if stop else _work
        found = work(bench, steps, cause, desk, worked)
        kept, failed = _lettered(bench, found.fixes, letters, case, others)
        kept = [_with_other_fault(each, case, others) for each in kept]
        own_say = {"against": spoken_against(case, cause.name), "twins": _twins(case, row)}
        say = [*found.say, *off]
        worked.append(replace(found, fixes=kept, tried=failed, say=say, **own_say))
    on_own = worked_already(case)
    again = repeats(case, others) if on_own and worked and not stop else []
    untried = [] if on_own else worked  # nothing untried goes before what has mended it
    leads = bool(untried) and load is not None and load.leads
    if leads:
        trials = control_of_load(case, load)
    else:
        trials = trial_set(case, untried, again, with_control=not stop)
    rest = Inspected() if failures_only(others) else told.ever  # as `next_tiles` has it
    owned = Owned(_first_ones(bodies, worked), glazes, batches=batches)
    known = Known(case, owned, rest)
    worked_on_kin, tried_on_kin = _on_kin(case, akin)
    # A tile akin may have had what this one has already, but for its glaze.
    is_of_recipe = any(each.is_recipe for cause in worked[:1] for each in cause.fixes)
    return Answer(
        *(diagnosis.defect, diagnosis.enough_to_tell, diagnosis.say, worked, trials),
        first=None if diagnosis.enough_to_tell or stop or leads else first_of(untried, known),
        stop=stop if worked else "",
        handling=_handling(view, worked, own) if worked else [],
        proven=[*map(sentence, on_own), *worked_on_kin],
        mended=bool(on_own) or (bool(worked_on_kin) and is_of_recipe),
        hot_shelf=hot_shelf(view, of_kiln) if trials else "",
        cautions=[] if worked else diagnosis.causes[0].cautions,
        tried=[*not_told(case, worked), *tried_on_kin],
        look_after_days=told.late.look_after_days(case.record.body.name),
        came_between=told.late.came_between(case.record.body.name),
        sisters=sisters_of(view, others) if trials else [],
        load=load,
        is_of_load=leads,
        all_glazes=fails_together(case) if load is None else "",
    )


def _steps(
    bench: Bench, case: "Case", row: "Weighed", told: "OwnTiles"
) -> tuple[list[Step], list[str]]:
    """The steps for a cause, what own tiles showed first; and why others would spoil the shelf."""
    steps = [each for each in steps_for(bench) if not is_in_vain(told, bench, each)]
    steps = [each for each in steps if case.goes_to(each.edit.get("shelf", ""))]
    if row.cause and (coat := own_coat(case, row.cause)):
        steps.insert(0, coat)
    off = {each.key: why_not for each in steps if (why_not := _runs_off(case, each))}
    steps = [each for each in steps if each.key not in off]
    if case.sound_version and case.sound_version.mends(case.defect, row.name):
        steps.insert(0, case.sound_version.step)
    return steps, list(off.values())


def _on_kin(case: "Case", akin: "Sequence[tuple[Case, str]]") -> tuple[list[str], list[str]]:
    """What worked on trials for tiles akin, and what was tried on them."""
    told = [kin_says(case, kin, start) for kin, start in akin if kin.defect == case.defect]
    return [text for each, _ in told for text in each], [text for _, each in told for text in each]


def _twins(case: "Case", row: "Weighed") -> list[str]:
    """The sound tiles alike but for what mends a cause."""
    return [each.say for each in bearing_on(case, row.cause)[:MOST_TWINS]] if row.cause else []


def _first_ones(bodies: "Sequence[BodyRecord]", worked: list[Worked]) -> "list[BodyRecord]":
    """The bodies, those that a fix names before the others."""
    changes = (change for cause in worked for fix in cause.fixes for change in fix.changes)
    named = {each.after for each in changes if each.what == "body"}
    return sorted(bodies, key=lambda each: each.name not in named)


def _with_other_fault(fix: Fix, case: "Case", others: "Sequence[TileRecord]") -> Fix:
    """With what else goes wrong on another clay, where own tiles of the glaze show it."""
    bodies = [str(each.after) for each in fix.changes if each.what == "body"]
    told = [other_fault(others, case.view.glaze_name, each, case.defect) for each in bodies]
    return replace(fix, spoils=[*filter(None, told), *fix.spoils]) if any(told) else fix


def _runs_off(case: "Case", step: Step) -> str:
    """Why no tile gets a thicker coat, as `diagnose.next_tiles` has it; empty where it may."""
    if "coats" not in step.edit:
        return ""
    then = changed(case.view, step, Owned())
    facts = measures(then, case.area_number, case.defect)
    why_not = runs_off(case.view, View(then, area_of(then, case.area_number)), facts)
    return why_not and f"No tile with {step.changes[0].said}, for the shelf's sake: {why_not}."


def _body(body: "BodyRecord", limit: "BodyLimit | float | None") -> Body:
    about = (body.name, body.expansion_ppm_per_k)
    if limit is None or isinstance(limit, (int, float)):
        return Body(*about, limit)
    safe = limit.safe_ppm_per_k
    return Body(*about, safe, limit) if safe is not None else Body(*about)


def wanted_causes(
    diagnosis: "Diagnosis", batches: "Sequence[BatchRecord]" = ()
) -> "list[CauseReport]":
    """The causes to act on, in order: no ruled-out one, no misnamed one, none that is no fault.

    Nor what would be plain to see and nothing speaks for; nor a bag that was mixed in part, where
    nothing says that the glaze comes in one: but for an answer that own tiles gave.
    """
    faults = {cause.name for cause in load(diagnosis.defect).causes if cause.is_fault}
    case, told = diagnosis.case, diagnosis.causes[:1] if diagnosis.enough_to_tell else []
    no_bag = PART_BAG if has_no_bag(case.view, batches) else ""
    kept = [
        each
        for each in diagnosis.causes
        if each.name in faults
        and not (each.is_ruled_out or each.is_unspoken or each.name.endswith(MISNAMED))
    ]
    kept = [each for each in kept if each.name != no_bag or each in told]
    worth = [each for each in kept[1:MOST_CAUSES] if each.share >= _least(case, each.name)]
    return [*kept[:1], *worth] if not _is_answered(diagnosis, faults) else []


def _least(case: "Case", name: str) -> float:
    return LEAST_SHARE * (2 if spoken_against(case, name) else 1)


def _is_answered(diagnosis: "Diagnosis", faults: set[str]) -> bool:
    """Whether the first answer is that there is nothing of this defect to put right."""
    first = diagnosis.causes[0].name
    is_no_case = first.endswith(MISNAMED) or (first not in faults and first != "other")
    return diagnosis.enough_to_tell and is_no_case


def _cone(view: View) -> str | None:
    """Where the melt is judged: the cone reached, else the target, else the label's cool end."""
    return view.cone or (view.label[0] if view.label else None)


def _work(bench: Bench, steps: list[Step], cause, desk: Desk, earlier: list[Worked]) -> Worked:
    changes, said = desk.fixes(bench.view.defect, cause.name)
    made = [_of_step(bench, each) for each in steps[:MOST_STEPS]]
    # What own tiles have shown goes before what is only worked out.
    shown = [each for each in made if each.key == OWN_VERSION]
    found = [*shown, *changes, *(each for each in made if each not in shown)]
    known = {each.done: each.name for worked in earlier for each in worked.fixes}
    new = [each for each in found if each.done not in known]
    acts_too = [known[each.done] for each in found if each.done in known]
    if changes and not any(each.is_recipe for each in new):
        said = []
    return Worked(
        *(cause.name, cause.title, cause.share, said, new, acts_too),
        # Another jar shows that it was the jar, and puts this one not right.
        advice=list(cause.fixes) if all(each.key in OTHER_JAR for each in found) else [],
        cautions=list(cause.cautions),
        confirm=[] if found else list(cause.confirm),
    )


def _work_apart(
    bench: Bench, steps: list[Step], cause, desk: Desk, earlier: list[Worked]
) -> Worked:
    """Glaze and clay have no firing in common: only another clay on record helps."""
    told = {each.done for worked in earlier for each in worked.fixes}
    bodies = [_of_step(bench, each) for each in steps if "body" in each.edit]
    new = [each for each in bodies if each.done not in told]
    about = (cause.name, cause.title, cause.share)
    return Worked(*about, [], new, [], advice=[OTHER_PAIR], cautions=list(cause.cautions))


def _handling(view: View, worked: list[Worked], own: tuple) -> list[str]:
    """The usual cautions for what is on the tile, and for what the changed recipes hold besides."""
    brought = [
        name
        for cause in worked
        for each in cause.fixes
        for name in (each.blend[-1].parts if each.blend else ())
    ]
    return spoken(each_once([*of_layers(view.layers), *of_materials(brought, own)]))


def _of_step(bench: Bench, step: Step) -> Fix:
    spoils = [step.spoils] if step.spoils else []
    return Fix("", step.key, step.title, step.changes, spoils, trials=[step_trial(bench, step)])


def _lettered(
    bench: Bench, fixes: list[Fix], letters: Letters, case, others: "Sequence[TileRecord]"
) -> tuple[list[Fix], list[str]]:
    """The fixes with their letters, and what is said of those that failed in trials.

    These take no letter, but for a recipe: its trial glazes on record bear it.
    """
    kept, failed = list[Fix](), list[str]()
    for each in fixes:
        named = letters.give(each, partial(_named, bench, each))
        left, said = judged([named], case, others)
        if left or named.is_recipe:
            letters.take(named)
        kept += left
        failed += said
    return kept, failed


def _named(bench: Bench, fix: Fix, name: str) -> Fix:
    """The fix with its letter, and the tiles that carry it."""
    named = replace(fix, name=name, trials=[replace(each, name=name) for each in fix.trials])
    if not fix.is_recipe:
        return named
    line = [recipe_trial(bench, named, point) for point in fix.blend if point.share > 0]
    return replace(named, trials=line)
