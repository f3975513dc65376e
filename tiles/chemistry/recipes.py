"""Recipes: lines of material and parts, checked once, scaled only on request, weighed out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from numbers import Real

from tiles.chemistry.materials import Material, fold, index, unknown
from tiles.errors import InvalidValue

Recipe = Mapping[str, float] | Iterable[tuple[str, float]]
"""Material -> parts, or pairs of material and parts (pairs can show that a line came twice)."""


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
    known = index(own)
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
    if not isinstance(parts, Real) or isinstance(parts, bool) or not 0 < parts < float("inf"):
        told = "no parts" if parts is None or parts == "" else f"{parts!r} parts"
        raise InvalidValue(
            f"{name}: {told}.", "parts by weight above 0, such as 25.", field="parts", value=parts
        )
    return Line(name.strip(), float(parts), known.get(fold(name)), is_extra)


def _refuse_twice(before: Line | None, line: Line) -> None:
    if before is None:
        return
    both = before.parts + line.parts
    if fold(before.name) == fold(line.name):
        message = f"{line.name} is listed twice ({before.parts:g} and {line.parts:g} parts)."
    else:
        message = f"{before.name} and {line.name} are the same material ({line.title})."
    raise InvalidValue(
        message,
        f"one line of {both:g} parts, or name one of them as a material of its own.",
        field="material",
        value=line.name,
    )


def scaled(recipe: Mapping[str, float], total: float = 100.0) -> dict[str, float]:
    """The same recipe with parts that add up to a total.

    Examples
    --------
    >>> scaled({"whiting": 30, "kaolin": 10})
    {'whiting': 75.0, 'kaolin': 25.0}
    """
    _check_amount(total, "total")
    lines = read_recipe(recipe)
    whole = sum(line.parts for line in lines)
    return {line.name: line.parts * total / whole for line in lines}


def weigh_out(
    recipe: Recipe, mass_g: float, *, extras: Recipe = (), of_base: bool = False
) -> dict[str, float]:
    """Mass of each material for a dry batch. [g].

    Parameters
    ----------
    recipe, extras
        As `read_recipe`.
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
    _check_amount(mass_g, "mass_g")
    lines = read_recipe(recipe, extras=extras)
    whole = sum(line.parts for line in lines if not (of_base and line.is_extra))
    if not whole:
        raise InvalidValue("The base has no line to take the mass of.", "the whole batch.")
    return {line.name: mass_g * line.parts / whole for line in lines}


def _check_amount(value: float, field: str) -> None:
    if not isinstance(value, Real) or isinstance(value, bool) or not 0 < value < float("inf"):
        raise InvalidValue(f"{field} {value!r} cannot be right.", "a number above 0.", field=field)
