"""The small recipe changes of ``swaps.toml``, and what they mean for the recipe at hand."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING

from diagnose.fixes.materials import calcined_form, kind_of

if TYPE_CHECKING:
    from diagnose.fixes.glass import Recipe


@dataclass(frozen=True)
class Swap:
    """One change, as ``swaps.toml`` describes it.

    ``calcines`` where what comes in is what goes out without its water: which material that is,
    and how much of it, is told by the analyses.
    """

    name: str
    takes: Mapping[str, float]
    gives: Mapping[str, float]
    helps: tuple[str, ...]
    spoils: str
    tag: str
    source: str
    only: str = ""
    calcines: bool = False
    spoils_with: Mapping[str, str] = field(default_factory=dict, hash=False)


@dataclass(frozen=True)
class FittedSwap:
    """A change with the lines of one recipe: parts moved for each part of it, by material."""

    swap: Swap
    moves: Mapping[str, float]


@cache
def swaps() -> tuple[Swap, ...]:
    """Every change, in the order of the file."""
    import tomllib
    from importlib.resources import files

    text = files("diagnose.fixes").joinpath("swaps.toml").read_text(encoding="utf-8")
    return tuple(
        Swap(helps=tuple(entry.pop("for")), **entry) for entry in tomllib.loads(text)["swap"]
    )


def fitted(recipe: "Recipe", aim: str, setting: str) -> list[FittedSwap]:
    """The changes that this recipe allows and that may help.

    Parameters
    ----------
    recipe : Recipe
        With every material understood.
    aim : str
        One of the words of ``for`` in ``swaps.toml``.
    setting : str
        ``"low_fire"``, ``"mid_range"`` or ``"unknown"``.
    """
    found = []
    for swap in swaps():
        if aim in swap.helps and swap.only in ("", setting):
            found += _fit(swap, recipe)
    return found


def _fit(swap: Swap, recipe: "Recipe") -> list[FittedSwap]:
    """One for each line of the kind the change takes first, such as either of two feldspars."""
    first, *others = swap.takes
    rest = {kind: _lines(kind, recipe)[:1] for kind in others}
    if not all(rest.values()):
        return []
    found = []
    for line in _lines(first, recipe):
        moves = {line: -swap.takes[first]}
        moves |= {lines[0]: -swap.takes[kind] for kind, lines in rest.items()}
        for title, weight in _gives(swap, line, recipe):
            moves[title] = moves.get(title, 0.0) + weight
        found.append(FittedSwap(swap, moves))
    return found


def _gives(swap: Swap, line: str, recipe: "Recipe") -> list[tuple[str, float]]:
    """What comes in for one part of a line, and how much of it."""
    calcined = calcined_form(line, recipe) if swap.calcines else None
    if calcined:
        return [calcined]
    return [(_line_for(name, recipe), weight) for name, weight in swap.gives.items()]


def _lines(kind: str, recipe: "Recipe") -> list[str]:
    """The lines of a kind, the largest first."""
    alike = [title for title in recipe.parts if kind_of(recipe.materials[title]) == kind]
    return sorted(alike, key=lambda title: -recipe.parts[title])


def _line_for(name: str, recipe: "Recipe") -> str:
    """The recipe's own line of that kind, else the material itself."""
    material = recipe.material(name)
    return next(iter(_lines(kind_of(material), recipe)), material.name)
