"""What a label says about food, and the cones it says that of: the label's claim, never ours."""

import re

from tiles.chemistry.cones import CONES, read_cone, step, steps_outside
from tiles.errors import UnknownCone

_NAME = r"[0o]?\d{1,2}(?:½|\.5| 1/2)?"
# "cone 06-04", "^05", "cones 5 to 6"; a number alone is a cone where it begins with a zero.
_RANGE = (
    rf"(?:\bcones?\b|\^|\bc(?=[0o]?\d)|(?<![\w.])(?=0\d))\s*(?P<one>{_NAME})"
    r"(?:\s*(?:-|–|/|\bto\b|\bthrough\b|\bor\b|\band\b)\s*(?:\bcones?\b|\^|c)?\s*"
    rf"(?P<other>{_NAME}))?(?![\w%]|[./]\d)"
)
_LEAST = r"at least|at or above|min(?:imum|\.)?|not? (?:cooler|lower|less) than|not (?:below|under)"
_MOST = (
    r"up to|at most|at or below|max(?:imum|\.)?|not? (?:hotter|higher|more) than|not (?:above|over)"
)
_UP = (
    r"\+(?!\s*[/-])|(?:or|and|&) (?:hotter|higher|above|over|up|upwards?|more)\b"
    r"|min(?:imum)?\b|upwards?\b"
)
_DOWN = r"(?:or|and|&) (?:cooler|lower|below|under|less|down)\b|max(?:imum)?\b"
_CONES = re.compile(
    rf"(?:\b(?:(?P<least>{_LEAST})|(?P<most>{_MOST})|(?P<start>from))\s*)?"
    rf"{_RANGE}(?:\s*(?:(?P<up>{_UP})|(?P<down>{_DOWN})))?",
    re.IGNORECASE,
)
_HERE = "\N{REPLACEMENT CHARACTER}"
_UNCLEAR = re.compile(
    r"\b(?:not|never|cannot|unless|except|hotter|cooler|higher|lower|above|at least|at most|"
    rf"(?<!\d )min(?:imum)?|max(?:imum)?)\b|n't\b|\b(?:over|under|below|beyond|until)\s*{_HERE}",
    re.IGNORECASE,
)
"""Words around the cones that may turn what they say: such a label is quoted and not judged."""


def cones_named(label: str) -> tuple[str, str] | None:
    """The cooler and the hotter end of the cones that a label speaks of.

    None where it speaks of none, or not plainly: "not at cone 06", "fired above cone 05".

    Examples
    --------
    >>> cones_named("food safe when fired to cone 05"), cones_named("dinnerware safe, 06-04")
    (('05', '05'), ('06', '04'))
    >>> cones_named("food safe at cone 05 or hotter")
    ('05', '14')
    >>> cones_named("food safe")
    """
    text = " ".join(label.split())
    if _UNCLEAR.search(_CONES.sub(_HERE, text)):
        return None
    found = []
    for match in _CONES.finditer(text):
        try:
            found += [read_cone(name) for name in (match["one"], match["other"]) if name]
        except UnknownCone:
            continue
        if match["least"] or match["up"]:
            found.append(CONES[-1])
        elif match["most"] or match["down"]:
            found.append(CONES[0])
        elif match["start"] and not match["other"]:
            return None
    return (min(found, key=step), max(found, key=step)) if found else None


def is_met(label: str, cone: str | None) -> bool:
    """Whether a tile was fired as a label asks that speaks of food; True where it asks nothing.

    A cone that nobody read meets no condition.
    """
    asked = cones_named(label)
    if asked is None:
        return True
    return cone is not None and steps_outside(cone, *asked) == 0
