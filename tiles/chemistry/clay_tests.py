"""Shrinkage and absorption of a clay body, by the equations of the usual test methods."""

from dataclasses import dataclass

from tiles.chemistry._number import read_number, read_positive
from tiles.errors import InvalidValue


def _shrinkage(before_mm: float, after_mm: float, before: str, after: str) -> float:
    start, end = read_positive(before_mm, before), read_positive(after_mm, after)
    if end > start:
        raise InvalidValue(
            f"{after} {end:g} is longer than {before} {start:g}.",
            "the two lengths the other way round; a bloated bar is no shrinkage test.",
            field=after,
            value=after_mm,
        )
    return 100 * (start - end) / start


def drying_shrinkage_percent(wet_mm: float, dry_mm: float) -> float:
    """Linear drying shrinkage, of the wet (plastic) length. [%].

    Examples
    --------
    >>> round(drying_shrinkage_percent(102.0, 96.9), 2)
    5.0

    Source
    ------
    ASTM-C326
    """
    return _shrinkage(wet_mm, dry_mm, "wet_mm", "dry_mm")


def firing_shrinkage_percent(dry_mm: float, fired_mm: float) -> float:
    """Linear firing shrinkage, of the dry length. [%].

    Examples
    --------
    >>> round(firing_shrinkage_percent(96.9, 90.1), 2)
    7.02

    Source
    ------
    ASTM-C326
    """
    return _shrinkage(dry_mm, fired_mm, "dry_mm", "fired_mm")


def total_shrinkage_percent(wet_mm: float, fired_mm: float) -> float:
    """Linear total shrinkage, of the wet (plastic) length. [%].

    Not the sum of drying and firing shrinkage: 1 - total = (1 - drying)(1 - firing).

    Examples
    --------
    >>> total_shrinkage_percent(100, 88)      # a 10 cm mark: millimetres are per cent
    12.0

    Source
    ------
    ASTM-C326
    """
    return _shrinkage(wet_mm, fired_mm, "wet_mm", "fired_mm")


def wet_size_mm(fired_mm: float, total_shrinkage_percent: float) -> float:
    """Size to make a piece that is to finish at a size. [mm].

    Examples
    --------
    >>> round(wet_size_mm(150, 12), 2)
    170.45
    """
    finished = read_positive(fired_mm, "fired_mm")
    name, hint = "total_shrinkage_percent", "a percentage such as 12."
    percent = read_number(total_shrinkage_percent, "Total shrinkage", hint, name)
    if not 0 <= percent < 100:
        raise InvalidValue(f"Total shrinkage {percent:zg} % cannot be right.", hint, field=name)
    return finished / (1 - percent / 100)


@dataclass(frozen=True)
class Absorption:
    """What the boiling test tells of a fired piece.

    Absorption is of the dry mass, apparent porosity of the volume; the apparent specific gravity is
    that of the solid with its closed pores.
    """

    exterior_volume_ml: float
    absorption_percent: float
    apparent_porosity_percent: float
    apparent_specific_gravity: float
    bulk_density_g_per_ml: float


def absorption(dry_g: float, suspended_g: float, saturated_g: float) -> Absorption:
    """Absorption, porosity and density from three weighings.

    Parameters
    ----------
    dry_g : float
        Dried to constant mass. [g].
    suspended_g : float
        Saturated, hanging in water. [g].
    saturated_g : float
        Saturated, blotted, in air. [g].

    Returns
    -------
    Absorption

    Raises
    ------
    InvalidValue
        Weighings that cannot belong together: suspended < dry <= saturated.

    Notes
    -----
    V = M - S; absorption (M - D) / D; apparent porosity (M - D) / V; apparent specific gravity
    D / (D - S); bulk density D / V. The method boils for 5 h, soaks for 24 h and asks for five
    pieces: one piece by this function is a school test, not conformity with a standard.

    Examples
    --------
    >>> found = absorption(100.0, 60.0, 106.0)
    >>> found.absorption_percent, round(found.apparent_porosity_percent, 2)
    (6.0, 13.04)

    Source
    ------
    ASTM-C373 (equations from memory)
    """
    dry = read_positive(dry_g, "dry_g")
    suspended = read_positive(suspended_g, "suspended_g")
    saturated = read_positive(saturated_g, "saturated_g")
    if not suspended < dry <= saturated:
        raise InvalidValue(
            f"Weighings of {dry:g} g dry, {suspended:g} g suspended and {saturated:g} g saturated "
            "cannot belong together.",
            "suspended below dry, and saturated not below dry.",
        )
    volume = saturated - suspended
    return Absorption(
        exterior_volume_ml=volume,
        absorption_percent=100 * (saturated - dry) / dry,
        apparent_porosity_percent=100 * (saturated - dry) / volume,
        apparent_specific_gravity=dry / (dry - suspended),
        bulk_density_g_per_ml=dry / volume,
    )
