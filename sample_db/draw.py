"""Draw the sample's small pictures from its records: ``python -m sample_db.draw``.

A picture shows the tile as its record tells it: areas side by side, each in the colour of its
layers over the clay, with the defects seen. The same records always give the same pictures.
"""

import random
from pathlib import Path

from sample_db.draw_defects import DRAWERS, Colour, mix
from sample_db.rows import FOLDER

SIDE_PX = 200
TILE_BOX = (26, 18, 174, 166)
TABLE = (226, 224, 219)
COLOURS = {
    "brick red": (176, 92, 62),
    "red": (158, 44, 36),
    "white": (240, 237, 228),
    "buff": (205, 178, 136),
    "green": (70, 122, 78),
    "blue": (74, 112, 168),
    "dark blue": (34, 52, 104),
    "pale blue": (140, 184, 214),
    "purple": (112, 66, 110),
    "yellow": (208, 164, 52),
    "black": (38, 36, 38),
    "cream": (228, 214, 184),
    "brown": (92, 54, 34),
    "rust": (128, 66, 36),
}
# How much of the clay one, two, three ... coats hide.
HIDES = (0.0, 0.62, 0.86, 0.97)


def draw_all(folder: Path = FOLDER) -> list[Path]:
    """Draw every picture that photos.csv names, and return the files written."""
    from sample_db.read import read_records

    written = []
    for tile in read_records(folder).tiles:
        for photo in tile.photos:
            path = Path(photo.file)
            path.parent.mkdir(parents=True, exist_ok=True)
            draw_tile(tile).save(path, optimize=True)
            written.append(path)
    return written


def draw_tile(tile):
    """One tile as a small palette image.

    Parameters
    ----------
    tile : TileRecord
        The tile with its areas, layers and inspections.

    Returns
    -------
    PIL.Image.Image
        200 x 200 pixels, at most 48 colours.
    """
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (SIDE_PX, SIDE_PX), TABLE)
    pen = ImageDraw.Draw(image)
    clay = COLOURS[tile.body.colour]
    left, top, right, bottom = TILE_BOX
    pen.rectangle((left + 4, top + 4, right + 4, bottom + 4), fill=mix(TABLE, (0, 0, 0), 0.25))
    pen.rectangle(TILE_BOX, fill=clay)
    # The bottom margin stays bare clay, as on any tile that has to come off its shelf.
    width = (right - left - 8) / len(tile.areas)
    for index, area in enumerate(tile.areas):
        x = left + 4 + index * width
        box = (round(x), top + 4, round(x + width) - 1, bottom - 14)
        _draw_area(pen, box, tile, area, clay)
    return image.convert("P", palette=Image.Palette.ADAPTIVE, colors=48)


def _draw_area(pen, box: tuple, tile, area, clay: Colour) -> None:
    from tiles.records.derived import defects_on

    rng = random.Random(f"{tile.mark}/{area.number}")
    glaze = _area_colour(area, clay)
    pen.rectangle(box, fill=glaze)
    if area.surface == "textured":
        for y in range(box[1] + 5, box[3], 9):
            pen.line((box[0], y, box[2], y + 3), fill=mix(glaze, (0, 0, 0), 0.22), width=2)
    if _is_shiny(area):
        shine = (box[0] + 5, box[1] + 5, min(box[0] + 20, box[2] - 2), box[1] + 10)
        pen.ellipse(shine, fill=mix(glaze, (255, 255, 255), 0.6))
    for seen in defects_on(tile, area):
        if seen.defect in DRAWERS:
            DRAWERS[seen.defect](pen, box, rng, glaze, clay, seen.severity or "moderate")


def _area_colour(area, clay: Colour) -> Colour:
    colour = clay
    for layer in area.layers:
        if layer.glaze.colour == "clear":
            colour = mix(colour, (0, 0, 0), 0.08)
        else:
            hidden = HIDES[min(layer.coats or 2, len(HIDES) - 1)]
            colour = mix(colour, COLOURS[layer.glaze.colour], hidden)
    # A matt top scatters light, so the same colour looks paler than under a clear.
    is_matt = bool(area.layers) and area.layers[-1].glaze.finish == "matt"
    return mix(colour, (255, 255, 255), 0.15) if is_matt else colour


def _is_shiny(area) -> bool:
    return bool(area.layers) and area.layers[-1].glaze.finish in ("gloss", "clear")


if __name__ == "__main__":
    for drawn in draw_all():
        print(drawn.name, drawn.stat().st_size, "bytes")
