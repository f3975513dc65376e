"""What a person must confirm, and what cannot be: checks over a whole tile record.

A cone far outside what a label says is possible, but far more often a slip of the pen: cone 05
and cone 5 are nine steps and about 155 C apart. So is a peak far from the target cone, or a coat
of 8 mm, where 0.8 mm was meant.
"""

from collections.abc import Collection, Iterable
from datetime import date, timedelta

from tiles.chemistry import cones
from tiles.errors import InvalidValue, Questioned
from tiles.records.answered import REACHED, not_answered
from tiles.records.bare_clay import HINT_OF_BARE, bare_questions
from tiles.records.coats import coat_questions
from tiles.records.derived import (
    bisque_cone,
    bisque_read,
    cone_near_peak,
    cone_reached,
    label_range,
    layers_of,
    set_or_read,
)
from tiles.records.far_labels import (
    EARTHENWARE_TOP,
    TARGET,
    FarOutside,
    Label,
    both_scales,
    far_apart,
    far_edge,
    far_from,
    label_of_body,
    label_of_glaze,
    spoken_cone,
)
from tiles.records.forms import FiringRecord, InspectionRecord, TileRecord
from tiles.records.load_cone import load_questions
from tiles.records.looks import hint_of_looks, look_questions
from tiles.records.spoken import some
from tiles.records.trial_questions import HINT_OF_TRIALS, trial_questions

PEAK_OFF_C = 100.0
"""The heating rate, a hold and the thermocouple move the peak of a cone by less (common practice,
no source)."""
_OF_A_PEAK = "peak"
OF_DAY = "fired on"
"""How a question of the day of a firing begins."""
FARTHEST_PLAN = timedelta(days=366)
"""Nobody plans a firing for a later day (an estimate)."""
_EITHER = "the other cone if this was a slip, or --yes if it really was so."
_PEAK = "the right peak or target cone, or --yes if it really was so."
_OF_PEAK = "another firing, clay or glaze if this was a slip, or --yes if it really was so."
_DAY = "the day it was fired, or --yes if it really was so."
_COAT = "the thickness in mm, such as 0.8, or --yes if it really was so."


def refuse_contradictions(record: TileRecord) -> None:
    """Dates out of order cannot both be right.

    Raises
    ------
    InvalidValue
        Names both dates.
    """
    fired = ("fired", record.firing.fired_on if record.firing else None)
    bisque = ("bisque fired", record.bisque_firing.fired_on if record.bisque_firing else None)
    looks = [("inspected", look.inspected_on) for look in record.inspections]
    first_look = min(looks, key=lambda look: look[1], default=("inspected", None))
    order = [("made", record.made_on), ("glazed", record.glazed_on), fired, first_look]
    _refuse_disorder(record.mark, order)
    _refuse_disorder(record.mark, [("made", record.made_on), bisque, fired])


def _refuse_disorder(mark: str, order: list[tuple]) -> None:
    known = [(what, day) for what, day in order if day is not None]
    for (what, day), (next_what, next_day) in zip(known, known[1:], strict=False):
        if next_day < day:
            raise InvalidValue(
                f"{mark} would be {next_what} on {next_day}, before it was {what} on {day}.",
                "correct one of the two dates.",
                field="date",
                value=str(next_day),
            )


def refuse_days_to_come(mark: str, looks: Iterable[InspectionRecord]) -> None:
    """A look written down now was not made on a day to come.

    Only what a person or a file brings is held against the clock, never what is stored: the clock
    of a computer may be wrong.

    Raises
    ------
    InvalidValue
        Names the day.
    """
    for look in looks:
        if is_to_come(look.inspected_on):
            raise InvalidValue(
                f"{mark} would be inspected on {look.inspected_on}, a day to come.",
                f"the day of the look, such as today, {date.today()}.",
                field="inspected_on",
                value=str(look.inspected_on),
            )


def is_to_come(day: date) -> bool:
    """Whether a day is still to come everywhere; east of here it is tomorrow already."""
    return day > date.today() + timedelta(days=1)


def questions(record: TileRecord) -> list[str]:
    """One sentence for each thing that is possible but unlikely; empty when all is usual."""
    return [said for asks in _ASKS for said in asks(record)]


def all_questions(record: TileRecord) -> list[str]:
    """Those of a tile and of the firings it names."""
    firings = [each for each in (record.bisque_firing, record.firing) if each]
    of_firings = [said for each in firings for said in firing_questions(each)]
    return list(dict.fromkeys(questions(record) + of_firings))


def _cone_questions(record: TileRecord) -> list[str]:
    labels, firing = _labels(record), record.firing
    if firing and firing.target_cone and cone_reached(record):
        labels.append((f"{TARGET} of {firing.name}", firing.target_cone, firing.target_cone))
    return [each.said for each in _far_outside(record, labels)] + _bisque_questions(record)


_ASKS = _cone_questions, coat_questions, look_questions, bare_questions, trial_questions


def far_outside(record: TileRecord) -> list[FarOutside]:
    """Where a firing of a tile, done or planned, lies far outside a label's range."""
    above = [FarOutside(said, is_above=True) for said in _bisque_above_label(record)]
    return _far_outside(record, _labels(record)) + above


def far_peak(record: TileRecord) -> str | None:
    """The cone nearest to a peak far outside a label, where no cone was read or set.

    Nearer to it a peak tells nothing: rate, hold and thermocouple move it by a step or two.
    """
    firing = record.firing
    if not (firing and firing.peak_c) or firing.target_cone or cone_reached(record):
        return None
    near = cone_near_peak(firing)
    return near if any(far_edge(near, low, high) for _, low, high in _labels(record)) else None


def tells_heat(record: TileRecord) -> bool:
    """Whether a cone or a peak of its glaze firing, reached or planned, is on record."""
    return bool(_fired_cones(record))


def is_within_labels(record: TileRecord, cone: str) -> bool:
    """Whether a cone lies within the range of every label of the tile's clay and glazes."""
    return all(not cones.steps_outside(cone, low, high) for _, low, high in _labels(record))


def _far_outside(record: TileRecord, labels: list[Label]) -> list[FarOutside]:
    return [each for fired in _fired_cones(record) for each in far_from(*fired, labels)]


def mismatches(record: TileRecord) -> list[str]:
    """One sentence for each glaze whose label shares no cone with the body's, far apart."""
    return far_apart(*_labels(record))


def require_confirmation(record: TileRecord, before: Collection[str] = ()) -> None:
    """Ask before storing what is possible but unlikely.

    Parameters
    ----------
    record : TileRecord
        As it would be stored.
    before : collection of str
        Questions the tile raised as it stood on record: they were confirmed then.

    Raises
    ------
    Questioned
        With every question; nothing has been stored.
    """
    found = [not_answered(asks(record), before) for asks in _ASKS]
    of_cones, of_coats, of_looks, of_bare, of_trial = found
    asked = dict.fromkeys(sum(found, []))
    if asked:
        is_of_peak = all(each.startswith(_OF_A_PEAK) for each in of_cones)
        ways = (
            (of_cones, _OF_PEAK if is_of_peak else _EITHER, "cone"),
            (of_coats, _COAT, "thickness_mm"),
            (of_looks, hint_of_looks(record, of_looks), "inspected_on"),
            (of_bare, HINT_OF_BARE, "defects"),
            (of_trial, HINT_OF_TRIALS, "batch"),
        )
        hint, field = next(way[1:] for way in ways if way[0])
        said = f"{record.mark}: {' '.join(asked)}"
        raise Questioned(said, hint, field=field, value=record.mark)


def firing_questions(record: FiringRecord) -> list[str]:
    """One sentence for each cone read, peak or day that is unlikely, and for a hot bisque."""
    return _firing_cone_questions(record) + _peak_questions(record) + _day_questions(record)


def require_firing_confirmation(
    record: FiringRecord,
    before: Collection[str] = (),
    of_tiles: Collection[tuple[str, str]] = (),
    of_others: Collection[str] = (),
) -> None:
    """Ask before storing a firing that is possible but unlikely.

    Parameters
    ----------
    record : FiringRecord
        As it would be stored.
    before : collection of str
        Questions the firing raised as it stood on record: they were confirmed then.
    of_tiles : collection of tuple
        Mark and question of each tile in it for which the change raises one.
    of_others : collection of str
        Questions that other firings raise.

    Raises
    ------
    Questioned
        With every question about the firing itself; of its tiles, all marks and one question.
    """
    of_cones = not_answered([*_firing_cone_questions(record), *of_others], before)
    of_peak = not_answered(_peak_questions(record), before)
    of_day = not_answered(_day_questions(record), before)
    own, name = list(dict.fromkeys(of_cones + of_peak + of_day)), f"firing {record.name}"
    told = f"{name}: {' '.join(own)}" if own else ""
    if of_tiles:
        marks = some(sorted({mark for mark, _asked in of_tiles}))
        held = f"holds {marks}: {min(of_tiles)[1]}"
        told = f"{told} It {held}" if told else f"{name} {held}"
    of_cones += [each for _mark, each in of_tiles if not each.startswith(_OF_A_PEAK)]
    if told and of_cones:
        raise Questioned(told, _EITHER, field="cone")
    if told and of_day and own == of_day:
        raise Questioned(told, _DAY, field="fired_on", value=str(record.fired_on))
    if told:
        raise Questioned(told, _PEAK, field="peak_c", value=record.peak_c)


def _firing_cone_questions(record: FiringRecord) -> list[str]:
    target = [(TARGET, record.target_cone, record.target_cone)]
    cones_read = [(spoken_cone("witness cone", x.cone), x.cone) for x in record.witness_cones]
    far = [each.said for read in cones_read for each in far_from(*read, target)]
    return far + load_questions(record) + _hot_bisque(*_cone_of_bisque_firing(record))


def _peak_questions(record: FiringRecord) -> list[str]:
    target = record.target_cone
    off = record.peak_c - cones.temperature_c(target) if record.peak_c and target else 0.0
    if abs(off) <= PEAK_OFF_C:
        return []
    return [
        f"{_OF_A_PEAK} {both_scales(record.peak_c)} is far {'above' if off > 0 else 'below'} "
        f"cone {target} (about {both_scales(cones.temperature_c(target))}), the target."
    ]


def _day_questions(record: FiringRecord) -> list[str]:
    """A firing may be planned; but what was read in it tells that it is over."""
    if not (record.fired_on and is_to_come(record.fired_on)):
        return []
    said = f"{OF_DAY} {record.fired_on}, a day to come"
    if record.witness_cones:
        return [f"{said}, but its witness cone is read already."]
    if record.opened_c is not None:
        return [f"{said}, but it is opened already."]
    is_far = record.fired_on > date.today() + FARTHEST_PLAN
    return [f"{said} by more than a year."] if is_far else []


def _fired_cones(record: TileRecord) -> list[tuple[str, str]]:
    """How hot the tile was fired, as a sentence begins, and the cone that is."""
    reached, firing = cone_reached(record), record.firing
    if reached:
        by = "" if reached.said_by == "tile" else f", by the witness cone of {firing.name},"
        return [(f"{spoken_cone(REACHED, reached.cone)}{by}", reached.cone)]
    if firing and firing.target_cone:
        return [(spoken_cone("target cone", firing.target_cone), firing.target_cone)]
    if firing and firing.peak_c:
        return [(_of_peak(firing), cone_near_peak(firing))]
    return []


def _bisque_questions(record: TileRecord) -> list[str]:
    """A bisque far hotter than the clay's label, else one hotter than almost all bisque is.

    Of a clay of which something is known, a bisque firing as hot was asked about by itself.
    """
    if above := _bisque_above_label(record):
        return above
    is_known = bool(label_of_body(record.body)[2] or record.body.kind)
    if is_known and _hot_bisque(*_cone_of_bisque_firing(record.bisque_firing)):
        return []
    return _hot_bisque(*_bisque_of(record))


def _bisque_above_label(record: TileRecord) -> list[str]:
    """A bisque far hotter than the clay's label; a cooler one is how bisque is done."""
    (said, cone), (name, _low, top) = _bisque_of(record), label_of_body(record.body)
    return _far_above(said, cone, name, top)


def _bisque_of(record: TileRecord) -> tuple[str, str | None]:
    """How hot the bisque was, as a sentence begins, and that cone: of several the hottest."""
    known, read = bisque_cone(record), bisque_read(record.bisque_firing)
    cone = known.cone if known else read and read[1]
    return _said_or_peak("bisque cone", cone, record.bisque_firing)


def _said_or_peak(
    what: str, cone: str | None, firing: FiringRecord | None
) -> tuple[str, str | None]:
    near = None if cone else cone_near_peak(firing)
    return (spoken_cone(what, cone) if cone else _of_peak(firing) if near else ""), cone or near


def _hot_bisque(said: str, cone: str | None) -> list[str]:
    """Real, where a clay is bisqued high to be glazed at low fire; 4 for 04 most often."""
    return _far_above(said, cone, "bisque (common practice)", EARTHENWARE_TOP)


def _far_above(said: str, cone: str | None, name: str, top: str | None) -> list[str]:
    return [each.said for each in far_from(said, cone, [(name, None, top)])] if cone else []


def _cone_of_bisque_firing(firing: FiringRecord | None) -> tuple[str, str | None]:
    """The same of a bisque firing: what it was set for, else its hottest witness, else its peak."""
    if not firing or firing.kind != "bisque":
        return "", None
    return _said_or_peak(*set_or_read(firing), firing)


def _labels(record: TileRecord) -> list[Label]:
    glazes = {layer.glaze.name: layer.glaze for layer in layers_of(record)}
    named = [label_of_glaze(name, label_range(each)) for name, each in glazes.items()]
    return [label_of_body(record.body), *named]


def _of_peak(firing: FiringRecord) -> str:
    return f"{_OF_A_PEAK} {both_scales(firing.peak_c)} of {firing.name}"
