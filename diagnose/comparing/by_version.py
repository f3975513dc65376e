"""The tiles of one glaze by the version of its recipe: whether the newer one mended a fault."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.comparison_words import by_luck
from diagnose.comparing.counted import Counted, facts_of, failed_and_all
from diagnose.comparing.exact_test import two_groups
from diagnose.wording import DID, listed
from tiles.records.derived import recipe_key
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.comparing.set_apart import Difference
    from tiles.records.forms import RecipeRecord


def by_version(areas: Sequence[Counted], defect: str, clear: "Difference | None" = None) -> str:
    """How often a fault came with each version, in a sentence or two; "" where there is but one.

    Versions with the same lines are one. What is clear already is held alike: its failing side
    is counted by version too, and chance deals the failures out anew on either side by itself.

    Parameters
    ----------
    areas : sequence of Counted
        Areas of one glaze.
    defect : str
        One word of the defect list.
    clear : Difference, optional
        The single fact that is clear beyond chance.
    """
    groups = _groups(areas)
    if len(groups) < 2:
        return ""
    did = DID.get(defect, "failed")
    told = f"By version of its recipe: {_counts(groups, did)}"
    cut = clear.cut_among(facts_of(list(areas), clear.name.__eq__)) if clear else None
    known = [each for group in groups.values() for each in group]
    sides = cut.parts(known) if cut else [known]
    luck = _luck([{name: _of(group, side) for name, group in groups.items()} for side in sides])
    if not cut:
        return f"{told} ({luck})."
    failing, is_over = max((_share(side), at) for at, side in enumerate(sides))
    side = sides[is_over]
    there = {name: found for name, group in groups.items() if (found := _of(group, side))}
    if not failing or len(there) < 2:
        return f"{told}."
    said = cut.in_full if is_over == 0 else cut.otherwise_in_full
    return f"{told}. Of those {said}: {_counts(there, did)} ({luck})."


def _groups(areas: Sequence[Counted]) -> dict[str, list[Counted]]:
    """The areas by what their version is called, the oldest first; those without one left out."""
    by_lines: dict[tuple, tuple[set[int], list[Counted]]] = {}
    for each in areas:
        if (recipe := _recipe(each)) is not None:
            numbers, group = by_lines.setdefault(tuple(recipe_key(recipe)), (set(), []))
            numbers.add(recipe.version or 0)
            group.append(each)
    ordered = sorted(by_lines.values(), key=lambda each: min(each[0]))
    return {_named(numbers): group for numbers, group in ordered}


def _named(numbers: set[int]) -> str:
    several = "s" if len(numbers) > 1 else ""
    return f"version{several} {listed([str(each) for each in sorted(numbers)])}"


def _recipe(area: Counted) -> "RecipeRecord | None":
    """That of the layer of the glaze; of two layers of it the upper one."""
    layers = [each for each in area.area.layers if same_name(each.glaze.name, area.glaze)]
    return layers[-1].recipe if layers else None


def _of(group: list[Counted], side: list[Counted]) -> list[Counted]:
    there = {id(each) for each in side}
    return [each for each in group if id(each) in there]


def _share(side: list[Counted]) -> float:
    failed, many = failed_and_all(side)
    return failed / many if many else 0.0


def _counts(groups: dict[str, list[Counted]], did: str) -> str:
    told = []
    for name, group in groups.items():
        failed, many = failed_and_all(group)
        unit = "" if told else f" {'tile' if many == 1 else 'tiles'} {did}"
        told.append(f"{name}: {failed} of {many}{unit}")
    return "; ".join(told)


def _luck(sets: list[dict[str, list[Counted]]]) -> str:
    """How often chance alone parts one version as much from all others, in its best case."""
    names = list(sets[0])
    chance = min(two_groups(_strata(sets, name)) for name in names)
    looked_at = 1 if len(names) == 2 else len(names)
    return by_luck(min(1.0, chance * looked_at), "")


def _strata(sets: list[dict[str, list[Counted]]], name: str) -> list[list[tuple[int, int]]]:
    return [
        [
            failed_and_all(each[name]),
            failed_and_all(one for other, group in each.items() if other != name for one in group),
        ]
        for each in sets
    ]
