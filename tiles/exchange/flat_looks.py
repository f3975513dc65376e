"""Rows of one tile that are several looks at it: the same mark and area, each with its own day."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

from tiles.errors import InvalidValue
from tiles.exchange.flat_columns import FAULT_WORDS, columns
from tiles.exchange.flat_faults import FAULTS
from tiles.records.words import same_value

if TYPE_CHECKING:
    from tiles.exchange.flat_build import Row


def by_look(
    rows: "Sequence[Row]", day_of: "Callable[[Row], date | None]"
) -> "list[dict[int, Row]]":
    """The rows of each look at a tile by their areas, in the order of the days.

    Parameters
    ----------
    rows : sequence of Row
        Those of one mark.
    day_of : callable
        The day of the look that a row tells of; None where it tells of none.

    Returns
    -------
    list of dict
        Empty where the rows are no several looks: where no area has two of them, or where an area
        has two of one day, or one without any.

    Raises
    ------
    InvalidValue
        One of several looks leaves out an area: nobody knows whether it was looked at then.
    """
    told = {row.cells["area"] for row in rows if "area" in row.cells}
    areas = told or {1}
    looks: dict[date | None, dict[int, Row]] = {}
    for row in rows:
        if len(areas) > 1 and "area" not in row.cells:
            return []
        seen, area = looks.setdefault(day_of(row), {}), row.cells.get("area", min(areas))
        if area in seen:
            return []
        seen[area] = row
    if None in looks or len(rows) == len(areas):
        return []
    for day, seen in looks.items():
        if missing := areas - seen.keys():
            raise _refuse_part(day, next(iter(seen.values())), min(missing))
    return [looks[day] for day in sorted(looks)]


def _refuse_part(day: date, row: "Row", missing: int) -> InvalidValue:
    return row.refuse(
        "area",
        f"the look of {day} at {row.cells.get('mark')} has no row for area {missing}",
        "a row for each area, with none where there was nothing to see; or another mark if it is "
        "another tile.",
    )


def of_areas(looks: "Iterable[dict[int, Row]]") -> "dict[int, Row]":
    """One row for each area: what all of its rows tell, but for what was seen and when.

    Raises
    ------
    InvalidValue
        A row says otherwise than an earlier one of its area.
    """
    found: dict[int, Row] = {}
    each = [(area, row) for look in looks for area, row in look.items()]
    for area, row in sorted(each, key=lambda told: told[1].number):
        facts = {header: told for header, told in row.cells.items() if header not in _of_look()}
        first = found.setdefault(area, replace(row, cells=facts))
        for header, value in facts.items():
            if not same_value(first.cells.setdefault(header, value), value):
                raise row.refuse(
                    header,
                    f"{header} is {value!s}, but row {first.number} of {row.cells.get('mark')} "
                    f"says {first.cells[header]!s}",
                    "blank or the same if this is a later look, another mark if it is another "
                    "tile.",
                )
    return found


@cache
def _of_look() -> frozenset[str]:
    """The columns about what was seen, and when."""
    of_look = {each.name for each in columns() if each.part in ("look", "defect")}
    return frozenset({FAULTS, FAULT_WORDS, *of_look})
