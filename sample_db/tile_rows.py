"""From the tile, area, layer, clue, inspection and photo files to whole tile records."""

from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from sample_db.rows import Row, by, named, read_rows
from tiles.errors import InvalidValue
from tiles.records import forms


@dataclass(frozen=True)
class Library:
    """What tiles refer to, by name (recipes by glaze and version, batches by glaze and name)."""

    bodies: dict[str, forms.BodyRecord]
    glazes: dict[str, forms.GlazeRecord]
    recipes: dict[tuple[str, int], forms.RecipeRecord]
    firings: dict[str, forms.FiringRecord]
    batches: dict[tuple[str, str], forms.BatchRecord]


FILES = ("areas", "layers", "clues", "inspections", "photos")


def read_tiles(folder: Path, library: Library) -> tuple[list[forms.TileRecord], set[str]]:
    """Every tile with all that is recorded of it, and the marks marked as confirmed.

    Raises
    ------
    InvalidValue, UnknownName, UnknownCone
        The first thing that is wrong, with its file and row.
    """
    rows = read_rows(folder, "tiles.csv")
    marks = [row.get("mark") for row in rows]
    of_mark = {name: by(read_rows(folder, f"{name}.csv"), "mark") for name in FILES}
    _check_marks(marks, of_mark)
    tiles = []
    for row in rows:
        parts = {name: groups.get(row.get("mark"), []) for name, groups in of_mark.items()}
        tiles.append(forms.read(forms.TileRecord, _tile(row, parts, library, folder), row.where))
    confirmed = {row.get("mark") for row in rows if row.get("is_confirmed") == "yes"}
    return tiles, confirmed


def _check_marks(marks: list[str | None], of_mark: dict[str, dict]) -> None:
    for mark in marks:
        if marks.count(mark) > 1:
            raise InvalidValue(f"mark {mark!r} is used twice (tiles.csv).", "a mark of its own.")
    for name, groups in of_mark.items():
        for mark in groups.keys() - set(marks):
            raise InvalidValue(
                f"{mark!r} is not in tiles.csv ({name}.csv).", "the mark as tiles.csv has it."
            )


def _tile(row: Row, parts: dict[str, list[Row]], library: Library, folder: Path) -> dict:
    values = row.without("body", "firing", "bisque_firing", "is_confirmed")
    return values | {
        "body": named(library.bodies, row.get("body"), "body", row),
        "firing": named(library.firings, row.get("firing"), "firing", row),
        "bisque_firing": named(library.firings, row.get("bisque_firing"), "firing", row),
        "areas": _areas(parts, library),
        "clues": _clues(by(parts["clues"], "area")[None]),
        "inspections": _inspections(parts["inspections"]),
        "photos": [
            {"file": str(folder / photo.get("file")), "caption": photo.get("caption")}
            for photo in parts["photos"]
        ],
    }


def _areas(parts: dict[str, list[Row]], library: Library) -> list[dict]:
    """Areas come from any file that names one: most tiles have one area and no row of its own."""
    said = {name: by(parts[name], "area") for name in ("areas", "layers", "clues")}
    numbers = sorted({number for groups in said.values() for number in groups if number}, key=int)
    areas = []
    for number in numbers:
        own = said["areas"][number]
        stack = sorted(said["layers"][number], key=lambda row: int(row.get("position")))
        areas.append(
            (own[0].only("label", "surface") if own else {})
            | {
                "number": number,
                "layers": [_layer(row, library) for row in stack],
                "clues": _clues(said["clues"][number]),
            }
        )
    return areas


def _layer(row: Row, library: Library) -> dict:
    glaze, version = row.get("glaze"), row.get("recipe_version")
    recipe = (glaze, int(version)) if version else None
    batch = (glaze, row.get("batch")) if row.get("batch") else None
    kept = row.without("mark", "area", "position", "glaze", "recipe_version", "batch")
    return kept | {
        "glaze": named(library.glazes, glaze, "glaze", row),
        "recipe": named(library.recipes, recipe, "recipe version", row),
        "batch": named(library.batches, batch, "batch", row),
    }


def _clues(rows: list[Row]) -> dict[str, str]:
    return {row.get("clue"): row.get("answer") for row in rows}


def _inspections(rows: list[Row]) -> list[dict]:
    """One look for each date; a row without a defect is a look that saw none."""
    looks: dict[str, dict] = defaultdict(lambda: {"defects": []})
    for row in rows:
        look = looks[row.get("inspected_on")]
        look["inspected_on"] = row.get("inspected_on")
        if row.get("defect"):
            look["defects"].append(row.without("mark", "inspected_on"))
        else:
            look["note"] = row.get("note")
    return list(looks.values())
