"""One tile read straight from a SQLite file, for commands that must answer at once.

Loading the table classes takes longer than the whole of such a command. Whatever is not plain (no
SQLite, no file, an older or unknown revision, a locked file) is left to `database` and `reading`,
which also explain it; a test holds both ways of reading to the same records.
"""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import TypeVar
from urllib.parse import quote

from tiles.records import forms
from tiles.records.derived import analysed, layers_of
from tiles.records.revision import REVISION
from tiles.records.words import OF_FIT, TRIAL_GLAZE, name_key
from tiles.settings import sqlite_file

Row = sqlite3.Row
Found = TypeVar("Found")
MOST_OTHERS = 200
"""Older tiles of a glaze are not counted: 200 take a few hundredths of a second."""
_SHARING = f"""
    WITH alike AS (
        SELECT DISTINCT tile_id FROM area JOIN layer USING (area_id) WHERE glaze_id IN (
            SELECT glaze_id FROM layer JOIN area USING (area_id) WHERE tile_id = ?1
        )
    ), trial AS (
        SELECT tile_id FROM tile
        WHERE trial_of = ?3 OR trial_of IN (SELECT mark FROM tile WHERE tile_id IN alike)
    ), of_trial AS (
        SELECT tile_id FROM trial UNION
        SELECT tile_id FROM area JOIN layer USING (area_id) WHERE glaze_id IN (
            SELECT glaze_id FROM glaze JOIN layer USING (glaze_id) JOIN area USING (area_id)
            WHERE tile_id IN trial AND glaze.remark LIKE '{TRIAL_GLAZE}%'
        )
    ), own AS (
        SELECT firing_id FROM tile WHERE tile_id = ?1
    ), fired AS (
        SELECT firing_id FROM tile WHERE tile_id IN alike UNION SELECT firing_id FROM own
    ), of_body AS (
        SELECT tile_id FROM tile
        WHERE clay_body_id = (SELECT clay_body_id FROM tile WHERE tile_id = ?1) AND ?1 IN (
            SELECT tile_id FROM inspection JOIN defect USING (inspection_id)
            WHERE defect.defect IN {OF_FIT}
        )
    )
    SELECT tile.* FROM tile
    WHERE tile_id <> ?1 AND tile_id IN (SELECT tile_id FROM inspection) AND (
        tile_id IN of_trial OR tile_id IN alike OR tile_id IN of_body OR firing_id IN fired
    )
    ORDER BY
        CASE WHEN trial_of = ?3 THEN 0 WHEN tile_id IN alike OR tile_id IN of_trial THEN 1
        WHEN firing_id IN own THEN 2 WHEN tile_id IN of_body THEN 3 ELSE 4 END, tile_id DESC
    LIMIT ?2
"""

_INSPECTED = "SELECT * FROM tile WHERE tile_id IN (SELECT tile_id FROM inspection) LIMIT ?"


def find_record(url: str, mark: str) -> forms.TileRecord | None:
    """The record of one tile, or None when it must be looked for in the full way.

    Parameters
    ----------
    url : str
        From :func:`tiles.settings.database_url`.
    mark : str
        The tile; capitals do not matter.
    """

    def read(connection: _Connection) -> forms.TileRecord | None:
        row = _row(connection, mark)
        return row and _with_analyses(connection, [_tile(connection, row)])[0]

    return _once_open(url, read)


def find_others(url: str, mark: str) -> list[forms.TileRecord] | None:
    """The trials for a tile, the newest tiles that share a glaze with it, and those beside them.

    With those that share a glaze their trials, and all that have the trial recipe of one. Beside
    them: of its own firing first, of a fault of fit those of its body, then those of the firings
    of what shares a glaze.

    None when they must be looked for in full.

    Parameters
    ----------
    url : str
        From :func:`tiles.settings.database_url`.
    mark : str
        The tile; it is not among them.
    """

    def read(connection: _Connection) -> list[forms.TileRecord] | None:
        row = _row(connection, mark)
        if row is None:
            return None
        others = connection.execute(_SHARING, [row["tile_id"], MOST_OTHERS, row["mark"]])
        return _with_analyses(connection, [_tile(connection, each) for each in others])

    return _once_open(url, read)


def find_inspected(url: str, most: int) -> list[forms.TileRecord] | None:
    """Every inspected tile; none where there are more than ``most``.

    None when they must be looked for in full.
    """

    def read(connection: _Connection) -> list[forms.TileRecord]:
        rows = connection.execute(_INSPECTED, [most + 1]).fetchall()
        rows = rows if len(rows) <= most else []
        return _with_analyses(connection, [_tile(connection, each) for each in rows])

    return _once_open(url, read)


class _Connection(sqlite3.Connection):
    """One that remembers: most tiles share their body, firings and glazes with others."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self._known: dict[tuple[str, int], object] = {}

    def known(self, table: str, key: int | None, read: Callable[[], object]):
        """What a row points to, read once; None where it points to nothing."""
        if key is None:
            return None
        if (table, key) not in self._known:
            self._known[table, key] = read()
        return self._known[table, key]


def _once_open(url: str, read: Callable[[_Connection], Found]) -> Found | None:
    """What is read of the file; None where it cannot be, or its tables are of another revision."""
    file = sqlite_file(url)
    if file is None or not file.is_file():
        return None
    try:
        with closing(_open(file)) as connection:
            return read(connection) if _is_current(connection) else None
    except sqlite3.Error:
        return None


def _open(file: Path) -> _Connection:
    connection = sqlite3.connect(f"file:{quote(str(file))}?mode=ro", uri=True, factory=_Connection)
    connection.row_factory = Row
    connection.create_function("name_key", 1, name_key, deterministic=True)
    connection.execute("BEGIN")  # all that is read is seen as it was at one moment
    return connection


def _row(connection: _Connection, mark: str) -> Row | None:
    """The row of a tile; None when it is not there."""
    sought = "SELECT * FROM tile WHERE name_key(mark) = ?"
    return connection.execute(sought, [name_key(mark)]).fetchone()


def _is_current(connection: _Connection) -> bool:
    revision = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    return revision is not None and revision[0] == REVISION


def _with_analyses(
    connection: _Connection, records: list[forms.TileRecord]
) -> list[forms.TileRecord]:
    """The user's own analyses with their recipes, as `reading.read_tiles` has them."""
    layers = (layer for record in records for layer in layers_of(record))
    if any(layer.recipe for layer in layers) and (own := _own_materials(connection)):
        for record in records:
            analysed(record, own)
    return records


def _own_materials(connection: _Connection) -> tuple:
    """As `analyses.own_materials`."""
    rows = connection.execute(
        "SELECT * FROM material WHERE material_id IN (SELECT material_id FROM material_oxide) "
        "ORDER BY name"
    ).fetchall()
    if not rows:
        return ()
    from tiles.chemistry.materials import from_analysis
    from tiles.chemistry.own_materials import beside_shipped

    return beside_shipped(
        from_analysis(
            row["name"],
            _analysis(connection, row["material_id"]),
            loss_on_ignition_percent=row["loss_on_ignition_pct"] or 0.0,
            source=row["source"] or "",
        )
        for row in rows
    )


def _analysis(connection: _Connection, key: int) -> dict[str, float]:
    rows = _rows(connection, "material_oxide", "material_id", key, "material_oxide_id")
    return {row["oxide"]: row["weight_pct"] for row in rows}


def _tile(connection: _Connection, row: Row) -> forms.TileRecord:
    areas = list(_rows(connection, "area", "tile_id", row["tile_id"], "number"))
    clues = list(_rows(connection, "tile_clue", "tile_id", row["tile_id"], "tile_clue_id"))
    numbers = {area["area_id"]: area["number"] for area in areas}
    return forms.TileRecord.model_construct(
        **_picked(row, forms.TileRecord),
        body=_linked(connection, forms.BodyRecord, row["clay_body_id"], "clay_body"),
        bisque_firing=_firing(connection, row["bisque_firing_id"]),
        firing=_firing(connection, row["firing_id"]),
        areas=[_area(connection, area, clues) for area in areas],
        clues={each["clue"]: each["answer"] for each in clues if each["area_id"] is None},
        inspections=_inspections(connection, row["tile_id"], numbers),
        photos=[
            forms.PhotoRecord.model_construct(file=photo["file"], caption=photo["caption"])
            for photo in _rows(connection, "photo", "tile_id", row["tile_id"], "photo_id")
        ],
    )


def _rows(connection: _Connection, table: str, key: str, value: int, order: str):
    """Rows of a table; the names are our own, never what a person typed."""
    statement = f"SELECT * FROM {table} WHERE {key} = ? ORDER BY {order}"
    return connection.execute(statement, [value])


def _linked(connection: _Connection, form, key: int | None, table: str):
    """The one thing a row points to, as a record."""

    def read():
        (row,) = _rows(connection, table, f"{table}_id", key, f"{table}_id")
        return form.model_construct(**_picked(row, form))

    return connection.known(table, key, read)


def _picked(row: Row, form: type[forms.BaseModel]) -> dict:
    """The columns that the form has too, as it holds them."""
    fields = form.model_fields
    columns = zip(row.keys(), row, strict=True)
    return {name: _value(name, stored) for name, stored in columns if name in fields}


def _value(name: str, stored):
    """SQLite keeps a date as text and a yes or no as a number."""
    if stored is None:
        return None
    if name.endswith("_on") and isinstance(stored, str) and stored[:4].isdigit():
        return date.fromisoformat(stored)
    return bool(stored) if name.startswith("is_") else stored


def _firing(connection: _Connection, key: int | None) -> forms.FiringRecord | None:
    return connection.known("firing", key, lambda: _firing_of(connection, key))


def _firing_of(connection: _Connection, key: int) -> forms.FiringRecord:
    (row,) = _rows(connection, "firing", "firing_id", key, "firing_id")
    kiln = _linked(connection, forms.KilnRecord, row["kiln_id"], "kiln")
    cones = _rows(connection, "witness_cone", "firing_id", key, "witness_cone_id")
    return forms.FiringRecord.model_construct(
        **_picked(row, forms.FiringRecord),
        kiln=kiln.name if kiln else None,
        witness_cones=[
            forms.WitnessCone.model_construct(shelf=each["shelf"], cone=each["cone"])
            for each in cones
        ],
    )


def _area(connection: _Connection, row: Row, clues: list[Row]) -> forms.AreaRecord:
    layers = _rows(connection, "layer", "area_id", row["area_id"], "position")
    return forms.AreaRecord.model_construct(
        **_picked(row, forms.AreaRecord),
        layers=[_layer(connection, layer) for layer in layers],
        clues={c["clue"]: c["answer"] for c in clues if c["area_id"] == row["area_id"]},
    )


def _layer(connection: _Connection, row: Row) -> forms.LayerRecord:
    return forms.LayerRecord.model_construct(
        **_picked(row, forms.LayerRecord),
        glaze=_linked(connection, forms.GlazeRecord, row["glaze_id"], "glaze"),
        recipe=_recipe(connection, row["recipe_version_id"]),
        batch=_linked(connection, forms.BatchRecord, row["batch_id"], "batch"),
    )


def _recipe(connection: _Connection, key: int | None) -> forms.RecipeRecord | None:
    return connection.known("recipe_version", key, lambda: _recipe_of(connection, key))


def _recipe_of(connection: _Connection, key: int) -> forms.RecipeRecord:
    (row,) = _rows(connection, "recipe_version", "recipe_version_id", key, "version")
    lines = connection.execute(
        "SELECT material.name AS material, parts, is_addition FROM recipe_line "
        "JOIN material USING (material_id) WHERE recipe_version_id = ? ORDER BY position",
        [key],
    )
    return forms.RecipeRecord.model_construct(
        version=row["version"],
        lines=[
            forms.RecipeLine.model_construct(**_picked(line, forms.RecipeLine)) for line in lines
        ],
        note=row["note"],
    )


def _inspections(
    connection: _Connection, tile_id: int, numbers: dict[int, int]
) -> list[forms.InspectionRecord]:
    looks = _rows(connection, "inspection", "tile_id", tile_id, "inspected_on, inspection_id")
    return [
        forms.InspectionRecord.model_construct(
            **_picked(look, forms.InspectionRecord),
            defects=list(_defects(connection, look["inspection_id"], numbers)),
        )
        for look in looks
    ]


def _defects(
    connection: _Connection, inspection_id: int, numbers: dict[int, int]
) -> Iterator[forms.DefectSeen]:
    for seen in _rows(connection, "defect", "inspection_id", inspection_id, "defect_id"):
        yield forms.DefectSeen.model_construct(
            **_picked(seen, forms.DefectSeen), area=numbers.get(seen["area_id"])
        )
