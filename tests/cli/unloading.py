"""A load of twelve tiles, and what its walk says and asks."""

from tests.cli.records import shown
from tiles.records import forms

PLAIN = [f"L-{number}" for number in range(1, 12)]
AREAS = "L-12"


def tile(mark, glaze, coats):
    areas = [
        {"number": number, "layers": [{"glaze": glaze, "coats": count}]}
        for number, count in enumerate(coats, start=1)
    ]
    values = {"mark": mark, "body": "red earthenware", "bisque_cone": "04", "firing": "F40"}
    return forms.read(forms.TileRecord, values | {"areas": areas})


def at_tile(keyboard, number, mark, of=12):
    keyboard.sees(f"{number}/{of}  {mark}  ")
    keyboard.sees("   ")


def reads_cone(keyboard, cone="05", whole_load="n"):
    keyboard.answers("Cone reached", cone)
    keyboard.answers("The same for the whole load?", whole_load)


def looks(tiles, mark):
    return [
        [(seen["defect"], seen["severity"], seen["area"]) for seen in look["defects"]]
        for look in shown(tiles, mark)["inspections"]
    ]
