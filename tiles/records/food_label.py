"""What a label says about food, and the cones it says that of: the label's claim, never ours."""

import re

from tiles.chemistry.cones import read_cone, step, steps_outside
from tiles.errors import UnknownCone

_NAME = r"[0o]?\d{1,2}(?:½|\.5| 1/2)?"
# "cone 06-04", "^05", "cones 5 to 6"; a number alone is a cone where it begins with a zero.
_CONES = re.compile(
    rf"(?:\bcones?\b|\^|\bc(?=[0o]?\d)|(?<![\w.])(?=0\d))\s*({_NAME})"
    rf"(?:\s*(?:-|–|/|\bto\b|\bor\b|\band\b)\s*(?:\bcones?\b|\^|c)?\s*({_NAME}))?(?![\w%]|[./]\d)",
    re.IGNORECASE,
)


def cones_named(label: str) -> tuple[str, str] | None:
    """The cooler and the hotter end of the cones that a label speaks of; None where of none.

    Examples
    --------
    >>> cones_named("food safe when fired to cone 05"), cones_named("dinnerware safe, 06-04")
    (('05', '05'), ('06', '04'))
    >>> cones_named("food safe")
    """
    found = []
    for match in _CONES.finditer(label):
        try:
            found += [read_cone(text) for text in match.groups() if text]
        except UnknownCone:
            continue
    return (min(found, key=step), max(found, key=step)) if found else None


def is_met(label: str, cone: str | None) -> bool:
    """Whether a tile was fired as a label asks that speaks of food; True where it asks nothing.

    A cone that nobody read meets no condition.
    """
    asked = cones_named(label)
    if asked is None:
        return True
    return cone is not None and steps_outside(cone, *asked) == 0
