"""What may go wrong with a tile before it is fired: chances with a range, and what drives them.

The chance comes from the learner. No number is given where own tiles do not carry one: too few
tiles, a defect seen too rarely, or forecasts of held-back tiles that were not clearly better than
guessing. Then only the way common practice leans is told.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from diagnose.forecasts.by_batch import by_batch, from_batches
from diagnose.forecasts.drivers import Driver, drivers
from diagnose.forecasts.early import with_early
from diagnose.forecasts.feared import by_practice, with_label, with_late
from diagnose.forecasts.own_count import counted, own_count
from diagnose.learning.explain import LeftOpen
from diagnose.learning.model import LEARNED
from diagnose.learning.rows import Row
from diagnose.learning.table import FIRED_COAT
from diagnose.measures.of_area import Measure, measures
from diagnose.own_tiles.areas import looked_at
from diagnose.own_tiles.made_alike import MadeSo, made_alike
from diagnose.own_tiles.pair import PairCount, is_oftener, own_pair
from diagnose.view import View, seen_from
from diagnose.vocabulary import measure_words
from tiles.exchange.flat_build import UNNAMED
from tiles.records.failures_only import failures_only
from tiles.records.words import DEFECTS, OF_FIT, name_key

if TYPE_CHECKING:
    from diagnose.learner import Forecast as Chance
    from diagnose.learner import Model
    from diagnose.learning.validate import Verdict
    from tiles.records.forms import TileRecord

NO_BETTER = "not clearly better than guessing"
"""State of a defect that was learned, but not to any use."""
NOT_JUDGED = "not judged"
"""State of a defect that was learned from one glaze alone, for another glaze."""
FAILURES_ONLY = "failures only"
"""State of what was learned where hardly a tile on record is clean: its rates say nothing."""
LEAST_POINTS = 0.03
"""A chance nearer than this to the usual one is nothing special."""
LEANS = 0.7
"""Log hazard from which common practice leans either way: twice, or half, the usual (estimate)."""


@dataclass(frozen=True)
class Forecast:
    """One defect of one area.

    ``chance`` and its 90 % range are None where own tiles carry no number; ``state`` says why.
    ``usual`` is the studio's mean chance; ``inspected`` and ``seen`` count tiles. ``alike_seen``
    of ``alike_areas`` inspected areas of this glaze over the same (``alike_over``) on this body,
    on ``alike_tiles`` tiles, had it (``alike_left_out`` says that ``alike_early`` more were looked
    at too early to tell; ``clues_apart`` which were glazed otherwise, and are in none of these
    counts); ``closest_seen`` of ``closest_areas`` of them that were made and fired still more alike
    (``closest_how``; ``alike_recipe`` says where all are of other versions of its recipe);
    ``layers_seen`` of ``layers_areas`` had the very same layers, on any body (``layers_how``: "with
    any coats" where this one's are not recorded and theirs differ, and the version where there are
    others; ``layers_gainsay`` whether the fault came far less often on them than on those made
    alike; ``layers_are_alike`` whether these are the very areas made alike, or the closest).
    ``made_so`` are they by the clay that counts, with those that are sound so far.
    ``pair`` counts own tiles of the very same layers in any order, where there are several.
    ``late_after`` are the days by which own tiles on this body showed it, 0 where at unloading,
    and ``late_said`` what that means for the look at this one.
    ``early_sound`` are the sound tiles of the glaze where all were looked at too early to tell,
    the last after ``early_within`` days (one tells from ``early_until`` on); such a chance never
    leans less. ``by_fit`` says what the recipe says of a fault of fit, where that is far more
    (`by_fit.with_fit`).
    ``leans`` is ``more``, ``less`` or ``as usual``; ``feared`` are the causes
    that common practice fears here. ``own_count`` is what else than coats and cone parts own tiles
    of the glaze, by the fact ``own_count_by``, "" where nothing does; ``own_count_is_far``:
    those on its side came out otherwise than the chance says. Where no batch is named and it hangs
    on that, it is the count by batch, whatever the chance. ``by_cone`` are the
    chances at each cone that the shelf may reach, where there are several: all else that is told
    is then told of the one with the greatest.
    """

    defect: str
    state: str
    inspected: int
    seen: int
    leans: str
    chance: float | None = None
    low: float | None = None
    high: float | None = None
    usual: float | None = None
    late_after: int = 0
    late_said: str = ""
    early_sound: int = 0
    early_within: int = 0
    early_until: int = 0
    by_fit: str = ""
    alike_seen: int = 0
    alike_areas: int = 0
    alike_tiles: int = 0
    alike_over: str = ""
    alike_recipe: str = ""
    alike_early: int = 0
    alike_left_out: str = ""
    clues_apart: str = ""
    closest_seen: int = 0
    closest_areas: int = 0
    closest_how: str = ""
    layers_seen: int = 0
    layers_areas: int = 0
    layers_how: str = ""
    layers_gainsay: bool = False
    layers_are_alike: bool = False
    made_so: MadeSo = MadeSo()
    pair: PairCount = PairCount()
    own_count: str = ""
    own_count_by: str = ""
    own_count_is_far: bool = False
    feared: list[str] = field(default_factory=list)
    drivers: list[Driver] = field(default_factory=list)
    by_cone: dict[str, float] = field(default_factory=dict)

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        values = asdict(self)
        values["pair"]["is_far"] = self.is_far_from_own
        return values | {"alike_is_far": self.alike_is_far}

    @property
    def alike_is_far(self) -> bool:
        """Whether own tiles of the glaze on this clay failed far oftener than the chance says.

        Also with those counted as sound that were looked at too early to tell: what failed as
        early is not left out.
        """
        alike = self.alike_seen, self.alike_areas + self.alike_early
        closest = self.closest_seen, self.closest_areas
        if self.chance is None or self.layers_gainsay:
            return False
        return is_oftener(
            alike, self.alike_tiles + self.alike_early, closest, self.chance, self.defect
        )

    @property
    def is_far_from_own(self) -> bool:
        """Whether own tiles of the very same layers came out otherwise than the chance says.

        In a fault of fit those on other clays say nothing of this one.
        """
        if self.pair.on_other_bodies and self.defect in OF_FIT:
            return False
        return self.chance is not None and self.pair.is_far_from(self.chance)


def forecast(
    model: "Model",
    record: "TileRecord",
    area: int,
    *,
    judged: "Model | None" = None,
    others: "Sequence[TileRecord]" = (),
    defects: Sequence[str] = DEFECTS,
) -> list[Forecast]:
    """The chances of one area of one tile.

    Parameters
    ----------
    model : Model
        From `diagnose.learner`.
    record : TileRecord
        The tile, planned or fired; its inspections and its fired coat are not looked at.
    area : int
        Number of the area.
    judged : Model, optional
        The model whose held-back tiles say which forecasts are of use; ``model`` without it. A
        glaze that has tiles is judged by single tiles held back, a new one by whole glazes.
    others : sequence of TileRecord, optional
        Own tiles, to count those made alike.
    defects : sequence of str
        Which defects; all without it.

    Returns
    -------
    list[Forecast]
        The likeliest first.
    """
    judged, view, bare = judged or model, seen_from(record, area), _before_firing(record)
    row = LeftOpen(model.learned, Row(bare, area))
    is_met = model.learned.has_met("glaze", row.seen.table.groups["glaze"][0])
    verdicts = judged.tile_verdicts if is_met else judged.verdicts
    is_biased = bool(failures_only(others))
    facts, alike, pair = measures(bare, area), made_alike(others, view), own_pair(others, view)
    batched = from_batches(others, view)
    found = []
    for chance in model.forecast_seen(row.seen):
        defect = chance.defect
        if defect not in defects:
            continue
        # The usual chance is that of all tiles: one left out must not make it another for each.
        chance = replace(chance, usual=judged.learned.defects[defect].usual)
        state = state_of(chance.state, verdicts.get(defect), is_biased=is_biased)
        here = seen_from(bare, area, defect)
        told = _one(row, here, chance, state, facts)
        told = replace(told, **alike.counts(defect), pair=pair.count(defect))
        found.append(_with_own_tiles(told, others, batched, here))
    return sorted(found, key=lambda each: (-(each.chance or 0.0), DEFECTS.index(each.defect)))


def _with_own_tiles(
    found: Forecast, others: "Sequence[TileRecord]", batched: "Sequence[TileRecord]", view: View
) -> Forecast:
    """With what own tiles, and of them the ``batched``, tell of this fault beside the chance."""
    found = with_late(found, others, view)
    found = with_label(with_early(found, others, view), view)
    if found.chance is not None:
        found = counted(found, *own_count(others, view))
    if found.seen and (told := by_batch(batched, view)):
        return replace(found, own_count=told, own_count_by="batch", own_count_is_far=False)
    return found


def _before_firing(record: "TileRecord") -> "TileRecord":
    """The tile without what only the finished one tells: the looks at it, and its fired coat."""
    bare = record.model_copy(deep=True, update={"inspections": []})
    for area in bare.areas:
        for layer in area.layers:
            setattr(layer, FIRED_COAT, None)
    return bare


def state_of(state: str, verdict: "Verdict | None", *, is_biased: bool = False) -> str:
    """The learner's state, or that what it learned is of no use, or was never judged.

    ``is_biased``: failures alone are on record.
    """
    if state != LEARNED:
        return state
    if is_biased:
        return FAILURES_ONLY
    if verdict is None:
        return NOT_JUDGED
    return state if verdict.beats_base_rate else NO_BETTER


def _one(
    row: LeftOpen, view: View, chance: "Chance", state: str, facts: Mapping[str, Measure]
) -> Forecast:
    """What the learner tells of one fault, or which way common practice leans."""
    learned, evidence = row.learned.defects[view.defect], row.seen.evidence(view.defect)
    head = (view.defect, state, learned.inspected, learned.seen)
    feared = by_practice(view.defect, evidence, facts)
    if state != LEARNED:
        hazard = float(evidence.log_hazard[0])
        leans = "more" if hazard > LEANS else "less" if hazard < -LEANS else "as usual"
        return Forecast(*head, leans, feared=feared)
    is_special = chance.is_special and abs(chance.chance - chance.usual) >= LEAST_POINTS
    leans = "as usual" if not is_special else "more" if chance.chance > chance.usual else "less"
    return Forecast(
        *(*head, leans, chance.chance, chance.low, chance.high, chance.usual),
        feared=feared,
        drivers=drivers(row, view, facts),
    )


def unlike(
    model: "Model", record: "TileRecord", area: int, others: "Sequence[TileRecord]" = ()
) -> list[str]:
    """What about an area was never met on the inspected tiles; empty for an ordinary one.

    ``others`` are own tiles, to see whether its layers were ever together.
    """
    facts = measures(record.model_copy(update={"inspections": []}), area)
    glaze, body = seen_from(record, area).glaze_name, record.body.name
    found = [
        f"{name}: no inspected tile has it"
        for kind, name in (("glaze", glaze), ("body", body))
        if name and name != UNNAMED and not model.learned.has_met(kind, name_key(name))
    ]
    found += _never_together(record, area, others)
    for name in model.unlike_in(record, area):
        met = model.learned.met[name]
        said = facts[name].said if name in facts else name.replace("_", " ")
        # Cones are told as cones; how many steps lie between them tells nobody anything.
        has_span = met and not isinstance(met[0], str) and measure_words()[name].unit != "cones"
        found.append(f"{said} (yours: {met[0]:g} to {met[1]:g})" if has_span else said)
    return found


def _never_together(record: "TileRecord", area: int, others: "Sequence[TileRecord]") -> list[str]:
    """Two layers, one next over the other, that no inspected area has both of.

    Of a layer that lies on none at all there is nothing to say of its company.
    """
    own = [layer.glaze.name for layer in seen_from(record, area).layers]
    met = [{name_key(each.glaze.name) for each in its.layers} for _, its in looked_at(others)]
    known = set().union(*met)
    return [
        f"{over} over {below}: no inspected tile has them together"
        for below, over in pairwise(own)
        if {name_key(below), name_key(over)} <= known
        and not any({name_key(below), name_key(over)} <= each for each in met)
    ]
