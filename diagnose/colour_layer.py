"""The layer that a fault of colour lies in: under a clear it is the colour beneath that is judged.

A clear glaze has no colour to miss. Of a colour shift on an underglaze, slip, wash or stain under
one the coat, the label and the remark of that colour count; what the clear over it brings (zinc,
few coats) is read beside them (common practice, no source).
"""

from collections.abc import Iterator
from dataclasses import replace

from diagnose.measures import chemistry as measures_chemistry
from diagnose.measures.application import Reading
from diagnose.measures.names import is_clear
from diagnose.own_tiles.layer import COATS_ABOVE
from diagnose.view import OF_COLOUR, View, place_of, spoken_coats, total_of

OF_THE_CLEAR = ("holds_zinc", "zinc_wt_pct", "lime_wt_pct", "magnesia_wt_pct", "magnesia_unity")
"""Measures that the glaze over a colour tells: it melts around the colour."""


def judged(view: View) -> View:
    """The view down on the layer that the fault lies in: of a colour under a clear, the colour.

    The same view for every other fault, and where the uppermost glaze has a colour of its own.
    """
    if view.defect != OF_COLOUR or not view.colours or not is_clear(view.glaze):
        return view
    at = place_of(view.layers, view.colours[-1])
    area = view.area.model_copy(update={"layers": view.layers[: at + 1]})
    return replace(view, area=area, over=tuple(view.layers[at + 1 :]))


def lower_layer(view: View) -> str | None:
    """The name of a layer that is judged though others lie over it; else None."""
    return view.glaze_name if view.over else None


def read(view: View) -> Iterator[Reading]:
    """Of a colour under a clear: how much of the clear lies over it, and what is in it."""
    if not view.over:
        return
    coats = total_of(list(view.over), "coats")
    if coats is not None:
        names = " and ".join(layer.glaze.name for layer in view.over)
        yield COATS_ABOVE, coats, f"{spoken_coats(coats)} of {names} over {view.glaze_name}"
    area = view.area.model_copy(update={"layers": list(view.over)})
    for name, value, said in measures_chemistry.read(View(view.record, area, view.defect)):
        if name in OF_THE_CLEAR:
            yield name, value, said
