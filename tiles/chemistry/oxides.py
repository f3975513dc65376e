"""Oxides: formulas, molar masses, and the part each plays in a glaze.

Conventions. Fluxes are the alkalis (R2O) and the alkaline earths, zinc and lead (RO): they add up
to 1 in a Seger formula. Colouring oxides are kept out of that sum whatever their valency, so that a
colourant does not move the formula of its base. All iron is reported as Fe2O3, manganese as MnO,
cobalt as CoO, copper as CuO.
"""

import math
import re
from collections.abc import Iterable, Mapping
from functools import cache

from tiles.chemistry._number import read_number
from tiles.chemistry._tables import read_table
from tiles.errors import InvalidValue, OutOfRange, UnknownName, nearest

REPORTED_AS = {
    "FeO": ("Fe2O3", 0.5),
    "MnO2": ("MnO", 1.0),
    "Co3O4": ("CoO", 3.0),
    "Cu2O": ("CuO", 2.0),
}
"""Oxide -> the form it is reported in, and moles of that per mole."""

_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_TOKEN = re.compile(r"([A-Z][a-z]?|[()])(\d+(?:\.\d+)?)?")
_LEADING_COUNT = re.compile(r"\d+(?:\.\d+)?")


@cache
def _atomic_weights() -> dict[str, float]:
    return {row["element"]: float(row["atomic_weight"]) for row in read_table("atomic_weights")}


@cache
def _oxide_rows() -> dict[str, dict[str, str]]:
    return {row["oxide"]: row for row in read_table("oxides")}


@cache
def all_oxides() -> tuple[str, ...]:
    """Every oxide of the table, glass formers first, volatile ones last."""
    return tuple(_oxide_rows())


@cache
def with_role(role: str) -> tuple[str, ...]:
    """Oxides that play one role: glass former, stabiliser, flux, opacifier, colourant ...

    Examples
    --------
    >>> with_role("stabiliser")
    ('Al2O3',)
    """
    return tuple(oxide for oxide, row in _oxide_rows().items() if row["role"] == role)


def role(oxide: str) -> str:
    """The part an oxide plays: glass former, stabiliser, flux, opacifier, colourant or other.

    Examples
    --------
    >>> role("CaO"), role("Fe2O3")
    ('flux', 'colourant')
    """
    return _oxide_rows()[read_oxide(oxide)]["role"]


@cache
def _by_folded_name() -> dict[str, str]:
    return {oxide.casefold(): oxide for oxide in _oxide_rows()}


def read_oxide(text: str) -> str:
    """The usual spelling of an oxide's formula.

    Raises
    ------
    UnknownName
        Not in the oxide table; the nearest is suggested.

    Examples
    --------
    >>> read_oxide("sio2"), read_oxide("Al₂O₃")
    ('SiO2', 'Al2O3')
    """
    if isinstance(text, str) and text in _oxide_rows():
        return text
    plain = str(text).strip().translate(_SUBSCRIPTS)
    found = _by_folded_name().get(plain.casefold())
    if found:
        return found
    close = nearest(plain, _oxide_rows())
    raise UnknownName(
        f"{text!r} is not an oxide of the table.",
        f"{close}." if close else "a formula such as SiO2, CaO or Na2O.",
        field="oxide",
        value=text,
    )


@cache
def molar_mass(formula: str) -> float:
    """Molar mass of a compound. [g/mol].

    Parameters
    ----------
    formula : str
        Such as ``SiO2``, ``CaMg(CO3)2`` or, with a raised dot between parts, ``Al2O3·2SiO2·2H2O``.

    Raises
    ------
    UnknownName
        An element is not in the table.
    InvalidValue
        The formula cannot be read.

    Examples
    --------
    >>> round(molar_mass("Al2O3·2SiO2·2H2O"), 2)
    258.16

    Source
    ------
    IUPAC-2021, conventional atomic weights.
    """
    total = 0.0
    for part in formula.split("·"):
        count = _LEADING_COUNT.match(part)
        compound = part[count.end() :] if count else part
        total += (float(count[0]) if count else 1.0) * _compound_mass(compound, formula)
    return total


def _compound_mass(compound: str, formula: str) -> float:
    sums = [0.0]
    for symbol, number in _TOKEN.findall(compound):
        if symbol == "(":
            sums.append(0.0)
            continue
        mass = (sums.pop() if len(sums) > 1 else math.nan) if symbol == ")" else _weight(symbol)
        sums[-1] += mass * float(number or 1)
    if _TOKEN.sub("", compound) or len(sums) != 1 or not sums[0] > 0:
        raise InvalidValue(
            f"{formula!r} is not a chemical formula.", "one such as CaCO3.", value=formula
        )
    return sums[0]


def _weight(element: str) -> float:
    try:
        return _atomic_weights()[element]
    except KeyError:
        raise UnknownName(
            f"{element!r} is not an element of the table.", "a chemical symbol.", value=element
        ) from None


def reported(amount_mol: Mapping[str, float]) -> dict[str, float]:
    """The same moles with each oxide in the form it is reported in, volatile ones left out. [mol].

    Examples
    --------
    >>> reported({"FeO": 2.0, "SiO2": 1.0, "SO3": 0.1})
    {'Fe2O3': 1.0, 'SiO2': 1.0}
    """
    found: dict[str, float] = {}
    for text, amount in amount_mol.items():
        oxide = read_oxide(text)
        if _oxide_rows()[oxide]["role"] == "volatile":
            continue
        name, moles = REPORTED_AS.get(oxide, (oxide, 1.0))
        found[name] = found.get(name, 0.0) + moles * amount
    return found


def moles(mass_g: Mapping[str, float]) -> dict[str, float]:
    """Moles of each oxide from its mass. [mol].

    Examples
    --------
    >>> {oxide: round(value, 3) for oxide, value in moles({"SiO2": 60.083, "CaO": 28.04}).items()}
    {'SiO2': 1.0, 'CaO': 0.5}
    """
    return {oxide: mass / molar_mass(oxide) for oxide, mass in _read(mass_g).items()}


def masses(amount_mol: Mapping[str, float]) -> dict[str, float]:
    """Mass of each oxide from its moles. [g]."""
    return {oxide: amount * molar_mass(oxide) for oxide, amount in _read(amount_mol).items()}


def _read(amounts: Mapping[str, float]) -> dict[str, float]:
    found: dict[str, float] = {}
    for text, amount in amounts.items():
        oxide = read_oxide(text)
        found[oxide] = found.get(oxide, 0.0) + read_number(amount, oxide, "an amount.", oxide)
    return found


def percent(amounts: Mapping[str, float]) -> dict[str, float]:
    """Each amount as a percentage of them all.

    Raises
    ------
    InvalidValue
        The amounts add up to nothing.

    Examples
    --------
    >>> percent({"SiO2": 3.0, "CaO": 1.0})
    {'SiO2': 75.0, 'CaO': 25.0}
    """
    total = sum(amounts.values())
    if not total > 0:
        raise InvalidValue("There is nothing to take a percentage of.", "at least one oxide.")
    return {oxide: 100 * amount / total for oxide, amount in amounts.items()}


def unity(amount_mol: Mapping[str, float], fluxes: Iterable[str] | None = None) -> dict[str, float]:
    """The Seger formula: moles of each oxide with the fluxes adding up to 1.

    Parameters
    ----------
    amount_mol : Mapping[str, float]
        Moles of each oxide. [mol], or anything proportional to it such as mol %.
    fluxes : iterable of str, optional
        Oxides that make up the 1; all with the role flux when not given.

    Raises
    ------
    OutOfRange
        No flux: the formula is not defined.
    UnknownName, InvalidValue
        A key is not in the oxide table; an amount is no number.

    Examples
    --------
    >>> unity({"CaO": 0.5, "Na2O": 0.5, "SiO2": 3.0, "Al2O3": 0.3})["SiO2"]
    3.0
    """
    counted = set(with_role("flux") if fluxes is None else fluxes)
    moles_of = _read(amount_mol)
    total = sum(amount for oxide, amount in moles_of.items() if oxide in counted)
    if not total > 0:
        raise OutOfRange(
            "There is no flux, so a Seger formula (fluxes = 1) is not defined.",
            "add a flux such as a feldspar, whiting or a frit.",
        )
    return {oxide: amount / total for oxide, amount in moles_of.items()}
