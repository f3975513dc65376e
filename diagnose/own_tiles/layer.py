"""What is told of one glaze of an area: its coat, and what lies under it, over it and beside it.

The clear over an underglaze may spoil it as well as the clay beneath: so what lies over a layer is
a fact of it, and so is what shares its area whichever of the two is the upper one.
"""

from typing import TYPE_CHECKING

from diagnose.comparing.factors import FACTORS, value_of
from diagnose.measures import application as measures_application
from diagnose.view import NOTHING, View, total_of
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord

Values = dict[str, float | str]

_OF_THE_COAT = (
    "coats thickness_mm fired_thickness_mm method applied_on beneath specific_gravity sieve_mesh "
    "dry_portion revived"
).split()
_BENEATH = ("colour_beneath", "colour_coats_beneath", "colour_applied_on", "slip_applied_on")
ABOVE, COATS_ABOVE, TOGETHER, PAIR = "above", "coats_above", "together", "pair"
"""What lies over one glaze and in how many coats, and what shares its area in either order; of
areas of any glaze, which layers do."""


def of_own_layer(values: Values, record: "TileRecord", area: "AreaRecord", glaze: str) -> Values:
    """The values of an area with the coat, the batch and what lies beneath of one glaze on it.

    Parameters
    ----------
    values : dict
        As of the whole area: of its uppermost glaze, coats of several glazes added up.
    glaze : str
        Its name; of two layers of it the upper one is told.
    """
    places = [at for at, each in enumerate(area.layers) if same_name(each.glaze.name, glaze)]
    if not places:
        return values
    at = places[-1]
    values = values | _company(area.layers, at)
    if len(area.layers) == 1:
        return values
    layer, lower = _as_glaze(area.layers[at]), area.layers[:at]
    alone = View(record, area.model_copy(update={"layers": [layer]}))
    down = View(record, area.model_copy(update={"layers": [*lower, layer]}))
    told = {name: value for name, value in values.items() if name not in _ALL}
    told |= _read(alone, _OF_THE_COAT) | _read(down, _BENEATH)
    named = {"batch": alone.batch, "under": value_of(FACTORS["under"], record, down.area)}
    return told | {name: value for name, value in named.items() if value}


_ALL = (*_OF_THE_COAT, *_BENEATH, "batch", "under")


def pair_of(layers: "list[LayerRecord]") -> str | None:
    """The names of the layers of an area in the order of the alphabet; one alone is none."""
    named = {name_key(each.glaze.name): each.glaze.name for each in layers}
    if len(named) < 2:
        return NOTHING if named else None
    return " and ".join(named[key] for key in sorted(named))


def _company(layers: "list[LayerRecord]", at: int) -> Values:
    """What lies over a layer, its coats where they are known of all of it, and all beside it."""
    above = layers[at + 1 :]
    beside = [each for each in layers if not same_name(each.glaze.name, layers[at].glaze.name)]
    beside_it = pair_of(beside) if len(beside) > 1 else None
    named = {
        ABOVE: " + ".join(each.glaze.name for each in above) or NOTHING,
        COATS_ABOVE: total_of(above, "coats") if above else 0.0,
        TOGETHER: beside_it or (beside[0].glaze.name if beside else NOTHING),
    }
    return {name: value for name, value in named.items() if value is not None}


def _as_glaze(layer: "LayerRecord") -> "LayerRecord":
    """A layer of colour, seen as the one that the others lie beneath."""
    return layer.model_copy(update={"glaze": layer.glaze.model_copy(update={"role": "glaze"})})


def _read(view: View, names: "list[str] | tuple[str, ...]") -> Values:
    read = measures_application.read(view)
    return {name: value for name, value, _said in read if name in names and value is not None}
