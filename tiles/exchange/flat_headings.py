"""What the headings of a home-made sheet most often stand for. Common practice, no source."""

import re

from tiles.exchange.flat_columns import defect_column
from tiles.records import words

_OF_FAULTS = "faults: crawling; severe crazing; none"
_OF_PUPILS = "none: leave pupils' names out"
_MOST = {
    "mark": "no, nr, number, tile, tile no, tile number, id, code, test, test no",
    "body": "body, clay, clay body, clay type",
    "glaze": "glaze, glaze name, top glaze, jar",
    "glaze_colour": "colour, color, glaze colour, glaze color",
    "under_glaze": "under, underglaze, slip, engobe, base coat",
    "over_glaze": "over, overglaze",
    "coats": "coats, no of coats",
    "thickness_mm": "mm, thick, thickness",
    "method": "how applied, application, applied",
    "cone_reached": "cone, fired to, cone fired, actual cone, witness cone",
    "target_cone": "target, set to, programme, program",
    "bisque_cone": "bisque, bisq, biscuit",
    "bisque_peak_c, in C": "bisque f, bisque c, bisque temp, bisque temperature",
    "peak_c, in C": "temp, top temp, temperature, peak, max temp",
    "hold_min": "hold, soak",
    "firing": "firing, load, firing no, kiln load",
    "fired_on": "date, date fired, fired, date out, unloaded",
    "inspected_on": "looked, looked at, date looked, seen on",
    "kiln": "kiln, which kiln",
    "shelf": "shelf, position, place, level",
    "note": "note, notes, remarks, comment, comments",
    _OF_FAULTS: "result, results, what happened, fault, faults, defect, defects, outcome",
    _OF_PUPILS: "who, student, students, pupil, name, initials, made by",
}
"""What to take for it, and the headings that people give it."""
_MEANT = {heading: column for column, named in _MOST.items() for heading in named.split(", ")}
_WORD = re.compile(r"[^\W\d_]+")


def most_often(heading: str) -> str:
    """The column, or what to do, that a person's own heading most often stands for; "" for none.

    Examples
    --------
    >>> most_often("Clay"), most_often("Crawling"), most_often("Glaze brand/no")
    ('body', 'defect_crawling', 'glaze')
    """
    said = _WORD.findall(heading.casefold())
    if " ".join(said) in words.DEFECTS:
        return defect_column(" ".join(said))
    for many in range(len(said), 0, -1):
        for at in range(len(said) - many + 1):
            if meant := _MEANT.get(" ".join(said[at : at + many])):
                return meant
    return ""
