"""What is possible but unlikely of a coat of glaze."""

import re
from fractions import Fraction

from tiles.records.forms import TileRecord

THICKEST_COAT_MM = 3.0
"""Brushed coats are 0.3 to 2 mm dry, trailed ones below 3 (common practice, no source)."""
THINNEST_COAT_MM = {"the dry coat": 0.1, "the fired coat": 0.05}
"""What is thinner is no coat that can be measured, and most often one in inches (an estimate)."""
MM_IN_AN_INCH = 25.4
_INCHES = re.compile(
    r"(?P<number>\d+\s*/\s*[1-9]\d*|\d*\.?\d+)\s*"
    r"(?P<unit>in\.?|inch(?:es)?|[\"\u201d\u2033]|'')?",
    re.IGNORECASE,
)


def inches_in_mm(text: str) -> str | None:
    """The mm of a thickness that is typed in inches or as a fraction; None where it is neither.

    Examples
    --------
    >>> inches_in_mm('1/16"'), inches_in_mm("0.06 in"), inches_in_mm("1/32"), inches_in_mm("0.9")
    ('1.6', '1.5', '0.8', None)
    """
    match = _INCHES.fullmatch(text.strip())
    if not match or not (match["unit"] or "/" in match["number"]):
        return None
    return _mm(float(Fraction("".join(match["number"].split()))))


def _mm(inches: float) -> str:
    return f"{inches * MM_IN_AN_INCH:.1f}"


def coat_questions(record: TileRecord) -> list[str]:
    """A coat thicker than glaze is put on, 8 for 0.8 most often, or thinner: in inches."""
    return [
        f"{what} of {layer.glaze.name} {thickness:g} mm {how}"
        for area in record.areas
        for layer in area.layers
        for what, thickness in [
            ("the dry coat", layer.thickness_mm),
            ("the fired coat", layer.fired_thickness_mm),
        ]
        if thickness and (how := _how_odd(what, thickness))
    ]


def _how_odd(what: str, thickness: float) -> str:
    if thickness > THICKEST_COAT_MM:
        return "is far thicker than a coat of glaze (0.3 to 2 mm dry)."
    if thickness < THINNEST_COAT_MM[what]:
        meant = f"{thickness:g} inch would be {_mm(thickness)} mm"
        return f"is far thinner than a coat of glaze (0.3 to 2 mm dry); {meant}."
    return ""
