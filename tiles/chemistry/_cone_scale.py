"""The ordered scale of pyrometric cones: names in, positions out. Use it through ``cones``."""

import re
from functools import lru_cache

from tiles.errors import InvalidValue, UnknownCone

CONES = tuple(f"0{n}" for n in range(22, 0, -1)) + tuple(str(n) for n in range(1, 15))
"""Every whole cone, from the coolest to the hottest. There is no cone 0."""

HALF = "½"

BAND_LIMITS = (("low fire", "01"), ("mid range", "7"), ("high fire", "14"))
"""Each band with its hottest whole cone (common practice, no source; potters draw it loosely)."""

_STEP_OF = {cone: float(place) for place, cone in enumerate(CONES)}
_PREFIX = re.compile(r"^(?:\^|[∆△Δδ]|cone\b|cone(?=\s*[0o\d])|c)\s*[./:]?\s*")
_NAME = re.compile(r"^([0o]?[\do]{1,2})(\s*½|\.5|(?:\s+|\s*-\s*)1/2)?$")
_LOOK_ALIKES = str.maketrans({"–": "-", "—": "-", "−": "-", "‐": "-", "\u2044": "/"}) | {
    0xFEE0 + code: code  # full-width letters and digits
    for code in range(0x21, 0x7F)
}
_SCALE_HINT = "a cone from 022 to 01 or 1 to 14, as text, such as 05, 6 or 5½."


def read_cone(text: str) -> str:
    """The cone's usual name, from the ways potters write it.

    A name is never read as a number: 5 is cone 5 and 05 is cone 05, nine steps cooler.

    Parameters
    ----------
    text : str
        Such as ``05``, ``^05``, ``cone 05``, ``c05``, ``5 1/2``, ``5.5``. A letter o is read as
        the zero it stands for.

    Returns
    -------
    str
        One of `CONES`, or a half step: ``5½`` lies between 5 and 6, ``05½`` between 06 and 05.

    Raises
    ------
    UnknownCone
        Not a cone on the scale 022 ... 01, 1 ... 14, or not text.

    Examples
    --------
    >>> read_cone("^05"), read_cone("Cone 5"), read_cone("5 1/2")
    ('05', '5', '5½')
    """
    if not isinstance(text, str):
        raise UnknownCone(
            f"A cone is a name, and {text!r} is not text: as a number 05 and 5 look alike.",
            'write the cone as text, "05" or "5".',
            field="cone",
            value=text,
        )
    return _read_text(text)


def for_sheets(name: str) -> str:
    """A cone as it is written to a CSV: a spreadsheet turns a bare 05 into 5.

    Examples
    --------
    >>> for_sheets("05"), for_sheets("06 to 04")
    ('^05', '06 to 04')
    """
    return f"^{name}" if name.isdecimal() else name


@lru_cache(maxsize=4096)
def _read_text(text: str) -> str:
    plain = text.translate(_LOOK_ALIKES).strip().casefold()
    found = _NAME.match(_PREFIX.sub("", plain, count=1))
    if not found:
        raise _unknown(text)
    whole = found[1].replace("o", "0")
    if whole not in _STEP_OF:
        raise _unknown(text)
    if not found[2]:
        return whole
    if whole in ("022", "14"):
        raise _unknown(text)
    return whole + HALF


HOTTEST_C = 1450
"""Above it a temperature is in Fahrenheit: no studio kiln gets hotter in C (estimate)."""
_SEGER = re.compile(
    r"(?:(?:sk|seger|seger[ -]?(?:cone|kegel))[ .-]*0?\d{1,2}\s*a?|(?:cone\s*|\^)?0?\d{1,2}\s*a)",
    re.IGNORECASE,
)
"""As they are printed on jars: SK 6a, 05a (common practice, no source); no cone here has an a."""
_BETWEEN = re.compile(r"\s*(?:-|–|/|\bto\b)\s*")


def _unknown(text: str) -> UnknownCone:
    from tiles.chemistry._cone_of_set_point import temperature_said  # which reads this scale

    digits = text.strip().lstrip("^")
    hint = _SCALE_HINT
    if not digits:
        message = "The cone is empty."
    elif digits.isdecimal() and set(digits) == {"0"}:
        message = f"There is no cone {digits}: the scale goes from 01 straight to 1."
    elif _SEGER.fullmatch(text.strip()):
        message = (
            f"{text.strip()!r} is of the Seger scale, where a number is another heat than here."
        )
        hint = "its temperature: 'tiles cone --temperature-c C' names the cone that is."
    elif heat := temperature_said(text):
        message, hint = heat[0], heat[1] or hint
    elif all(end in _STEP_OF for end in _BETWEEN.split(digits)):
        message = f"{text.strip()!r} is more than one cone."
        hint = "the one it came nearest to, or the half step between, such as 5½."
    elif re.fullmatch(r"\d+\.0+", digits):
        message = f"{digits} is a number, not a cone name: a spreadsheet turns 05 into 5."
    else:
        message = f"{text.strip()!r} is not a pyrometric cone."
    return UnknownCone(message, hint, field="cone", value=text)


def step(cone: str) -> float:
    """Place of a cone on the scale, cone 022 being 0; use it to sort cones. [cone steps].

    Raises
    ------
    UnknownCone
        As `read_cone`.

    Examples
    --------
    >>> step("5") - step("05")
    9.0
    >>> sorted(["5", "05", "5½", "04", "05½"], key=step)
    ['05½', '05', '04', '5', '5½']
    """
    name = read_cone(cone)
    if not name.endswith(HALF):
        return _STEP_OF[name]
    whole = name.removesuffix(HALF)
    # 05½ is written from its hotter neighbour (between 06 and 05), 5½ from its cooler one.
    return _STEP_OF[whole] + (-0.5 if whole.startswith("0") else 0.5)


def with_other_zero(cone: str) -> str | None:
    """Cone 5 for 05 and 05 for 5, which differ by one key; None where there is no such cone.

    Examples
    --------
    >>> with_other_zero("05"), with_other_zero("5½"), with_other_zero("022")
    ('5', '05½', None)
    """
    name = read_cone(cone)
    other = name.removeprefix("0") if name.startswith("0") else f"0{name}"
    return other if other.removesuffix(HALF) in CONES else None


def cone_at(position: float) -> str:
    """The whole or half cone nearest to a place on the scale: the inverse of `step`.

    Between 01 and 1 there is no half step: the nearer whole cone is given, 1 when midway.

    Raises
    ------
    UnknownCone
        A place off the scale by more than a quarter step.

    Examples
    --------
    >>> cone_at(step("05")), cone_at(step("5") + 0.4)
    ('05', '5½')
    """
    doubled = round(2 * position)
    if not 0 <= doubled <= 2 * (len(CONES) - 1):
        raise UnknownCone(f"No cone stands at step {position:g}.", _SCALE_HINT, field="cone")
    below, is_half = divmod(doubled, 2)
    if not is_half:
        return CONES[below]
    if CONES[below] == "01":
        return "01" if position < below + 0.5 else "1"
    hotter = CONES[below + 1]
    return (hotter if hotter.startswith("0") else CONES[below]) + HALF


def steps_between(cooler: str, hotter: str) -> float:
    """Steps from the first cone up to the second; negative when the second is cooler.

    Examples
    --------
    >>> steps_between("04", "4"), steps_between("6", "5½")
    (7.0, -0.5)
    """
    return step(hotter) - step(cooler)


def steps_outside(cone: str, low: str | None, high: str | None) -> float:
    """Steps a cone lies outside a range: above 0 too hot, below 0 too cool, 0 inside.

    Parameters
    ----------
    cone : str
        The cone asked about.
    low, high : str or None
        Coolest and hottest cone of the range, both included; None leaves that side open.

    Raises
    ------
    UnknownCone
        A cone cannot be read.
    InvalidValue
        ``low`` is hotter than ``high``.

    Examples
    --------
    >>> steps_outside("5", "06", "04"), steps_outside("08", "06", "04")
    (8.0, -2.0)
    >>> steps_outside("5", "06", None)
    0.0
    """
    place = step(cone)
    if low is not None and high is not None and step(low) > step(high):
        raise InvalidValue(
            f"The range from cone {low} to cone {high} runs backwards: {low} is the hotter one.",
            f"the cooler cone first: {high} to {low}.",
            field="cone",
            value=f"{low}-{high}",
        )
    if high is not None and place > step(high):
        return place - step(high)
    if low is not None and place < step(low):
        return place - step(low)
    return 0.0


def in_range(cone: str, low: str | None, high: str | None) -> bool:
    """Whether a cone lies from ``low`` to ``high``, both included; see `steps_outside`.

    Examples
    --------
    >>> in_range("05", "06", "04"), in_range("5", "06", "04")
    (True, False)
    """
    return steps_outside(cone, low, high) == 0


def cones_between(low: str, high: str) -> list[str]:
    """Every whole and half cone from ``low`` to ``high``, both included, coolest first.

    Examples
    --------
    >>> cones_between("02", "2")
    ['02', '01½', '01', '1', '1½', '2']
    """
    steps_outside(low, low, high)  # refuses a range that runs backwards
    doubled = range(round(2 * step(low)), round(2 * step(high)) + 1)
    return list(dict.fromkeys(cone_at(place / 2) for place in doubled))


def band(cone: str) -> str:
    """The potter's name for a cone's part of the scale: low fire, mid range or high fire.

    Notes
    -----
    Low fire is taken up to cone 01, mid range from 1 to 7, high fire from 8; a half step belongs
    with its cooler neighbour, except that 01 and 1 have none between them. Most low-fire work is
    fired from 08 to 04 and most mid-range work from 4 to 6. Common practice, no source.

    Examples
    --------
    >>> band("05"), band("5"), band("10")
    ('low fire', 'mid range', 'high fire')
    """
    place = int(step(cone))
    return next(name for name, hottest in BAND_LIMITS if place <= step(hottest))
