"""What trials that were fired say of each fix: what failed is not proposed again."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.fix_bench import Bench
from diagnose.fix_steps import makers
from diagnose.tried import by_change, said
from diagnose.wording import sentence

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fix_shapes import Fix, Trial
    from diagnose.rules import Advice
    from diagnose.tried import Tried
    from tiles.records.forms import TileRecord


def not_failed(advice: "Sequence[Advice]", cause: str, case: "Case") -> "list[Advice]":
    """The advice for a cause without what each trial of the very same change showed to be in vain.

    Parameters
    ----------
    advice : sequence of Advice
        The fixes of the rules.
    cause : str
        Name of the cause.
    case : Case
        With the trials that were fired.
    """
    failed = {
        alike[0].change
        for alike in by_change(case.tried)
        if all(each.came_again and each.is_as_planned for each in alike)
    }
    bench = Bench(case.view, cause, case.setting)
    steps = [make(bench) for make in makers(bench)] if failed else []
    changes = [each.changes[0] for each in steps if each]
    in_vain = {each.what for each in changes if each.said in failed}
    return [each for each in advice if in_vain.isdisjoint(each.changes)]


def judged(
    fixes: "Sequence[Fix]", case: "Case", others: "Sequence[TileRecord]"
) -> "tuple[list[Fix], list[str]]":
    """The fixes without those that failed in each trial, and what is said of these.

    Of one that came out sound no further trial is planned.

    Parameters
    ----------
    fixes : sequence of Fix
        With their letters and trials.
    case : Case
        With the trials that were fired.
    others : sequence of TileRecord
        Own tiles, the trials among them.
    """
    if not case.tried:
        return list(fixes), []
    records = {each.mark: each for each in others}
    kept, failed = [], []
    for each in fixes:
        found = [_trials_of(trial, by_change(case.tried), records) for trial in each.trials]
        tried = [alike for alike in found if alike]
        if found and all(alike and all(one.came_again for one in alike) for alike in found):
            failed += [sentence(said(alike)) for alike in tried]
            continue
        # Where trials of one change came out both ways, another one tells more.
        left = [
            trial
            for trial, alike in zip(each.trials, found, strict=True)
            if len({one.came_again for one in alike}) != 1
        ]
        told = [sentence(said(alike, is_named=each.is_recipe)) for alike in tried]
        kept.append(replace(each, tried=told, trials=left))
    return kept, failed


def _trials_of(trial: "Trial", tried: "list[list[Tried]]", records: dict) -> "list[Tried]":
    """The fired trials of one change that carried this one out."""
    return next(
        (each for each in tried if carries_out(records[each[0].mark], each[0].change, trial)), []
    )


def carries_out(record: "TileRecord", change: str | None, trial: "Trial") -> bool:
    """Whether a tile with this change is one that was planned as a trial.

    Of a trial recipe the lines tell, of another change how it begins: the rest follows from it.
    """
    if trial.recipe is None:
        return _first(change) == _first(trial.tile["trial_change"])
    wanted = _lines(trial.recipe["lines"])
    return any(
        layer.recipe and _lines(layer.recipe.model_dump()["lines"]) == wanted
        for area in record.areas
        for layer in area.layers
    )


def _first(change: str | None) -> str:
    return (change or "").partition("; ")[0]


def _lines(lines: "list[dict]") -> list[tuple]:
    return [(each["material"], each["parts"], bool(each.get("is_addition"))) for each in lines]
