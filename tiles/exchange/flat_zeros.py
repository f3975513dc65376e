"""Cone 5 beside 05 in one sheet: a spreadsheet has taken the 0 from some of its cells, perhaps."""

from collections import defaultdict
from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.chemistry.cones import with_other_zero
from tiles.errors import Questioned
from tiles.exchange.flat_build import Row
from tiles.exchange.flat_columns import MAIN, PLACES, header_of
from tiles.exchange.flat_csv import Reading
from tiles.records import models
from tiles.records.words import name_key

_CONES = (("cone_reached", "target_cone"), ("bisque_cone", "bisque_target_cone"))
"""The tile's own reading, and where it has none what its kiln was set for."""
_GLAZES = tuple(header_of("glaze", "name", place) for place in (MAIN, *PLACES))


def ask_of_zeros(session: Session, sheet: Reading) -> None:
    """Refuse the rows with a cone that others of their clay or glaze have with a 0.

    Left out are rows whose clay or label tells, in the sheet or on record, a low cone from a high
    one (those are asked about by that), and tiles that are on record with that cone.
    """
    for columns in _CONES:
        there = {
            row.number: (row, next(each for each in columns if each in row.cells))
            for row in sheet.readable
            if any(each in row.cells for each in columns)
        }
        odd = _odd(row.cells | {"cone": row.cells[column], "row": row.number}
                   for row, column in there.values())  # fmt: skip
        if odd:
            told, known = _told_on_record(session), _cones_on_record(session, columns[0])
            sheet.refuse(
                _question(sheet.source, number, there[number][1], cone)
                for number, cone in sorted(odd.items())
                if not _tells(there[number][0], told)
                and cone not in known[name_key(there[number][0].cells.get("mark", ""))]
            )


def _odd(rows: Iterable[dict]) -> dict[int, str]:
    """The rows of a cone without a 0 that stands with one beside it, by number."""
    by_name: dict[tuple[str, str], dict[str, list[int]]] = defaultdict(dict)
    for row in rows:
        for part in ("body", "glaze"):
            if name := row.get(part):
                by_name[part, name_key(name)].setdefault(row["cone"], []).append(row["row"])
    return {
        number: cone
        for cones in by_name.values()
        for cone, numbers in cones.items()
        if not cone.startswith("0") and with_other_zero(cone) in cones
        for number in numbers
    }


def _question(source: str, row: int, column: str, cone: str) -> Questioned:
    meant = with_other_zero(cone)
    what = "bisque cone" if column.startswith("bisque") else "cone"
    return Questioned(
        f"{what} {cone} stands here and {meant} on other rows of the same clay or glaze, and "
        f"nothing tells which it is for ({source}, row {row}, column {column}).",
        f"^{meant} there if the 0 was lost, or --yes if both are right.",
        field=column,
        value=cone,
        row=row,
    )


def _tells(row: Row, told: set[tuple[str, str]]) -> bool:
    """Whether the kind of the clay, or a label with two ends, is given or on record."""
    cells = row.cells
    if "body_kind" in cells or ("body", name_key(cells.get("body", ""))) in told:
        return True
    ends = ((cells.get(f"{each}_cone_low"), cells.get(f"{each}_cone_high"))
            for each in ("body", *_GLAZES))  # fmt: skip
    if any(low and high and low != high for low, high in ends):
        return True
    return any(("glaze", name_key(cells.get(each, ""))) in told for each in _GLAZES)


def _told_on_record(session: Session) -> set[tuple[str, str]]:
    body, glaze = models.ClayBody, models.Glaze
    bodies = select(body.name).where(body.kind.is_not(None) | (body.cone_low != body.cone_high))
    glazes = select(glaze.name).where(glaze.cone_low != glaze.cone_high)
    names = (("body", session.scalars(bodies)), ("glaze", session.scalars(glazes)))
    return {(part, name_key(name)) for part, found in names for name in found}


def _cones_on_record(session: Session, column: str) -> dict[str, set[str | None]]:
    """The cones of each tile on record, its own and that of its firing, by mark."""
    tile, of = models.Tile, "bisque_firing" if column == "bisque_cone" else "firing"
    cones = select(tile.mark, getattr(tile, column), models.Firing.target_cone)
    known: dict[str, set[str | None]] = defaultdict(set)
    for mark, own, target in session.execute(cones.outerjoin(getattr(tile, of))):
        known[name_key(mark)] |= {own, target}
    return known
