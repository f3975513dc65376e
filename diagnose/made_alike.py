"""Own inspected areas of the same glaze over the same on the same clay, beside a forecast."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from diagnose.late_looks import COMES_LATE, LateLooks, late_looks
from diagnose.own_areas import looked_at, under
from diagnose.view import NOTHING, View
from tiles.chemistry.cones import steps_between
from tiles.records.derived import defects_on
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord


@dataclass(frozen=True)
class Area:
    """One inspected area: its tile, what it had; coats, cone and batch (None: not recorded).

    ``early`` are the faults it was looked at too early to tell of.
    """

    mark: str
    defects: frozenset[str]
    early: frozenset[str]
    coats: int | None
    cone: str | None
    batch: str | None


@dataclass(frozen=True)
class MadeAlike:
    """Areas of this glaze over the same layer on the same clay; ``closest`` of them share more.

    ``layers`` have the very same layers, with the coats that are known of this one, on any clay;
    ``layers_how`` says of which their coats differ, as this one's are not known.
    ``over`` is what lies beneath ("an underglaze"), "" for nothing; ``how`` says what the closest
    share, too: "with 2 coats from batch B at cone 05", "" where none of the three is known.
    """

    areas: list[Area] = field(default_factory=list)
    closest: list[Area] = field(default_factory=list)
    layers: list[Area] = field(default_factory=list)
    over: str = ""
    how: str = ""
    late: "Mapping[str, LateLooks]" = field(default_factory=dict)
    layers_how: str = ""

    def counts(self, defect: str) -> dict[str, int | str]:
        """How often a defect came on those that can tell, by the names that a forecast has."""
        told, closest, layers = (
            [each for each in areas if defect not in each.early]
            for areas in (self.areas, self.closest, self.layers)
        )
        left_out = len(self.areas) - len(told)
        return {
            "alike_seen": sum(defect in each.defects for each in told),
            "alike_areas": len(told),
            "alike_tiles": len({each.mark for each in told}),
            "alike_over": self.over,
            "alike_left_out": self.late[defect].left_out(left_out, "area") if left_out else "",
            "closest_seen": sum(defect in each.defects for each in closest),
            "closest_areas": len(closest),
            "closest_how": self.how,
            "layers_seen": sum(defect in each.defects for each in layers),
            "layers_areas": len(layers),
            "layers_how": self.layers_how,
        }


def made_alike(others: "Sequence[TileRecord]", view: View) -> MadeAlike:
    """The own areas made like one, whatever came of them."""
    own = _kind(view)
    if not own[1]:
        return MadeAlike()
    late = {each: late_looks(under(view.glaze_name, others), each) for each in COMES_LATE}
    views = [View(*each) for each in looked_at(others)]
    found = [_area(each, late) for each in views if _kind(each) == own]
    same = [each for each in views if _has_layers_of(view, each)]
    layers = [_area(each, late) for each in same]
    coats, cone, batch = view.top.coats, view.cone, view.batch
    closest = [
        each
        for each in found
        if coats in (None, each.coats)
        and (batch is None or (each.batch and same_name(batch, each.batch)))
        and (cone is None or _is_same_cone(cone, each.cone))
    ]
    parts = (
        f"with {coats} coat{'s' * (coats > 1)}" if coats else "",
        f"from batch {batch}" if batch else "",
        f"at cone {cone}" if cone else "",
    )
    how = " ".join(part for part in parts if part)
    any_coats = _any_coats(view, same)
    return MadeAlike(found, closest if how else [], layers, _over(view), how, late, any_coats)


def _kind(view: View) -> tuple[str, str, str]:
    return name_key(view.record.body.name), name_key(view.glaze_name or ""), view.beneath or ""


def _has_layers_of(view: View, other: View) -> bool:
    return len(view.layers) == len(other.layers) and all(
        same_name(own.glaze.name, its.glaze.name) and own.coats in (None, its.coats)
        for own, its in zip(view.layers, other.layers, strict=True)
    )


def _any_coats(view: View, others: list[View]) -> str:
    """Where coats of one are not recorded, and those of others with its layers differ: of which."""
    differ = [
        layer.glaze.name
        for at, layer in enumerate(view.layers)
        if layer.coats is None and len({other.layers[at].coats for other in others}) > 1
    ]
    if not differ:
        return ""
    is_all = len(differ) == len(view.layers)
    return "with any coats" if is_all else f"with any coats of {' and '.join(differ)}"


def _area(view: View, late: "Mapping[str, LateLooks]") -> Area:
    seen = frozenset(each.defect for each in defects_on(view.record, view.area))
    early = frozenset(name for name, of in late.items() if not of.tells(view.record, view.area))
    return Area(view.record.mark, seen, early, view.top.coats, view.cone_reached, view.batch)


def _is_same_cone(one: str, other: str | None) -> bool:
    return other is not None and steps_between(one, other) == 0


def _over(view: View) -> str:
    if view.beneath in (None, NOTHING):
        return ""
    return f"{'an' if view.beneath[0] in 'aeiou' else 'a'} {view.beneath}"
