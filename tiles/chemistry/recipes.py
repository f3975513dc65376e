"""Recipes: lines of material and parts, checked once, scaled only on request, weighed out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tiles.chemistry._number import read_number, read_positive
from tiles.chemistry.materials import Material, fold, index, unknown
from tiles.errors import InvalidValue

Recipe = Mapping[str, float] | Iterable[tuple[str, float]]
"""Material -> parts, or pairs of material and parts (pairs can show that a line came twice)."""

LEAST_PARTS, MOST_PARTS = 1e-6, 1e9
"""Nobody weighs less or more, in whatever unit; beyond them sums would lose lines (estimate)."""


@dataclass(frozen=True)
class Line:
    """One line of a recipe; ``material`` is None when no material goes by its name."""

    name: str
    parts: float
    material: Material | None
    is_extra: bool = False

    @property
    def title(self) -> str:
        """The material's usual name, or the name as given when it is not known."""
        return self.material.name if self.material else self.name


def read_recipe(
    recipe: Recipe,
    *,
    extras: Recipe = (),
    own: Iterable[Material] = (),
    strict: bool = False,
) -> tuple[Line, ...]:
    """The lines of a recipe, once they can be right; parts are kept as given.

    Parameters
    ----------
    recipe, extras : Mapping[str, float] or iterable of (str, float)
        Parts by weight of each material; ``extras`` are additions above the base (tin oxide,
        colourants).
    own : iterable of Material
        The user's own materials.
    strict : bool
        Refuse a material that is not known, instead of carrying it as not understood.

    Raises
    ------
    InvalidValue
        No line; parts absent, no number, 0 or below; the same material twice or under two names.
    UnknownName
        With ``strict``, a name no material goes by; the nearest is suggested.

    Examples
    --------
    >>> [(line.title, line.parts) for line in read_recipe({"whiting": 20, "china clay": 10})]
    [('whiting', 20.0), ('kaolin', 10.0)]
    """
    return _read(recipe, extras, index(own), strict)


def _read(
    recipe: Recipe, extras: Recipe, known: Mapping[str, Material], strict: bool = False
) -> tuple[Line, ...]:
    lines: dict[str, Line] = {}
    for is_extra, group in ((False, recipe), (True, extras)):
        for name, parts in group.items() if isinstance(group, Mapping) else group:
            line = _line(name, parts, known, is_extra)
            if line.material is None and strict:
                raise unknown(name, known)
            _refuse_twice(lines.get(fold(line.title)), line)
            lines[fold(line.title)] = line
    if not lines:
        raise InvalidValue("The recipe has no line.", "at least one material with its parts.")
    return tuple(lines.values())


def _line(name: str, parts: float, known: Mapping[str, Material], is_extra: bool) -> Line:
    if not isinstance(name, str) or not name.strip():
        raise InvalidValue(f"A line with {parts!r} parts names no material.", "its name.")
    hint = "parts by weight above 0, such as 25."
    if parts is None or (isinstance(parts, str) and not parts.strip()):
        raise InvalidValue(f"{name}: no parts.", hint, field="parts", value=parts)
    number = read_number(parts, f"{name}: the amount", hint, "parts")
    if number <= 0:
        raise InvalidValue(f"{name}: {number:zg} parts.", hint, field="parts", value=parts)
    if not LEAST_PARTS <= number <= MOST_PARTS:
        told = f"{name}: {number:g} parts cannot be right."
        raise InvalidValue(told, hint, field="parts", value=parts)
    return Line(name.strip(), number, known.get(fold(name)), is_extra)


def _refuse_twice(before: Line | None, line: Line) -> None:
    if before is None:
        return
    is_one_name = fold(before.name) == fold(line.name)
    hint = f"one line of {before.parts + line.parts:g} parts"
    if before.is_extra != line.is_extra:
        base, extra = sorted((before, line), key=lambda each: each.is_extra)
        where = (
            f"in the base ({base.parts:g} parts)",
            f"among the additions ({extra.parts:g} parts)",
        )
        message = f"{base.name} is both {where[0]} and {where[1]}."
        if not is_one_name:
            same = f"are the same material ({line.title})"
            message = f"{base.name} {where[0]} and {extra.name} {where[1]} {same}."
        hint += ", in the base or as an addition"
    elif is_one_name:
        message = f"{line.name} is listed twice ({before.parts:g} and {line.parts:g} parts)."
    else:
        message = f"{before.name} and {line.name} are the same material ({line.title})."
    hint += ", or name one of them as a material of its own."
    raise InvalidValue(message, hint, field="material", value=line.name)


def weigh_out(
    recipe: Recipe, mass_g: float, *, extras: Recipe = (), of_base: bool = False
) -> dict[str, float]:
    """Mass of each material for a dry batch. [g].

    Parameters
    ----------
    recipe, extras
        As `read_recipe`, but each line is weighed by the name it has: whether two names are one
        material depends on the user's own materials, and no weight does.
    mass_g : float
        Mass of the dry batch. [g].
    of_base : bool
        The mass is that of the base, additions coming on top; else it is that of the whole.

    Examples
    --------
    >>> base = {"potash feldspar": 75, "whiting": 25}
    >>> weigh_out(base, 500, extras={"tin oxide": 5}, of_base=True)
    {'potash feldspar': 375.0, 'whiting': 125.0, 'tin oxide': 25.0}
    """
    read_positive(mass_g, "mass_g")
    lines = _read(recipe, extras, known={})
    whole = sum(line.parts for line in lines if not (of_base and line.is_extra))
    if not whole:
        raise InvalidValue("The base has no line to take the mass of.", "the whole batch.")
    return {line.name: mass_g * line.parts / whole for line in lines}
