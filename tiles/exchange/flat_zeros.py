"""Cone 5 beside 05 in one sheet: a spreadsheet has taken the 0 from some of its cells, perhaps."""

from collections import defaultdict

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.chemistry.cones import with_other_zero
from tiles.errors import Questioned
from tiles.exchange.flat_build import Row
from tiles.exchange.flat_columns import MAIN, PLACES
from tiles.exchange.flat_csv import Reading
from tiles.records import models
from tiles.records.words import name_key

_OF_TILE = {"cone_reached": models.Tile.cone_reached, "bisque_cone": models.Tile.bisque_cone}
_GLAZES = tuple(f"{place}_glaze" if place else "glaze" for place in (MAIN, *PLACES))


def ask_of_zeros(session: Session, sheet: Reading) -> None:
    """Refuse the rows with a cone that others of their clay or glaze have with a 0.

    Left out are rows whose clay or label tells, in the sheet or on record, a low cone from a high
    one (those are asked about by that), and tiles that are on record with that cone.
    """
    for column, stored in _OF_TILE.items():
        there = [row for row in sheet.readable if column in row.cells]
        by_name: dict[tuple[str, str], dict[str, list[int]]] = defaultdict(dict)
        for row in there:
            for part in ("body", "glaze"):
                if name := row.cells.get(part):
                    cones = by_name[part, name_key(name)]
                    cones.setdefault(row.cells[column], []).append(row.number)
        odd = {
            number: cone
            for cones in by_name.values()
            for cone, numbers in cones.items()
            if not cone.startswith("0") and with_other_zero(cone) in cones
            for number in numbers
        }
        if odd:
            told, known = _told_on_record(session), _cones_on_record(session, stored)
            sheet.refuse(
                _question(sheet.source, row.number, column, odd[row.number])
                for row in there
                if row.number in odd
                and not _tells(row, told)
                and known.get(name_key(row.cells.get("mark", ""))) != odd[row.number]
            )


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


def _cones_on_record(session: Session, column) -> dict[str, str]:
    rows = session.execute(select(models.Tile.mark, column).where(column.is_not(None)))
    return {name_key(mark): cone for mark, cone in rows}
