"""From the sample's CSV files to checked records."""

from collections import defaultdict
from pathlib import Path
from typing import NamedTuple

from sample_db.rows import FOLDER, Row, by, read_rows
from sample_db.tile_rows import Library, read_tiles
from tiles.errors import InvalidValue
from tiles.records import forms


class Sample(NamedTuple):
    """All that the sample holds, ready to be put on record in this order."""

    bodies: list[forms.BodyRecord]
    glazes: list[forms.GlazeRecord]
    recipes: list[tuple[str, forms.RecipeRecord]]
    kilns: list[tuple[str, str | None]]
    firings: list[forms.FiringRecord]
    tiles: list[forms.TileRecord]
    batches: list[tuple[str, forms.BatchRecord]]
    confirmed: set[str]


def read_records(folder: Path = FOLDER) -> Sample:
    """Read and check every file of the sample.

    Parameters
    ----------
    folder : Path
        Where the CSV files lie; by default beside this script.

    Returns
    -------
    Sample
        Records with everything they name filled in. ``recipes`` and ``batches`` carry the name
        of their glaze, ``kilns`` their remark and ``confirmed`` the marks whose unlikely
        cone really was so.

    Raises
    ------
    InvalidValue, UnknownName, UnknownCone
        The first thing that is wrong, with its file and row.
    """
    bodies = _read_all(forms.BodyRecord, read_rows(folder, "bodies.csv"))
    glazes = _read_all(forms.GlazeRecord, read_rows(folder, "glazes.csv"))
    recipes = _read_recipes(read_rows(folder, "recipes.csv"))
    firings = _read_firings(folder)
    batch_rows = read_rows(folder, "batches.csv")
    batches = _read_all(forms.BatchRecord, batch_rows, "glaze")
    batches = [(row.get("glaze"), batch) for row, batch in zip(batch_rows, batches, strict=True)]
    library = Library(
        {body.name: body for body in bodies},
        {glaze.name: glaze for glaze in glazes},
        {(glaze, recipe.version): recipe for glaze, recipe in recipes},
        {firing.name: firing for firing in firings},
        {(glaze, batch.name): batch for glaze, batch in batches},
    )
    kilns = [(row.get("name"), row.get("remark")) for row in read_rows(folder, "kilns.csv")]
    tiles, confirmed = read_tiles(folder, library)
    return Sample(bodies, glazes, recipes, kilns, firings, tiles, batches, confirmed)


def _read_all(form: type[forms.BaseModel], rows: list[Row], *leave_out: str) -> list:
    records = [forms.read(form, row.without(*leave_out), row.where) for row in rows]
    names = [record.name for record in records]
    for row, name in zip(rows, names, strict=True):
        if names.count(name) > 1:
            raise InvalidValue(f"{name!r} is listed twice ({row.where}).", "one row for each.")
    return records


def _read_recipes(rows: list[Row]) -> list[tuple[str, forms.RecipeRecord]]:
    versions: dict[tuple, list[Row]] = defaultdict(list)
    for row in rows:
        versions[row.get("glaze"), row.get("version")].append(row)
    recipes = []
    for (glaze, version), lines in versions.items():
        values = {
            "version": version,
            "lines": [line.only("material", "parts", "is_addition") for line in lines],
            "note": lines[0].get("note"),
        }
        recipes.append((glaze, forms.read(forms.RecipeRecord, values, lines[0].where)))
    return recipes


def _read_firings(folder: Path) -> list[forms.FiringRecord]:
    cones = by(read_rows(folder, "witness_cones.csv"), "firing")
    firings = []
    for row in read_rows(folder, "firings.csv"):
        packs = [pack.without("firing") for pack in cones[row.get("name")]]
        values = {**row.cells, "witness_cones": packs}
        firings.append(forms.read(forms.FiringRecord, values, row.where))
    return firings
