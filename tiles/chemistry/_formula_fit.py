"""From a Seger formula back to a recipe. Use it through ``formula``."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tiles.chemistry import oxides as ox
from tiles.chemistry._number import read_number
from tiles.chemistry.materials import Material, find
from tiles.errors import InvalidValue, OutOfRange


@dataclass(frozen=True)
class FittedRecipe:
    """The recipe nearest to a wanted formula.

    ``parts`` add up to 100; ``parts_per_formula`` are the grams that hold the formula's moles.
    ``unity`` is the Seger formula reached and ``residual`` what it differs by from the one wanted
    (reached minus wanted, mol per mol flux), oxides the materials bring unasked included.
    ``missing`` are wanted oxides no material brings.
    """

    parts: dict[str, float]
    parts_per_formula: dict[str, float]
    unity: dict[str, float]
    residual: dict[str, float]
    missing: tuple[str, ...]

    @property
    def worst(self) -> tuple[str, float]:
        """The oxide that differs most, and by how much. [mol per mol flux]."""
        return max(self.residual.items(), key=lambda pair: abs(pair[1]))


def recipe_for(
    formula: Mapping[str, float],
    materials: Sequence[str],
    *,
    own: Iterable[Material] = (),
    given: Mapping[str, float] | None = None,
) -> FittedRecipe:
    """The recipe of some materials that comes nearest to a Seger formula.

    Parameters
    ----------
    formula : Mapping[str, float]
        Moles of each oxide wanted; brought to fluxes = 1 first. Each 0 or more.
    materials : sequence of str
        Materials to choose from.
    own : iterable of Material
        The user's own materials.
    given : Mapping[str, float], optional
        Materials already decided, in grams per formula, such as raw clay to keep the slop afloat.

    Returns
    -------
    FittedRecipe

    Raises
    ------
    InvalidValue
        A negative amount, no material.
    OutOfRange
        The formula has no flux, or the materials can bring none.
    UnknownName
        An oxide or a material that is not known.

    Notes
    -----
    Non-negative least squares on moles, every oxide counting alike, those not wanted as wanted 0.
    With more materials than oxides several recipes may be as good; one of them is given.

    Examples
    --------
    >>> wanted = {"K2O": 0.3, "CaO": 0.7, "Al2O3": 0.4, "SiO2": 3.6}
    >>> fitted = recipe_for(wanted, ["potash feldspar (ideal)", "whiting", "kaolin", "silica"])
    >>> {name: round(parts, 1) for name, parts in fitted.parts.items()}
    {'potash feldspar (ideal)': 46.5, 'whiting': 19.5, 'kaolin': 7.2, 'silica': 26.8}
    >>> abs(fitted.worst[1]) < 1e-9
    True
    """
    from scipy.optimize import nnls

    own = tuple(own)
    wanted = ox.unity(ox.reported(_amounts(formula)))
    fixed = [(find(name, own), grams) for name, grams in _amounts(given or {}).items()]
    chosen = list({each.name: each for each in (find(name, own) for name in materials)}.values())
    if not chosen:
        raise InvalidValue("No material is named.", "the materials to choose from.")
    matrix, target = _system(wanted, chosen, fixed)
    grams, _ = nnls(matrix, target)
    amounts = [*zip(chosen, map(float, grams), strict=True), *fixed]
    return _told(wanted, [(each, amount) for each, amount in amounts if amount > 1e-9])


def _system(wanted: dict[str, float], chosen: list[Material], fixed: list[tuple[Material, float]]):
    """Moles per gram of each material (one row per oxide), and the moles still to bring."""
    brought = {oxide for each in chosen for oxide in each.moles_per_g}
    rows = [oxide for oxide in ox.all_oxides() if oxide in wanted or oxide in brought]
    matrix = [[each.moles_per_g.get(oxide, 0.0) for each in chosen] for oxide in rows]
    already = _brought(fixed)
    return matrix, [wanted.get(oxide, 0.0) - already.get(oxide, 0.0) for oxide in rows]


def _brought(amounts: list[tuple[Material, float]]) -> dict[str, float]:
    found: dict[str, float] = {}
    for material, grams in amounts:
        for oxide, per_g in material.moles_per_g.items():
            found[oxide] = found.get(oxide, 0.0) + per_g * grams
    return found


def _told(wanted: dict[str, float], amounts: list[tuple[Material, float]]) -> FittedRecipe:
    brought = _brought(amounts)
    try:
        reached = ox.unity(brought)
    except OutOfRange:
        raise OutOfRange(
            "These materials bring none of the fluxes of the formula.",
            "add a flux such as a feldspar, whiting or a frit.",
        ) from None
    per_formula: dict[str, float] = {}
    for material, grams in amounts:
        per_formula[material.name] = per_formula.get(material.name, 0.0) + grams
    order = [oxide for oxide in ox.all_oxides() if oxide in wanted or oxide in reached]
    return FittedRecipe(
        parts=ox.percent(per_formula),
        parts_per_formula=per_formula,
        unity={oxide: reached[oxide] for oxide in order if oxide in reached},
        residual={each: reached.get(each, 0.0) - wanted.get(each, 0.0) for each in order},
        missing=tuple(each for each in order if wanted.get(each) and each not in brought),
    )


def _amounts(values: Mapping[str, float]) -> dict[str, float]:
    for name, value in values.items():
        if read_number(value, name, "0 or more.", name) < 0:
            raise InvalidValue(
                f"{name} {value:g} cannot be right.", "0 or more.", field=name, value=value
            )
    return dict(values)
