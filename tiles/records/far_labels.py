"""Cones outside what clay and glazes are made for, by their labels.

Far outside is questioned; hotter by a step or more is only told, for people test so.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from tiles.chemistry import cones
from tiles.records.derived import cone_reached, label_range, layers_of
from tiles.records.forms import TileRecord
from tiles.records.spoken import spoken_range

# Four steps: a low-fire label (up to 04) met by cone 1 or more, a mid-range one (from 4) by cone
# 01 or less. Smaller differences are tests people make on purpose.
FAR_OUTSIDE_STEPS = 4
EARTHENWARE_TOP = "01"
"""Where no label is known: most earthenware is fired at 08 to 01, and by cone 4 slumps or bloats
(common practice, no source). Almost no bisque is hotter."""
TARGET = "the target"
Label = tuple[str, str | None, str | None]
"""Of what it is, as a sentence names it, and its coolest and its hottest cone, where known."""


@dataclass(frozen=True)
class FarOutside:
    """A firing far outside what the labels of a tile's clay and glazes allow."""

    said: str
    is_above: bool


def label_of_body(body) -> Label:
    """The cones of a clay (a record of it, or its row); of an earthenware without any its top."""
    name, known = f"body {body.name!r}", label_range(body)
    if known is None and body.kind == "earthenware":
        return f"{name}, an earthenware (common practice)", None, EARTHENWARE_TOP
    return name, *(known or (None, None))


def label_of_glaze(name: str, known: tuple[str, str] | None) -> Label:
    """The cones of a glaze."""
    return f"glaze {name!r}", *(known or (None, None))


def far_from(said: str, cone: str, labels: Iterable[Label]) -> list[FarOutside]:
    """Where a cone lies far outside labels, each end of a range once.

    Parameters
    ----------
    said : str
        How the sentence begins: "cone reached 05 (about 1031 C / 1888 F)".
    """
    far: dict[str, list[str]] = {}
    for name, low, high in labels:
        if edge := far_edge(cone, low, high):
            far.setdefault(edge, []).append(name)
    found = []
    for edge, names in far.items():
        is_above = cones.steps_between(edge, cone) > 0
        found.append(FarOutside(far_sentence(said, edge, names, is_above=is_above), is_above))
    return found


def over_labels(records: Iterable[TileRecord]) -> dict[str, dict[str, str]]:
    """By the cone that tiles of one firing reached or are set for: each name, and its label."""
    found: dict[str, dict[str, str]] = {}
    for record in records:
        reached = cone_reached(record)
        cone = reached.cone if reached else record.firing and record.firing.target_cone
        named = [*(layer.glaze for layer in layers_of(record)), record.body]
        for each in named if cone else ():
            label = label_range(each)
            if label and cones.steps_outside(cone, *label) > 0:
                found.setdefault(cone, {})[each.name] = spoken_range(label)
    return found


def far_apart(body: Label, *glazes: Label) -> list[str]:
    """One sentence for each glaze whose label shares no cone with the body's, far apart."""
    body, coolest, hottest = body
    found = []
    for name, low, high in glazes:
        if not (low and high and hottest):
            continue
        gap = cones.step(low) - cones.step(hottest)
        gap = max(gap, cones.step(coolest) - cones.step(high)) if coolest else gap
        if gap >= FAR_OUTSIDE_STEPS:
            fired = spoken_range((coolest, hottest)) if coolest else f"cone {hottest} at most"
            own = spoken_range((low, high))
            found.append(f"{name} ({own}) and {body} ({fired}) mature far apart.")
    return found


def far_edge(cone: str, low: str | None, high: str | None) -> str | None:
    """The end of a label's range that a cone lies far beyond, if it does."""
    off = cones.steps_outside(cone, low, high)
    return None if abs(off) < FAR_OUTSIDE_STEPS else high if off > 0 else low


def far_sentence(said: str, edge: str, names: list[str], *, is_above: bool) -> str:
    """What lies far beyond the end of a range, and of which labels, or of the target, it is."""
    targets = [name for name in names if name.startswith(TARGET)]
    labels = [name for name in names if name not in targets]
    end = "top" if is_above else "bottom"
    meant = targets + [f"the {end} for {' and '.join(labels)}"] * bool(labels)
    return (
        f"{said} is far {'above' if is_above else 'below'} {spoken_cone('cone', edge)}, "
        f"{' and '.join(meant)}."
    )


def spoken_cone(what: str, cone: str) -> str:
    """A cone with both temperatures: "cone 05 (about 1031 C / 1888 F)"."""
    return f"{what} {cone} (about {both_scales(cones.temperature_c(cone))})"


def both_scales(celsius: float) -> str:
    """A temperature in C and in F."""
    return f"{celsius:.0f} C / {cones.celsius_to_fahrenheit(celsius):.0f} F"
