"""What is told of one glaze of an area, where other layers lie over or under it."""

from typing import TYPE_CHECKING

from diagnose import measures_application
from diagnose.factors import FACTORS, value_of
from diagnose.view import View
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, LayerRecord, TileRecord

Values = dict[str, float | str]

_OF_THE_COAT = (
    "coats thickness_mm fired_thickness_mm method applied_on beneath specific_gravity sieve_mesh "
    "dry_portion revived"
).split()
_BENEATH = ("colour_beneath", "colour_coats_beneath", "slip_applied_on")


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
    if not places or len(area.layers) == 1:
        return values
    at = places[-1]
    layer, lower = _as_glaze(area.layers[at]), area.layers[:at]
    alone = View(record, area.model_copy(update={"layers": [layer]}))
    down = View(record, area.model_copy(update={"layers": [*lower, layer]}))
    told = {name: value for name, value in values.items() if name not in _ALL}
    told |= _read(alone, _OF_THE_COAT) | _read(down, _BENEATH)
    named = {"batch": alone.batch, "under": value_of(FACTORS["under"], record, down.area)}
    return told | {name: value for name, value in named.items() if value}


_ALL = (*_OF_THE_COAT, *_BENEATH, "batch", "under")


def _as_glaze(layer: "LayerRecord") -> "LayerRecord":
    """A layer of colour, seen as the one that the others lie beneath."""
    return layer.model_copy(update={"glaze": layer.glaze.model_copy(update={"role": "glaze"})})


def _read(view: View, names: "list[str] | tuple[str, ...]") -> Values:
    read = measures_application.read(view)
    return {name: value for name, value, _said in read if name in names and value is not None}
