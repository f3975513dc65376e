"""A temperature given where a cone is asked for: which cone it is, and where it belongs."""

import re

from tiles.chemistry._cone_chart import MEDIUM_RATE_C_PER_H, fahrenheit_to_celsius
from tiles.chemistry._cone_reading import ConeReading, cone_for
from tiles.errors import OutOfRange, UnknownCone

_TEMPERATURE = re.compile(
    r"(?:\^|cone\b)?\s*(\d{3,4})(?:[.,]0)?\s*(?:°|º|˚|deg\w*\.?|grad)?\s*"
    r"(c|f|celsius|fahrenheit|℃|℉)?",
    re.IGNORECASE,
)
_SCALES = {"c": "C", "℃": "C", "f": "F", "℉": "F"}
_COOLEST = 500
"""A lower number is no temperature of a kiln that bends a cone, in C or in F."""


def temperature_said(text: str) -> tuple[str, str] | None:
    """What is wrong with 1060 or 1060 °C as a cone, and what to do; None for no temperature.

    Without a unit both scales are told where both have such a cone, C first: 1200 C is mid range,
    and 1200 F a lustre firing, which is far rarer.

    Examples
    --------
    >>> temperature_said("1063 °C")[0]
    '1063 looks like a temperature, not a cone: 1063 C is cone 04 at 60 C/h without a hold.'
    >>> temperature_said("05")
    """
    found = _read(text)
    if not found:
        return None
    digits, unit = found
    known = [(scale, cone) for scale in (unit or "CF") if (cone := _cone(int(digits), scale))]
    message = f"{digits} looks like a temperature, not a cone"
    if not known:
        return f"{message}.", ""
    told = " or ".join(_told(digits, scale, cone) for scale, cone in known)
    scale = known[0][0]
    in_c = f"{fahrenheit_to_celsius(int(digits)):.0f}" if scale == "F" else digits
    return (
        f"{message}: {told} at {MEDIUM_RATE_C_PER_H:g} C/h without a hold.",
        f"{' or '.join(each.nearest for _, each in known)}; what the controller shows goes to "
        f"--peak-c {in_c} of the firing (another rate: 'tiles cone --temperature-"
        f"{scale.casefold()} {digits} --rate-c-per-h 100').",
    )


def refuse_temperatures(low: str, high: str) -> None:
    """Two ends of a range that are temperatures, as many labels have them, are told at once.

    Raises
    ------
    UnknownCone
        Both are, and there are such cones: names them.
    """
    (first, unit), (last, last_unit) = (_read(each) or ("", None) for each in (low, high))
    if not (first and last):
        return
    for scale in last_unit or unit or "CF":
        ends = [_cone(int(each), scale) for each in (first, last)]
        if all(ends):
            told = " and ".join(
                _told(each, scale, end) for each, end in zip((first, last), ends, strict=True)
            )
            raise UnknownCone(
                f"{low.strip()} to {high.strip()} look like temperatures, not cones: {told} at "
                f"{MEDIUM_RATE_C_PER_H:g} C/h without a hold.",
                f"{ends[0].nearest}-{ends[1].nearest}, or the cones that the label or its maker "
                "names.",
                field="cone",
                value=f"{low}-{high}",
            )


def _read(text: str) -> tuple[str, str | None] | None:
    """The digits of a temperature and its scale, None where it names none."""
    found = _TEMPERATURE.fullmatch(text.strip())
    if not found or int(found[1]) < _COOLEST:
        return None
    return found[1], _SCALES.get((found[2] or "")[:1].casefold())


def _cone(number: int, scale: str) -> ConeReading | None:
    try:
        return cone_for(number if scale == "C" else fahrenheit_to_celsius(number))
    except OutOfRange:
        return None


def _told(digits: str, scale: str, found: ConeReading) -> str:
    if found.cooler == found.hotter:
        return f"{digits} {scale} is cone {found.cooler}"
    return f"{digits} {scale} is about cone {found.nearest} ({found.cooler} to {found.hotter})"
