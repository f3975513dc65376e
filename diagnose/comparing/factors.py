"""The things tiles can differ in: read from a record, named, and put in order."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.view import View, place_of, spoken_coats, total_of
from tiles.chemistry.cones import step
from tiles.records.derived import day_of

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

Value = str | float | None
BARE_CLAY = "bare clay"
COUNTED_IN_COATS = ("coats", "coats under", "coats over")


@dataclass(frozen=True)
class Factor:
    """One thing tiles can differ in.

    ``said`` names it in a sentence; ``kind`` is ``word``, ``number`` (with its ``unit``),
    ``cone`` or ``time``. ``implied`` lists what goes along with it, so that it cannot be held
    alike.
    """

    name: str
    said: str
    read: Callable[[View], Value]
    kind: str = "word"
    unit: str = ""
    implied: tuple[str, ...] = ()

    @property
    def is_ordered(self) -> bool:
        """Whether its values rise from less to more."""
        return self.kind in ("number", "cone")

    def sort_key(self, value: Value) -> tuple:
        """Puts values in order."""
        if self.kind == "cone":
            return (step(value), "")
        return (value, "") if self.kind == "number" else (value.casefold(), value)

    def spoken(self, value: Value) -> str:
        """A value as it is read: "3 coats", "cone 04", "red earthenware"."""
        if self.kind == "cone":
            return f"cone {value}"
        if self.name in COUNTED_IN_COATS:
            return spoken_coats(value)
        return f"{value:g} {self.unit}".strip() if self.kind == "number" else str(value)


def _layers(view: View) -> Value:
    return " + ".join(layer.glaze.name for layer in view.layers) or None


def _under(view: View) -> Value:
    """What lies beneath the top glaze; the clay alone is a value, not a blank."""
    if view.top is None:
        return None
    return " + ".join(layer.glaze.name for layer in _below(view)) or BARE_CLAY


def _coats_under(view: View) -> Value:
    """The coats of what lies beneath the top glaze, 0 on bare clay."""
    if view.top is None:
        return None
    return total_of(_below(view), "coats") if _below(view) else 0


def _under_on(view: View) -> Value:
    """What the layer next beneath was put on, as it is known of that one alone."""
    below = _below(view) if view.top else []
    return below[-1].applied_on if below else None


def _below(view: View) -> list:
    return view.layers[: place_of(view.layers, view.top)]


def _recipe(view: View) -> Value:
    version = view.top.recipe.version if view.top and view.top.recipe else None
    return f"{view.top.glaze.name} v{version}" if version else None


def _of_top(name: str) -> Callable[[View], Value]:
    return lambda view: getattr(view.top, name) if view.top else None


def _of_record(name: str) -> Callable[[View], Value]:
    return lambda view: getattr(view.record, name)


def _of_firing(name: str) -> Callable[[View], Value]:
    return lambda view: getattr(view.record.firing, name) if view.record.firing else None


def _of_bisque(name: str) -> Callable[[View], Value]:
    return lambda view: (
        getattr(view.record.bisque_firing, name) if view.record.bisque_firing else None
    )


def _dated(form: str) -> Callable[[View], Value]:
    def read(view: View) -> Value:
        day = day_of(view.record)
        return day.strftime(form) if day else None

    return read


def _total_thickness(view: View) -> Value:
    total = total_of(view.coated, "thickness_mm")
    return None if total is None else round(total, 2)


_ALL = (
    Factor("body", "body", lambda view: view.body_name),
    Factor("glaze", "glaze", _layers, implied=("top glaze", "under", "recipe", "batch")),
    Factor("top glaze", "top glaze", lambda view: view.glaze_name, implied=("recipe", "batch")),
    Factor("under", "what lies under the glaze", _under),
    Factor("coats under", "coats under the glaze", _coats_under, "number", implied=("under",)),
    Factor("under put on", "what the layer beneath was put on", _under_on),
    Factor("cone", "cone reached", lambda view: view.cone_reached, "cone", implied=("firing",)),
    Factor("target", "cone aimed at", _of_firing("target_cone"), "cone",
           implied=("firing", "cone")),
    Factor("coats", "coats", lambda view: total_of(view.coated, "coats"), "number",
           implied=("thickness",)),
    Factor("thickness", "thickness", _total_thickness, "number", "mm", implied=("coats",)),
    Factor("bisque cone", "bisque cone", lambda view: view.bisque_cone, "cone",
           implied=("bisque firing",)),
    Factor("method", "method", _of_top("method"), implied=("thickness",)),
    Factor("kiln", "kiln", _of_firing("kiln"), implied=("firing", "cone", "shelf")),
    Factor("surface", "surface", lambda view: view.area.surface if view.area else None),
    Factor("stood", "how it stood", _of_record("stood")),
    Factor("applied on", "what it was put on", _of_top("applied_on"), implied=("bisque cone",)),
    Factor("beneath", "state of the coat beneath", lambda view: view.state_beneath),
    Factor("recipe", "recipe version", _recipe, implied=("batch",)),
    Factor("batch", "batch", lambda view: view.batch, implied=("recipe",)),
    Factor("shelf", "shelf", _of_record("shelf"), implied=("cone",)),
    Factor("hold", "hold", _of_firing("hold_min"), "number", "min", implied=("firing", "cone")),
    Factor("rate", "rate near the top", _of_firing("rate_c_per_h"), "number", "C/h",
           implied=("firing", "cone")),
    Factor("opened", "temperature at which the kiln was opened", _of_firing("opened_c"), "number",
           "C", implied=("firing",)),
    Factor("atmosphere", "atmosphere", _of_firing("atmosphere"), implied=("firing", "cone")),
    Factor("firing", "firing", _of_firing("name"), implied=("kiln", "cone", "target", "hold",
           "shelf", "rate", "opened", "atmosphere")),
    Factor("bisque rate", "bisque rate", _of_bisque("rate_c_per_h"), "number", "C/h",
           implied=("bisque firing",)),
    Factor("bisque hold", "bisque hold", _of_bisque("hold_min"), "number", "min",
           implied=("bisque firing", "bisque cone")),
    Factor("bisque firing", "bisque firing", _of_bisque("name"),
           implied=("bisque cone", "bisque rate", "bisque hold")),
    Factor("form", "form", _of_record("form")),
    Factor("month", "month of firing", _dated("%Y-%m"), "time"),
    Factor("year", "year of firing", _dated("%Y"), "time"),
)  # fmt: skip
FACTORS = {factor.name: factor for factor in _ALL}
"""By the name that ``--by`` takes."""
ALSO_CALLED = {factor.said: factor.name for factor in _ALL} | {
    "underglaze": "under",
    "under coats": "coats under",
    "coats beneath": "coats under",
    "underglaze coats": "coats under",
    "beneath put on": "under put on",
    "underglaze put on": "under put on",
    "slip": "under",
    "clay": "body",
    "bisque": "bisque cone",
    "over": "top glaze",
    "what lies over": "top glaze",
    "order": "glaze",
    "layers": "glaze",
    "overlap": "glaze",
    "pair": "glaze",
    "month of firing": "month",
    "year of firing": "year",
}
"""Other names by which a person asks for one."""

ALWAYS_ALIKE = ("body", "top glaze")
ALIKE = (*ALWAYS_ALIKE, "under", "cone", "coats", "bisque cone", "method", "kiln", "surface",
         "recipe", "batch", "stood")  # fmt: skip
"""What is held alike, the weightiest first; what would cost too many tiles is let go."""


def factor_named(name: str) -> Factor:
    """One of ``FACTORS``, or a clue, of which the answers are compared."""
    return FACTORS.get(name) or Factor(
        name, name.replace("_", " "), lambda view: with_dust_told(view.clues).get(name)
    )


def with_dust_told(found: Mapping[str, Value]) -> dict[str, Value]:
    """The facts of a tile; a bisque that was wiped is not dusty where nobody says that it was.

    Its dust was taken off (common practice, no source). One that was not wiped may be either.

    Examples
    --------
    >>> with_dust_told({"bisque_wiped": "yes"})["bisque_dusty"]
    'no'
    """
    told = {"bisque_dusty": "no"} if found.get("bisque_wiped") == "yes" else {}
    return told | dict(found)


def held_alike(factor: Factor) -> list[str]:
    """What can be held alike when comparing by a factor, the weightiest first.

    Where the cone reached goes along with the factor, the cone aimed at takes its place.
    """
    stand_in = "target" if "cone" in factor.implied and factor.name != "target" else "cone"
    names = [stand_in if each == "cone" else each for each in ALIKE]
    return [each for each in names if each != factor.name and each not in factor.implied]


def value_of(factor: Factor, record: "TileRecord", area) -> Value:
    """The value of a factor on one area of a tile, None where it was not recorded."""
    return factor.read(View(record, area))
