"""Slip and glaze slop: specific gravity, dry content, thinning, batches and coats.

Specific gravity (SG) is mass per volume against water: at SG 1.45 a litre weighs 1450 g.
Brongniart's formula turns it into dry content with the SG of the dry grain, about 2.6 for most
glazes and clays.
"""

import math

from tiles.chemistry._number import read_positive
from tiles.errors import InvalidValue, OutOfRange

WATER_G_PER_L = 1000.0
USUAL_GRAIN_SG = 2.6
"""SG of dry glaze or clay when not measured; 2.5 and 2.6 are both in use (common practice)."""

HIGHEST_GRAIN_SG = 10.0
"""Above any raw material: litharge, the heaviest, has about 9.5 (from memory, to be confirmed)."""

HIGHEST_SLOP_SG = 2.5
"""Above this a slop no longer flows, by far (estimate); a record takes none so thick either."""

WATER_OZ_PER_IMPERIAL_PINT = 20.0
"""A pint of 20 fluid ounces of water weighs 20 oz. The US pint of 16 fluid ounces does not."""

COAT_BULK_G_PER_CM3 = 1.4
"""Bulk density of a dry raw coat: grain of SG 2.6 packed to about 55 % (estimate)."""

USUAL_COAT_MM, LEAST_COAT_MM, MOST_COAT_MM = 0.6, 0.5, 1.0
"""Dry coat of a gloss glaze, and from where to where it is usual. [mm]

0.5 to 1.0 mm is common practice, no source; 0.41 mm raw gave 0.20 mm fired (J. Sankey,
johnsankey.ca/ptips.html, read), and 0.2 to 0.4 mm fired is usual (estimate)."""

BRUSHED_FILM_MM = 0.3
"""Wet film a brush leaves: three coats, which are usual (walkerceramics.com.au, read), at the
brushing SG of 1.62 to 1.65 then dry to about `USUAL_COAT_MM` (estimate)."""


THIN_SLOP_SG, DIPPING_SG, BRUSHING_SG, GUM_PCT = 1.4, 1.45, 1.6, "0.3 to 0.5 %"
"""A glaze is kept at 1.45 to 1.55 in a dipping bucket and about 1.6 in a brushing jar, there with
so much gum; under the first of these it is watery (common practice, no source; an estimate)."""


def _positive(value: float, field: str, unit: str) -> float:
    return read_positive(value, field, f"a number above 0 [{unit}].")


def check_specific_gravity(sg: float, field: str = "sg") -> float:
    """The same specific gravity, once it can be one of a slop.

    Raises
    ------
    InvalidValue
        No number, 1 or below, or so high that a decimal point or a unit must be missing.

    Examples
    --------
    >>> check_specific_gravity(1.45)
    1.45
    """
    value = _positive(sg, field, "kg/L")
    if value <= 1:
        raise InvalidValue(
            f"Specific gravity {sg:g} is not above 1: a slop is heavier than water.",
            "mass [g] divided by volume [mL], such as 1.45.",
            field=field,
            value=sg,
        )
    if value > HIGHEST_SLOP_SG:
        meant = next((value / by for by in (100, 1000) if 1 < value / by <= HIGHEST_SLOP_SG), None)
        hint = f"{meant:g}, if {sg:g} was meant so." if meant else "a number such as 1.45."
        raise InvalidValue(
            f"Specific gravity {sg:g} cannot be right for a slop.", hint, field=field, value=sg
        )
    return value


def _check_grain(grain_sg: float, sg: float) -> float:
    value = _positive(grain_sg, "grain_sg", "kg/L")
    if value > HIGHEST_GRAIN_SG:
        meant = next(
            (value / by for by in (10, 100, 1000) if 1.5 < value / by <= HIGHEST_GRAIN_SG), None
        )
        raise InvalidValue(
            f"Grain of SG {grain_sg:g} cannot be right: no glaze material is above "
            f"{HIGHEST_GRAIN_SG:g}.",
            f"{meant:g}, if {grain_sg:g} was meant so." if meant else "about 2.6.",
            field="grain_sg",
            value=grain_sg,
        )
    if value <= sg:
        raise InvalidValue(
            f"Grain of SG {grain_sg:g} cannot make a slop of SG {sg:g}.",
            "the SG of the dry grain, about 2.6.",
            field="grain_sg",
            value=grain_sg,
        )
    return value


def specific_gravity(mass_g: float, volume_ml: float) -> float:
    """Specific gravity of a slop from a weighed volume.

    Examples
    --------
    >>> specific_gravity(145, 100)
    1.45
    """
    found = _positive(mass_g, "mass_g", "g") / _positive(volume_ml, "volume_ml", "mL")
    return check_specific_gravity(found)


def grain_specific_gravity(dry_mass_g: float, water_displaced_ml: float) -> float:
    """SG of the dry grain from the water it displaces (mass over volume).

    Source
    ------
    COLMAN-2014
    """
    dry = _positive(dry_mass_g, "dry_mass_g", "g")
    return dry / _positive(water_displaced_ml, "water_displaced_ml", "mL")


def dry_content_g_per_l(sg: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Dry material in a litre of slop (Brongniart's formula). [g/L].

    Parameters
    ----------
    sg : float
        Specific gravity of the slop.
    grain_sg : float
        Specific gravity of the dry grain.

    Notes
    -----
    dry = (m - 1000) S / (S - 1), with m the mass of a litre [g] and S the SG of the grain.

    Examples
    --------
    >>> round(dry_content_g_per_l(1.70, grain_sg=2.5))
    1167

    Source
    ------
    GTZ-1991, "Dry content of liquid".
    """
    value = check_specific_gravity(sg)
    grain = _check_grain(grain_sg, value)
    return WATER_G_PER_L * (value - 1) * grain / (grain - 1)


def dry_content_g(volume_l: float, sg: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Dry material in a volume of slop. [g].

    Examples
    --------
    >>> round(dry_content_g(30, 1.70, grain_sg=2.5))
    35000
    """
    return _positive(volume_l, "volume_l", "L") * dry_content_g_per_l(sg, grain_sg)


def water_to_add_g(volume_l: float, sg: float, wanted_sg: float) -> float:
    """Water that thins a volume of slop to another specific gravity. [g], 1 g being 1 mL.

    Raises
    ------
    OutOfRange
        The wanted slop is thicker: water has to come off instead.

    Examples
    --------
    >>> round(water_to_add_g(5, 1.60, 1.45))
    1667

    Notes
    -----
    By mass balance: m (a - b) / (a (b - 1)) for m grams of SG a thinned to SG b.
    """
    now = check_specific_gravity(sg)
    wanted = check_specific_gravity(wanted_sg, "wanted_sg")
    if wanted > now:
        excess = clear_water_g(volume_l, now, wanted)
        raise OutOfRange(
            f"A slop of SG {now:g} cannot be thickened to {wanted:g} by adding water.",
            f"let it settle and take off {excess:.0f} g of clear water; common practice: some of "
            "its gum goes with it.",
            field="wanted_sg",
            value=wanted_sg,
        )
    return _positive(volume_l, "volume_l", "L") * WATER_G_PER_L * (now - wanted) / (wanted - 1)


def clear_water_g(volume_l: float, sg: float, wanted_sg: float) -> float:
    """Clear water to take off a settled slop, which thickens it to another specific gravity. [g].

    Raises
    ------
    OutOfRange
        The wanted slop is thinner: water has to go in instead.

    Examples
    --------
    >>> round(clear_water_g(1, 1.28, 1.45))
    378

    Notes
    -----
    By mass balance, as `water_to_add_g` with the sign turned.
    """
    now = check_specific_gravity(sg)
    wanted = check_specific_gravity(wanted_sg, "wanted_sg")
    if wanted < now:
        raise OutOfRange(
            f"A slop of SG {now:g} cannot be thinned to {wanted:g} by taking water off.",
            f"add {water_to_add_g(volume_l, now, wanted):.0f} g of water.",
            field="wanted_sg",
            value=wanted_sg,
        )
    return _positive(volume_l, "volume_l", "L") * WATER_G_PER_L * (wanted - now) / (wanted - 1)


def volume_l(dry_g: float, sg: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Litres of slop that a dry mass makes at a specific gravity. [L].

    Examples
    --------
    >>> round(volume_l(1000, 1.45), 2)
    1.37
    """
    return _positive(dry_g, "dry_g", "g") / dry_content_g_per_l(sg, grain_sg)


def water_for_g(dry_g: float, sg: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Water to mix with a dry mass for a specific gravity. [g], 1 g being 1 mL.

    Examples
    --------
    >>> round(water_for_g(1000, 1.45))
    983
    """
    return volume_l(dry_g, sg, grain_sg) * WATER_G_PER_L * sg - dry_g


def degrees_twaddell(sg: float) -> float:
    """Degrees Twaddell of a specific gravity: 200 (SG - 1).

    Examples
    --------
    >>> round(degrees_twaddell(1.70), 6)
    140.0

    Source
    ------
    TWADDELL (definition from memory)
    """
    return 200 * (check_specific_gravity(sg) - 1)


def degrees_baume(sg: float) -> float:
    """Degrees Baume (heavier than water) of a specific gravity: 145 - 145 / SG.

    Examples
    --------
    >>> round(degrees_baume(1.50), 1)
    48.3

    Source
    ------
    BAUME (definition from memory)
    """
    return 145 - 145 / check_specific_gravity(sg)


def specific_gravity_from_imperial_pint(ounces: float) -> float:
    """Specific gravity from the weight of an IMPERIAL pint (20 fluid ounces). [oz].

    Not for the US pint of 16 fluid ounces, whose water weighs about 16.7 oz.

    Examples
    --------
    >>> specific_gravity_from_imperial_pint(34)
    1.7
    """
    weight = _positive(ounces, "ounces", "oz")
    if weight <= WATER_OZ_PER_IMPERIAL_PINT:
        raise InvalidValue(
            f"An imperial pint of slop weighs more than 20 oz of water, not {ounces:g} oz.",
            "an imperial pint (20 fl oz), not a US one (16 fl oz); or weigh 100 mL in grams.",
            field="ounces",
            value=ounces,
        )
    return check_specific_gravity(weight / WATER_OZ_PER_IMPERIAL_PINT)


def dry_content_oz_per_imperial_pint(ounces: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Dry material in an IMPERIAL pint of slop of a given weight. [oz].

    Notes
    -----
    dry = (P - 20) S / (S - 1), with P the weight of the pint [oz].

    Examples
    --------
    >>> round(dry_content_oz_per_imperial_pint(34, grain_sg=2.5), 2)
    23.33

    Source
    ------
    BRONGNIART (imperial form, from memory)
    """
    sg = specific_gravity_from_imperial_pint(ounces)
    return dry_content_g_per_l(sg, grain_sg) / WATER_G_PER_L * WATER_OZ_PER_IMPERIAL_PINT


def brushed_coat_mm(sg: float, grain_sg: float = USUAL_GRAIN_SG) -> float:
    """Thickness of one brushed coat when dry. [mm], a rough estimate.

    Notes
    -----
    A wet film of `BRUSHED_FILM_MM` dries to its dry content at `COAT_BULK_G_PER_CM3`. Brushes, gum
    and the hand change it by half; measure a coat where it matters.

    Examples
    --------
    >>> round(3 * brushed_coat_mm(1.63), 2)
    0.66

    Source
    ------
    OWN-ESTIMATE
    """
    dry_g_per_cm3 = dry_content_g_per_l(sg, grain_sg) / 1000
    return BRUSHED_FILM_MM * dry_g_per_cm3 / COAT_BULK_G_PER_CM3


def brush_coats(thickness_mm: float, sg: float, grain_sg: float = USUAL_GRAIN_SG) -> int:
    """Brushed coats that build a dry raw thickness, rounded up; a rough estimate.

    Examples
    --------
    >>> brush_coats(0.6, 1.63), brush_coats(0.6, 1.45)
    (3, 4)

    Source
    ------
    OWN-ESTIMATE, as `brushed_coat_mm`.
    """
    wanted = _positive(thickness_mm, "thickness_mm", "mm")
    # A tenth of a coat more or less does not make another coat.
    return max(1, math.ceil(wanted / brushed_coat_mm(sg, grain_sg) - 0.1))


def gravity_for_coat(sg: float, share: float) -> float:
    """Specific gravity of a slop that leaves so much of the coat in the same dip; an estimate.

    Parameters
    ----------
    sg : float
        Specific gravity of the slop now.
    share : float
        The coat wanted by the coat there is, both dry.

    Notes
    -----
    The bisque draws in as much water as before, and what the slop held in that water stays as the
    coat: v / (p - v) of the water, with v the share of grain in the slop and p that in the coat, by
    volume. It is only as good as p, which `COAT_BULK_G_PER_CM3` estimates.

    Examples
    --------
    >>> round(gravity_for_coat(1.60, 0.55), 2), round(gravity_for_coat(1.45, 1), 2)
    (1.48, 1.45)
    """
    grain = USUAL_GRAIN_SG - 1
    packed = COAT_BULK_G_PER_CM3 / USUAL_GRAIN_SG
    held = (check_specific_gravity(sg) - 1) / grain
    if held >= packed:
        raise OutOfRange(f"a slop of SG {sg:g} is as dense as a coat.", "a number such as 1.6.")
    coat = _positive(share, "share", "") * held / (packed - held)
    return 1 + grain * packed * coat / (1 + coat)


def area_covered_m2(dry_g: float, thickness_mm: float) -> float:
    """Area a dry mass of glaze covers at a dry raw thickness, nothing lost. [m2], an estimate.

    Examples
    --------
    >>> round(area_covered_m2(1000, 0.5), 2)
    1.43

    Source
    ------
    OWN-ESTIMATE, as `COAT_BULK_G_PER_CM3`.
    """
    dry = _positive(dry_g, "dry_g", "g")
    return dry / (COAT_BULK_G_PER_CM3 * 1000 * _positive(thickness_mm, "thickness_mm", "mm"))
