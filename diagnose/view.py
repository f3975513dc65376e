"""One area of one tile with one defect in mind: the view every measure is read from."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from tiles.chemistry.cones import band
from tiles.records.derived import bisque_cone, cone_reached, label_range, main_layer
from tiles.records.questions import far_peak
from tiles.records.words import COLOUR_ROLES, SEVERITIES, is_no_name, name_key

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from tiles.records.forms import AreaRecord, DefectSeen, GlazeRecord, LayerRecord, TileRecord

NOTHING = "nothing"
OF_COLOUR = "colour shift"
"""The fault of colour: what holds the colour, and what lies over it, is read for it alone."""


@dataclass(frozen=True)
class View:
    """A tile record seen from one of its areas; nothing is changed and nothing filled in.

    ``over`` are layers above those of the area, where a lower one is looked at
    (`diagnose.colour_layer`).
    """

    record: "TileRecord"
    area: "AreaRecord | None" = None
    defect: str | None = None
    over: "tuple[LayerRecord, ...]" = ()

    @property
    def layers(self) -> "list[LayerRecord]":
        """Layers of the area, from the clay upwards."""
        return self.area.layers if self.area else []

    @property
    def stack(self) -> tuple[str, ...]:
        """The layers by what their names are compared by, from the clay upwards."""
        return tuple(name_key(each.glaze.name) for each in self.layers)

    @property
    def glazes(self) -> "list[LayerRecord]":
        """The layers that melt to a glaze; a layer without a role is taken for one."""
        return [each for each in self.layers if each.glaze.role not in COLOUR_ROLES]

    @property
    def coated(self) -> "list[LayerRecord]":
        """The layers whose coats count: the glazes, or the lower layer that is looked at."""
        return self.glazes or ([self.top] if self.over else [])

    @cached_property
    def top(self) -> "LayerRecord | None":
        """The uppermost glaze, or the uppermost layer where there is no glaze."""
        place = main_layer([each.glaze.role for each in self.layers])
        return None if place is None else self.layers[place]

    @property
    def glaze(self) -> "GlazeRecord | None":
        """The glaze that the top layer is of."""
        return self.top.glaze if self.top else None

    @property
    def glaze_name(self) -> str | None:
        """Name of the uppermost glaze: the one that an area's tiles are known by."""
        return self.glaze.name if self.glaze else None

    @property
    def label(self) -> tuple[str, str] | None:
        """Cooler and hotter end of what the label of the uppermost glaze allows."""
        return label_range(self.glaze)

    @property
    def colours(self) -> "list[LayerRecord]":
        """Underglaze, slip, wash or stain lying under a glaze."""
        if not self.glazes:
            return []
        below = self.layers[: place_of(self.layers, self.top)]
        return [each for each in below if each.glaze.role in COLOUR_ROLES]

    @property
    def beneath(self) -> str | None:
        """What lies next under the topmost glaze: its role ("glaze" without one), or NOTHING.

        None where no layer is recorded.
        """
        return self._below(lambda glaze: glaze.role or "glaze")

    @property
    def state_beneath(self) -> str | None:
        """Whether what lies under the topmost coat was damp or dry; bare clay is no coat."""
        top = self.top
        if top is None or (top.coats == 1 and not place_of(self.layers, top)):
            return None
        return top.beneath

    @property
    def layer_beneath(self) -> str | None:
        """Its name, or NOTHING; None as for `beneath`."""
        return self._below(lambda glaze: glaze.name)

    @property
    def coats_beneath(self) -> int | None:
        """How many coats of it; None where they were not counted or nothing is beneath."""
        at = place_of(self.layers, self.top) if self.top else 0
        return self.layers[at - 1].coats if at else None

    def _below(self, said: "Callable[[GlazeRecord], str]") -> str | None:
        if self.top is None:
            return None
        at = place_of(self.layers, self.top)
        return said(self.layers[at - 1].glaze) if at else NOTHING

    @property
    def batch(self) -> str | None:
        """Name of the bucket that the uppermost glaze came from."""
        return self.top.batch.name if self.top and self.top.batch else None

    @property
    def cone(self) -> str | None:
        """The cone reached, or while it is not known the one that the firing is set for."""
        return self.cone_fired or self.target

    @property
    def target(self) -> str | None:
        """The cone that the glaze firing is set for."""
        return self.record.firing.target_cone if self.record.firing else None

    @property
    def bisque_cone(self) -> str | None:
        """The bisque cone, read or set, as `tiles.records.derived.bisque_cone` has it."""
        bisque = bisque_cone(self.record)
        return bisque.cone if bisque else None

    @property
    def body_name(self) -> str | None:
        """Name of the clay; None where it says that none is known: "?"."""
        name = self.record.body.name
        return None if is_no_name(name) else name

    @property
    def kiln(self) -> str | None:
        """Name of the kiln of the glaze firing."""
        return self.record.firing.kiln if self.record.firing else None

    @property
    def clues(self) -> dict[str, str]:
        """The clues of the tile, and those of the area, which know better."""
        return self.record.clues | (self.area.clues if self.area else {})

    @cached_property
    def cone_reached(self) -> str | None:
        """Cone reached at the tile: its own, or a witness cone's; never the target."""
        reached = cone_reached(self.record)
        return reached.cone if reached else None

    @cached_property
    def cone_fired(self) -> str | None:
        """Cone reached; where none was read or set, that of a peak far outside a label."""
        return self.cone_reached or far_peak(self.record)


def area_of(record: "TileRecord", number: int | None) -> "AreaRecord | None":
    """The area of a tile with this number; None where it has none."""
    return next((each for each in record.areas if each.number == number), None)


def seen_from(record: "TileRecord", number: int | None, defect: str | None = None) -> View:
    """The tile seen from the area with this number."""
    return View(record, area_of(record, number), defect)


def place_of(layers: "list[LayerRecord]", layer: "LayerRecord") -> int:
    """Where a layer stands among those of its area; another one may be just like it."""
    return next(at for at, each in enumerate(layers) if each is layer)


def total_of(layers: "list[LayerRecord]", name: str) -> float | None:
    """The sum of a figure over layers, such as their coats; None where it is not known of one."""
    values = [getattr(layer, name) for layer in layers]
    return round(sum(values), 3) if values and None not in values else None


def spoken_coats(many: float) -> str:
    """Coats with their number: "1 coat", "3 coats"."""
    return f"{many:g} {'coat' if many == 1 else 'coats'}"


def sightings(record: "TileRecord", defect: str) -> "list[DefectSeen]":
    """Every time the defect was seen, over all inspections."""
    return [s for look in record.inspections for s in look.defects if s.defect == defect]


def severity_step(seen: "DefectSeen") -> int | None:
    """1 slight, 2 moderate, 3 severe; None when not recorded."""
    return SEVERITIES.index(seen.severity) + 1 if seen.severity else None


def at_worst(seen: "Iterable[DefectSeen]") -> dict[str, int]:
    """How bad each fault is at its worst, as `severity_step` has it; 0 where nobody said."""
    worst: dict[str, int] = {}
    for each in seen:
        worst[each.defect] = max(worst.get(each.defect, 0), severity_step(each) or 0)
    return worst


def setting(view: View) -> str:
    """``"low_fire"``, ``"mid_range"`` or ``"unknown"``: which set of prior shares to start from.

    The cone reached decides, then the glaze's label, the target and the body: what a low-fire jar
    met in a cone 5 load is what any ware meets there.
    """
    label, clay = view.label, label_range(view.record.body)
    for cone in (view.cone_reached, label and label[1], view.target, clay and clay[1]):
        if cone is not None:
            return "low_fire" if band(cone) == "low fire" else "mid_range"
    return "unknown"
