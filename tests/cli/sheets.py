"""A small flat CSV, and what of it is on record."""

import json

HEADER = "mark,area,body,glaze,coats,cone_reached,inspected_on,defect_crawling"
GOOD = "M-1,1,red earthenware,pond green,3,05,2026-03-04,severe"
BAD = "M-2,1,red earthenware,pond green,many,05,2026-03-04,none"


def marks(tiles) -> list[str]:
    """The marks on record; none where there is no database."""
    return [row["mark"] for row in json.loads(tiles("find", "--json").out or "[]")]
