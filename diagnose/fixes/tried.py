"""What trials that were fired say of each fix: what failed is not proposed again."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.fixes.bench import Bench
from diagnose.fixes.letters import lines_of
from diagnose.fixes.shapes import COATS, DRY_COAT, UNCHANGED, WIPED
from diagnose.fixes.steps import makers
from diagnose.own_tiles.other_areas import by_coats, coats_do_nothing, failed_so, sound_so
from diagnose.trials.tried import by_change, said
from diagnose.wording import listed, sentence

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fixes.bench import Step
    from diagnose.fixes.shapes import Change, Fix, Trial, Worked
    from diagnose.rules import Advice
    from diagnose.trials.tried import Tried
    from tiles.records.forms import TileRecord

OF_THE_COAT = ("coat_too_thick", "coat_too_thin")
"""The causes of which all advice is on how thick the glaze goes on."""


def not_failed(advice: "Sequence[Advice]", cause: str, case: "Case") -> "list[Advice]":
    """The advice for a cause without what is shown to be in vain.

    By each trial of the very same change, or by other areas of the tile. Where a coat more or less
    was in vain, so is all advice on how thick the glaze goes on.

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
    if cause in OF_THE_COAT and coats_do_nothing(bench.view):
        return []
    steps = [made for make in makers(bench) if (made := make(bench))]
    changes = [each.changes[0] for each in steps]
    in_vain = {each.what for each in changes if each.said in failed}
    if cause in OF_THE_COAT and in_vain & {COATS, DRY_COAT}:
        return []
    in_vain |= {each.changes[0].what for each in steps if failed_so(bench, each)}
    in_vain |= {COATS} if _one_coat(bench, steps) else set()
    return [each for each in advice if in_vain.isdisjoint(each.changes)]


def by_own_area(cause: str, case: "Case") -> list[str]:
    """What other areas of the tile say of its coats, where one coat more or less is in vain."""
    bench = Bench(case.view, cause, case.setting)
    if cause in OF_THE_COAT and coats_do_nothing(bench.view):
        coats = listed([str(each) for each in sorted(by_coats(bench.view))])
        return [f"No change of coats: it came with {coats} coats on this tile."]
    one = _one_coat(bench, [made for make in makers(bench) if (made := make(bench))])
    areas = sound_so(bench, one) if one else []
    if not areas:
        return []
    are = "areas" if len(areas) > 1 else "area"
    so = listed([str(each) for each in areas])
    return [sentence(f"{one.changes[0].said}: so {are} {so} of this tile came out sound")]


def _one_coat(bench: Bench, steps: "Sequence[Step]") -> "Step | None":
    """The change of coats that passes over one coat, which other areas show to be in vain."""
    return next(
        (
            each
            for each in steps
            if each.changes[0].what == COATS and _passes_over(bench, each.changes[0])
        ),
        None,
    )


def _passes_over(bench: Bench, change: "Change") -> bool:
    """Whether areas with coats between those of the tile and those aimed at failed as well."""
    low, high = sorted((change.before, change.after))
    seen = by_coats(bench.view)
    return any(failed for coats, failed in seen.items() if low < coats < high)


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
        # Where trials of one change came out both ways, or told nothing, another one tells more.
        left = [
            trial
            for trial, alike in zip(each.trials, found, strict=True)
            if len({one.came_again for one in alike if not one.beside}) != 1
        ]
        told = [sentence(said(alike, is_named=each.is_recipe)) for alike in tried]
        kept.append(replace(each, tried=told, trials=left))
    return kept, failed


def not_told(case: "Case", worked: "Sequence[Worked]") -> list[str]:
    """What the trials with a change showed that no fix is told with, such as those in own words."""
    told = " ".join(
        text
        for cause in worked
        for text in (*cause.tried, *(text for each in cause.fixes for text in each.tried))
    )
    rest = [each for each in case.tried if each.change != UNCHANGED]
    return [
        sentence(said(alike))
        for alike in by_change(rest)
        if not any(re.search(rf"\b{re.escape(each.mark)}\b", told) for each in alike)
    ]


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
    wanted = lines_of(trial.recipe["lines"])
    return any(
        layer.recipe and lines_of(layer.recipe.model_dump()["lines"]) == wanted
        for area in record.areas
        for layer in area.layers
    )


def _first(change: str | None) -> str:
    """How a change begins; bisque is wiped or not, whether it is known how it was before or not."""
    first = (change or "").partition("; ")[0]
    return WIPED if first.startswith(WIPED) else first
