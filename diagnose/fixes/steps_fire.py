"""Steps at the kiln: cone within the label, hold, rate, cooling."""

from diagnose.colour_layer import judged
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.shapes import AS_SET, CONE_REACHED, COOLING, HOLD, OPENED, PLACE, Change
from diagnose.own_tiles.right_shelf import RightShelf, right_shelf, stands_on
from tiles.chemistry.cones import band, cone_at, step, steps_between, steps_outside
from tiles.records.derived import label_range
from tiles.records.spoken import spoken_range
from tiles.records.words import name_key

HOLD_MIN, SHORT_HOLD_MIN = 15, 10
"""A hold that heals, and a short one: 10 to 20 min is usual."""
LAST_RATE_C_PER_H = 65
"""Last 100 C of the glaze firing: 60 to 70 C/h (67 read)."""
COOLED_SLOWLY = "cooled_slowly"
FIRED_DOWN = "in a kiln that can be fired down"
"""Few kilns without a controller cool so slowly by themselves (common practice, no source)."""
"""The clue that says so."""
OPEN_C = 100
"""Lid shut until then (100 to 120 C, read)."""
COOL_RATE_C_PER_H = 60
"""Through 650 to 500 and 300 to 150 C: 50 to 80 C/h."""
CRYSTAL_RATE_C_PER_H = 60
"""From 1000 to 800 C, where the crystals of a matt grow: 50 to 60 C/h (common practice)."""
CONE_HOLD = "one cone is about 1 to 2 hours of hold, or 15 to 30 °C"
"""Kiln sellers and the cone chart (read)."""


def reach_cone(bench: Bench) -> Step | None:
    """The cone that was meant, as far as label and clay allow; the nearest witness cone decides."""
    reached = bench.view.cone_fired
    meant = bench.target or (bench.label and _middle(bench.label))
    if reached is None or not meant:
        return None
    return _cone(bench, reached, meant)


def in_range(bench: Bench) -> Step | None:
    """A firing within the label and the clay's range, at its nearer end."""
    reached = bench.view.cone
    if reached is None or bench.label is None:
        return None
    return _cone(bench, reached, reached)


def hotter_in_range(bench: Bench) -> Step | None:
    """A firing within the label, or from its cool end to its middle."""
    made, reached = in_range(bench), bench.view.cone
    if made or reached is None or bench.label is None:
        return made
    middle = _middle(bench.label)
    return _cone(bench, reached, middle) if steps_between(reached, middle) > 0 else None


def _middle(label: tuple[str, str]) -> str:
    return cone_at(sum(map(step, label)) / 2)


def cooler(bench: Bench) -> Step | None:
    """The cool end of the label, as far as the clay allows; of a colour beneath that of its own.

    Also where no cone was read but the kiln was set over the label.
    """
    reached, label = bench.view.cone_fired, judged(bench.view).label
    if reached is None and label and bench.target and steps_outside(bench.target, *label) > 0:
        reached = bench.target
    if reached is None or label is None:
        return None
    aim = bench.within_both(label[0])
    if aim is None or steps_between(aim, reached) <= 0:
        return None
    return _cone(bench, reached, aim, label)


def _cone(
    bench: Bench, reached: str, meant: str, label: tuple[str, str] | None = None
) -> Step | None:
    """A firing to another cone; ``label`` where it is not that of the uppermost glaze."""
    aim = bench.within_both(meant)
    if aim is None or aim == reached:
        return None
    by = steps_between(reached, aim)
    if right := _shelf_instead(bench, reached, aim):
        return _to_shelf(right)
    told = f"{abs(by):g} cone{'s' if abs(by) != 1 else ''} {'hotter' if by > 0 else 'cooler'}"
    changes = [Change(CONE_REACHED, _as_known(bench, reached), aim)]
    if label := label or bench.label:
        told += f", label {spoken_range(label).removeprefix('cone ')}"
    spoils = f"Other ware in the load feels it too; {CONE_HOLD}: let a witness cone decide."
    spoils += _of_clay(bench, aim, by)
    title = f"Right cone ({told})"
    firing = f"to reach cone {aim}"
    if _is_unknown_heat(bench, aim, by):
        firing += f" if the bag of {bench.record.body.name} allows that"
    return Step("cone", title, changes, spoils, firing=firing)


def _shelf_instead(bench: Bench, reached: str, aim: str) -> RightShelf | None:
    """The shelf that gives the same heat in the same firing; it must be one to send ware to.

    Not of a trial that was fired: a firing of its own that reached the cone is no other shelf.
    """
    right = None if bench.is_fired else stands_on(bench.record)
    if right is None or name_key(right.name) in bench.off_shelves:
        return None
    return right if (right.cone_here, right.cone) == (reached, aim) else None


def _as_known(bench: Bench, reached: str) -> str:
    """The cone of a tile: as it was read, about that of its peak, or as the kiln was set."""
    if bench.view.cone_fired is None:
        return f"{reached}{AS_SET}"
    is_of_peak = bench.view.cone_fired == reached and not bench.view.cone_reached
    return f"about {reached}" if is_of_peak else reached


def _is_unknown_heat(bench: Bench, aim: str, by: float) -> bool:
    """Whether a clay of which no range is on record goes hotter, and may melt there."""
    return label_range(bench.record.body) is None and by > 0 and band(aim) != "low fire"


def _of_clay(bench: Bench, aim: str, by: float) -> str:
    """What the firing means for the clay."""
    body = bench.record.body
    known = label_range(body)
    if known is None:
        told = f" The range of {body.name} is not on record: read its bag first; a clay"
        told += " fired too hot slumps and melts on to the shelf."
        return told if _is_unknown_heat(bench, aim, by) else ""
    told = f" {body.name} is for {spoken_range(known)}"
    if step(aim) < step(known[0]):
        return f"{told}: at cone {aim} it stays more porous unless its bisque went that hot."
    return f"{told}."


def hold(bench: Bench) -> Step | None:
    """Time at the top; a slower last 100 °C where that was long enough."""
    held = bench.firing.hold_min if bench.firing else None
    if held is not None and held >= HOLD_MIN:
        return slower_end(bench)
    changes = [Change(HOLD, held, HOLD_MIN, "min")]
    spoils = f"A hold adds heat work: {CONE_HOLD}; fluid glazes run sooner."
    return Step("hold", "Time to heal", changes, spoils, firing=f"with {HOLD_MIN} min hold")


def slower_end(bench: Bench) -> Step | None:
    """A slower last 100 °C, where it is known to have been fast."""
    rate = bench.firing.rate_c_per_h if bench.firing else None
    if rate is None or rate <= LAST_RATE_C_PER_H * 1.2:
        return None
    changes = [Change("last 100 °C", rate, LAST_RATE_C_PER_H, "°C/h")]
    spoils = "A slow end adds heat work as a hold does: let a witness cone decide."
    firing = f"at {LAST_RATE_C_PER_H} °C/h over the last 100 °C"
    return Step("slower_end", "A slower end", changes, spoils, firing=firing)


def shorter_hold(bench: Bench) -> Step | None:
    """Less time at the top."""
    held = bench.firing.hold_min if bench.firing else None
    if held is None or held <= SHORT_HOLD_MIN:
        return None
    changes = [Change(HOLD, held, SHORT_HOLD_MIN, "min")]
    spoils = "Holes and brush marks have less time to heal."
    firing = f"with {SHORT_HOLD_MIN} min hold"
    return Step("shorter_hold", "Shorter hold", changes, spoils, firing=firing)


def open_later(bench: Bench) -> Step:
    """Lid shut."""
    opened = bench.firing.opened_c if bench.firing else None
    changes = [Change(OPENED, opened, OPEN_C, "°C or less")]
    firing = f"opened at {OPEN_C} °C"
    return Step("open_later", "Open later", changes, "You wait longer.", firing=firing)


def leave_shut(bench: Bench) -> Step | None:
    """As `open_later`, where it was opened hot."""
    opened = bench.firing.opened_c if bench.firing else None
    return open_later(bench) if opened and opened > OPEN_C else None


def cool_slower(bench: Bench) -> Step:
    """Slow through the two ranges in which silica jumps."""
    what = "cooling 650-500 and 300-150 °C"
    changes = [Change(what, None, COOL_RATE_C_PER_H, "°C/h at most")]
    spoils = "It takes hours longer."
    firing = f"cooled slowly, {FIRED_DOWN}"
    return Step("cool_slower", "Slower cooling", changes, spoils, firing=firing)


def cool_for_crystals(bench: Bench) -> Step | None:
    """Slow through the heat in which the crystals of a matt grow, where it was not."""
    if bench.view.clues.get(COOLED_SLOWLY) == "yes":
        return None
    before = "at its own pace" if bench.view.clues.get(COOLED_SLOWLY) == "no" else None
    changes = [Change(COOLING, before, CRYSTAL_RATE_C_PER_H, "°C/h at most")]
    spoils = "It takes 3 to 4 hours; other glazes of the load may turn matt or change colour."
    firing = f"cooled at {CRYSTAL_RATE_C_PER_H} °C/h at most from 1000 to 800 °C, {FIRED_DOWN}"
    edit = {COOLED_SLOWLY: "yes"}
    return Step("crystals", "Slow cooling for the matt", changes, spoils, edit, firing)


def cool_faster(bench: Bench) -> Step:
    """Quicker past the heat in which crystals grow, then shut."""
    changes = [Change("cooling from the top to 750 °C", None, "no hold, no firing down")]
    spoils = "Keep the lid shut below 700 °C: fast cooling there cracks ware."
    return Step("cool_faster", "Quicker cooling", changes, spoils, firing="cooled without a hold")


def dry_first(bench: Bench) -> Step:
    """Dry ware."""
    changes = [Change("drying before the firing", None, 24, "h")]
    return Step("dry_first", "Dry ware", changes, firing="bone dry")


def the_right_shelf(bench: Bench) -> Step | None:
    """The shelf of the same firing that reached the target, where the tile's own missed it."""
    right = right_shelf(bench.record, bench.cause)
    return right and _to_shelf(right)


def _to_shelf(right: RightShelf) -> Step:
    """The step to a shelf that reached the target."""
    title = f"Another shelf (cone {right.cone} there, cone {right.cone_here} here)"
    place = f"on shelf {right.name}, with a witness cone"
    return Step("right_shelf", title, [right.change], edit={"shelf": right.name}, place=place)


def other_shelf(bench: Bench) -> Step:
    """Another place in the kiln."""
    changes = [Change(PLACE, bench.record.shelf, "a shelf with its own witness cone")]
    place = "on another shelf, with a witness cone"
    return Step("other_shelf", "Another shelf", changes, place=place)
