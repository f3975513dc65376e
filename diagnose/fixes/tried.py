"""What trials that were fired say of each fix: what failed is not proposed again."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.fixes.bench import Bench
from diagnose.fixes.letters import lines_of
from diagnose.fixes.shapes import COATS, DRY_COAT, UNCHANGED, WIPED
from diagnose.fixes.steps import makers
from diagnose.own_tiles.other_areas import by_coats, coats_do_nothing, failed_so, sound_so
from diagnose.trials.tried import by_change, in_brief, proven, said
from diagnose.trials.words import looked_late
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


def worked_already(case: "Case") -> list[str]:
    """What worked on trials already: first what is proven, then what came out sound once.

    A change is told from its first sound tile on, and that one tile may be luck: whoever has it
    need not try another one first. None where no control failed, as `proven` has it.
    """
    found = recipes_that_worked(case)
    so = {
        f"{in_brief(alike[0].change)} ({listed([each.mark for each in alike])})": alike
        for alike in by_change([each for each in case.tried if not each.glaze])
        if alike[0].change != UNCHANGED
        and all(_is_sound(each) and not each.besides for each in alike)
        and not any(text.startswith(f"{alike[0].change}: ") for text in found)
    }
    if not so or _never_failed(case):
        return found
    late = looked_late([each for alike in so.values() for each in alike])
    make = "make the next ones so" if len(so) == 1 else "make the next ones in one of these ways"
    return [*found, f"{listed(list(so))} came out sound{late}: {make}{_once_more(so.values())}."]


def recipes_that_worked(case: "Case") -> list[str]:
    """The same, of what came out sound once only the trial recipes."""
    found = proven(case.tried)
    if _never_failed(case):
        return found
    of_glaze: dict[str, list[Tried]] = {}
    for each in reversed(case.tried):
        if each.glaze and not any(_names_line(text, each.glaze) for text in found):
            of_glaze.setdefault(each.glaze, []).append(each)
    sound = {name: alike for name, alike in of_glaze.items() if all(map(_is_sound, alike))}
    if not sound:
        return found
    glazes = [f"{name} ({listed([each.mark for each in of])})" for name, of in sound.items()]
    noun, it = ("recipe", "it") if len(sound) == 1 else ("recipes", "one of these")
    late = looked_late([each for of in sound.values() for each in of])
    told = f"the trial {noun} {listed(glazes)} came out sound{late}: use {it}"
    return [*found, f"{told}{_once_more(sound.values())}."]


def _never_failed(case: "Case") -> bool:
    """Whether the fault stayed away on each control: then no change has mended it."""
    controls = [each.came_again for each in case.tried if each.change == UNCHANGED]
    return bool(controls) and not any(controls)


def _once_more(sound: "Iterable[list[Tried]]") -> str:
    """What goes for a change that came out sound on a single tile."""
    is_luck = any(len(alike) == 1 for alike in sound)
    return ". One tile may be luck, so fire the one you take once more" if is_luck else ""


def _names_line(text: str, glaze: str) -> bool:
    """Whether what is proven is the line that a trial recipe lies on."""
    return text.startswith(f"the glaze {glaze.rpartition(' ')[0]} ")


def _is_sound(tried: "Tried") -> bool:
    is_moot = tried.is_early or bool(tried.beside) or not tried.is_as_planned
    return not (tried.came_again or tried.instead or is_moot)


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
