"""A fault of a glaze, seen where no glaze is on record."""

from collections.abc import Iterator

from tiles.records.derived import all_seen
from tiles.records.forms import TileRecord

OF_A_GLAZE = frozenset(
    "crazing,shivering,crawling,pinholes,blisters,running,unwanted matt,cloudiness,"
    "metal marking".split(",")
)
"""What only a layer on the clay can have. Bare clay may bloat, crack, be underfired or off its
colour, and show specks (common practice, no source)."""
HINT_OF_BARE = (
    "its glaze first (--glaze in tiles log or tiles change), an area that has one, or --yes if "
    "nobody knows its glaze."
)


def bare_questions(record: TileRecord) -> list[str]:
    """One sentence for each place that has no glaze and was seen with a fault of one."""
    found: dict[str, dict[str, None]] = {}
    for defect, where in _on_bare_clay(record):
        found.setdefault(where, {})[defect] = None
    return [
        f"{' and '.join(defects)} {'was' if len(defects) == 1 else 'were'} seen{where}."
        for where, defects in found.items()
    ]


def _on_bare_clay(record: TileRecord) -> Iterator[tuple[str, str]]:
    """Each such fault, and what to say of its place."""
    bare = {area.number for area in record.areas if not area.layers}
    for seen in all_seen(record):
        if seen.defect not in OF_A_GLAZE:
            continue
        if len(bare) == len(record.areas):
            yield seen.defect, ", but no glaze is on record"
        elif seen.area in bare:
            yield seen.defect, f" on area {seen.area}, but no glaze is on record there"
