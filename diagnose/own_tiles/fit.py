"""The count of a body's tiles by the worked-out expansion of their glazes.

Tiles of one glaze tell little of fit: it fits, or it does not. Those of other glazes on the same
body do, as far as their recipes are known. `diagnose.body_limit.fit` tells the limit with its
range; here tiles are counted, because `tiles why` loads no numpy.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.body_limit.glaze_expansion import Expansions, GlassOf
from diagnose.body_limit.words import LEAST_EACH, LEAST_GLAZES, RISES
from diagnose.comparing.counted import Counted, Sides, most_uneven
from diagnose.own_tiles.areas import looked_at
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import lift_of_count
from diagnose.own_tiles.same_age import SameAge, same_age
from diagnose.wording import DID
from tiles.records.words import same_name

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord

FIT = "fit"
FIT_CAUSES = ("poor_fit", "small_margin", "too_much_compression")
"""Causes that lie between a glaze and a body, and for which the body's limit is worth knowing."""
TELLING = 0.05
"""Chance may part them so no oftener, all cuts allowed for."""


def lesson_of_fit(
    records: "Sequence[TileRecord]", record: "TileRecord", area: "AreaRecord", defect: str
) -> Lesson | None:
    """The count of a body's tiles beyond an expansion and short of it; None where it tells nothing.

    Parameters
    ----------
    records : sequence of TileRecord
        Own tiles; those of the same body count whose glaze lies alone and can be worked out.
    record, area : TileRecord, AreaRecord
        The failed tile, which does not count itself.
    defect : str
        One word of the defect list.
    """
    glass = Expansions().of_area(area) if defect in RISES else None
    if glass is None:
        return None
    found, at = _of_body(records, record, defect)
    values = sorted({other.value for _, other in found})
    if len({other.glaze for _, other in found}) < LEAST_GLAZES:
        return None
    cuts = [
        each
        for low, high in zip(values, values[1:], strict=False)
        if _is_beyond(glass, low, high, defect)
        and (each := _cut(found, low, high, defect))
        and _is_of_several(found, each, glass)
    ]
    if not cuts:
        return None
    low, high, sides = most_uneven(cuts, lambda each: each[2])
    here, there = sides.tiles
    chance = min(1.0, sides.p_value * (len(values) - 1))
    lift = lift_of_count(here, there, chance)
    if chance > TELLING or lift <= 0:
        return None
    said = _said(record.body.name, glass, (low, high), sides, defect)
    said += f" ({at.when})." if at.by_day else "."
    return Lesson(FIT, *here, *there, chance, round(lift, 3), said, lambda _each: None)


def _of_body(
    records: "Sequence[TileRecord]", record: "TileRecord", defect: str
) -> tuple[list[tuple[Counted, GlassOf]], SameAge]:
    """The areas of the body's tiles that tell, each with its glass; and at which age."""
    on_body = (each for each in records if same_name(each.body.name, record.body.name))
    areas = [each for each in looked_at(on_body) if not same_name(each[0].mark, record.mark)]
    at = same_age(areas, defect)
    expansions = Expansions()
    found = []
    for other, there in areas:
        glass = expansions.of_area(there)
        if glass is not None and at.tells(other, there):
            found.append((Counted(other, there, at.failed(other, there)), glass))
    return found, at


def _is_beyond(glass: GlassOf, low: float, high: float, defect: str) -> bool:
    """Whether the glaze lies on the failing side of a cut, or nearer to it than to the other."""
    middle = (low + high) / 2
    return glass.value >= middle if RISES[defect] > 0 else glass.value <= middle


def _is_of_several(found: list[tuple[Counted, GlassOf]], cut: tuple, own: GlassOf) -> bool:
    """Whether more than one glaze failed beyond the cut: what one does may be its own matter."""
    failed = {id(each) for each in cut[2].here if each.failed}
    glazes = {glass.glaze for each, glass in found if id(each) in failed}
    return len(glazes | {own.glaze}) > 1


def _cut(
    found: list[tuple[Counted, GlassOf]], low: float, high: float, defect: str
) -> tuple[float, float, Sides] | None:
    """The two sides of a cut, the failing one first; None where one is too small."""
    above = [each for each, glass in found if glass.value >= high]
    below = [each for each, glass in found if glass.value <= low]
    sides = Sides(above, below) if RISES[defect] > 0 else Sides(below, above)
    return (low, high, sides) if min(many for _, many in sides.tiles) >= LEAST_EACH else None


def _said(
    body: str, glass: GlassOf, between: tuple[float, float], sides: Sides, defect: str
) -> str:
    here, there = sides.tiles
    did = DID[defect]
    low, high = between
    ends = (f"{high:.1f} ppm/K or more", f"{low:.1f} ppm/K or less")
    failing, sound = ends if RISES[defect] > 0 else ends[::-1]
    return (
        f"on {body}, of {here[1]} tiles with glazes that work out at {failing} {here[0]} "
        f"{did}, of {there[1]} with {sound} {there[0] or 'none'}; this one works out at "
        f"{glass.value:.1f}"
    )
