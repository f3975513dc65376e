"""``tiles next`` without a tile: what to fire next, for the open faults of most tiles."""

from collections import Counter
from dataclasses import dataclass, field

from tiles.cli import next_loads
from tiles.cli.next_doubt import SETTLED
from tiles.cli.next_of import count_over_all, next_of
from tiles.errors import InvalidValue

ONE_SHELF = 12
"""Tiles that go on one shelf of a common classroom kiln (estimate)."""
LEAST, EACH = 2, 2
"""A control and one trial at least; trials of one fault at most, beside the control."""
TOLD, LITTLE_MORE = 0.5, 0.1
"""A cause likelier than that is told where trials were looked at, and what tiles are left to fire
clear up no more of the doubt than that (estimates)."""
ONCE_OF = 5
"""A fault of one tile of so many, or more, may be chance: no trial is worth its clay (estimate)."""
MOST_ASKED = 12
"""So many faults are looked into, which takes some seconds where there are a thousand tiles."""
FIRE, SHARED, BESIDE, OWN_FIRING, IS_SETTLED, WAITS, ONCE, APART, NOTHING, LEFT = (
    "fire",
    "told by the same trials",
    "beside another fault",
    "firing of its own",
    "settled",
    "waiting",
    "seen once",
    "no firing in common",
    "no trial tells",
    "left for later",
)
NO_FAULT = ""
"""The look is expected of the glaze, or was asked about under its right name."""


@dataclass
class Asked:
    """One open fault: the tile asked about, and what is fired for it at which cone.

    ``count`` is what is clear over all glazes, where the trials of this fault test it for all.
    """

    fault: object
    record: object
    cone: str | None
    state: str = LEFT
    found: object = None
    trials: list = field(default_factory=list)
    count: object = None

    @property
    def defect(self) -> str:
        """The fault, under its right name once its tile was asked about."""
        return self.found.defect if self.found else self.fault.defect


@dataclass(frozen=True)
class ForStudio:
    """The open faults, and what was asked for; ``most`` tiles go into one firing."""

    asked: list[Asked]
    defect: str | None
    cone: str | None
    most: int


def choose(defect: str | None, cone: str | None, most: int, db: str | None) -> tuple:
    """Every open fault, and the trials for those that have room in the firing to their cone.

    Raises
    ------
    InvalidValue
        No fault is open.
    """
    from tiles.chemistry.cones import read_cone
    from tiles.cli.next_stock import owned
    from tiles.cli.studio import all_records
    from tiles.records import words

    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    at = read_cone(cone) if cone else None
    records = all_records(db)
    trials = [each for each in records if each.trial_of and each.inspections]
    asked = [each for each in _open(records, wanted, trials) if at in (None, each.cone)]
    if not asked:
        of = f" of {wanted}" if wanted else ""
        to = f" at cone {at}" if at else ""
        hint = "'tiles next MARK' for one tile, as of what is retired, or 'tiles next --body NAME'."
        raise InvalidValue(f"no fault{of}{to} is open in this studio.", hint)
    count_of = count_over_all(records)
    studio, done = (owned(db), records, db, count_of), set()
    asked = next_loads.by_load(asked, trials, studio)
    asked = _most_first([each for each in asked if at in (None, each.cone)], count_of)
    room = {each.cone: most for each in asked}
    for cone, many in _unfired(asked).items():  # what waits for a firing has its place in it
        room[cone] -= many
    for each in asked:
        # Another of its tiles, if there is one in that firing.
        if each.record.mark in done and not each.fault.is_of_load:
            other = each.fault.record(trials, done)
            each.record = other if cone_of(other) == each.cone else each.record
        if not _passed_over(each.fault) and next_loads.is_told_beside(each, asked):
            each.state = SHARED
            continue
        is_enough = sum(one.found is not None for one in asked) >= MOST_ASKED
        _look_into(each, 0 if is_enough else room[each.cone], done, studio)
        room[each.cone] -= len(each.trials)
    asked = [each for each in asked if each.state != NO_FAULT]
    return ForStudio(asked, wanted, at, most), [one for each in asked for one in each.trials]


def _most_first(asked: list[Asked], count_of) -> list[Asked]:
    """What is clear over all glazes goes by all tiles that failed so: one trial tests it for them.

    The first fault that is looked into and lies on the failing side stands for it.
    """
    from tiles.records.derived import shows
    from tiles.records.words import OTHER_FAULT

    told, of_load = {OTHER_FAULT}, {each.fault.defect for each in asked if each.fault.is_of_load}
    for each in asked:
        fault, record = each.fault, each.record
        if _passed_over(fault) or fault.defect in told or fault.is_of_load:
            continue
        area = next((a.number for a in record.areas if shows(record, a, fault.defect)), None)
        more = (one for one in count_of(fault.defect).counts if one.failed > len(fault.failed))
        more = (one for one in more if fault.defect not in of_load or one.of_load is None)
        each.count = next((one for one in more if one.holds_of(record, area)), None)
        told |= {fault.defect} if each.count else set()
    return sorted(
        asked,
        key=lambda each: (
            each.defect == OTHER_FAULT,
            -(each.count.failed if each.count else len(each.fault.failed)),
        ),
    )


def _passed_over(fault) -> str:
    """Why no trial is looked for, empty where one is; of one tile of many it may be chance."""
    if fault.waiting:
        return WAITS
    if len(fault.failed) == 1 and fault.tiles >= ONCE_OF:
        return ONCE
    return APART if fault.is_apart else ""


def _unfired(asked: list[Asked]) -> dict[str | None, int]:
    """How many trials wait for a firing to each cone; one may be of several faults."""
    waiting = {
        (each.cone, trial.mark)
        for each in asked
        for trial in each.fault.waiting
        if trial.firing is None
    }
    return dict(Counter(cone for cone, _ in waiting))


def _open(records: list, defect: str | None, trials: list) -> list[Asked]:
    from diagnose.next_tiles.open_faults import open_faults

    found = []
    for fault in open_faults(records, defect):
        record = fault.record(trials)
        found.append(Asked(fault, record, cone_of(record)))
    return found


def cone_of(record) -> str | None:
    """To which a trial of the tile is fired."""
    from diagnose.view import View

    view = View(record)
    return view.target or view.cone_reached


def _look_into(each: Asked, left: int, done: set, studio: tuple) -> None:
    """Find the trials of one fault, unless its tile was asked about for another one already."""
    if state := _passed_over(each.fault):
        each.state = state
    elif each.fault.is_of_load:
        next_loads.look_into(each, left)
        done.add(each.record.mark)
    elif left >= LEAST:
        diagnosis, each.found = next_of(each.record, each.fault.defect, *studio)
        fault = each.fault.name, each.found.defect, each.fault.words
        if not diagnosis.is_fault or fault in done:
            each.state = NO_FAULT
        elif each.found.is_of_load and each.record.mark not in done:
            next_loads.look_into(each, left)
        else:
            each.state = BESIDE if each.record.mark in done else _state(each.found)
            each.trials = _trials(each.found, left) if each.state == FIRE else []
        done |= {each.record.mark, fault}


def _state(found) -> str:
    if found.stop:
        return APART
    if found.causes[0][1] >= SETTLED or _is_told(found):
        return IS_SETTLED
    if _changes(found):
        return FIRE
    return OWN_FIRING if any(each.own_firing for each in found.tiles) else NOTHING


def _is_told(found) -> bool:
    """Whether its trials have told the cause, as far as any will."""
    is_little = found.told_bits <= LITTLE_MORE * found.open_bits
    return bool(found.tried) and is_little and found.causes[0][1] > TOLD


def _trials(found, left: int) -> list:
    """The control, and the changes that tell most.

    A fault of fit lies between glaze and clay: another clay goes first, where one is owned.
    """
    from tiles.records.words import OF_FIT

    control = [found.control] if found.control else []
    changes = _changes(found)
    if found.defect in OF_FIT:
        other_clay = [each for each in changes if each.kind == "body"][:1]
        changes = other_clay + [each for each in changes if each not in other_clay]
    return [*control, *(each.trial for each in changes[: min(EACH, left - len(control))])]


def _changes(found) -> list:
    """Those that need no firing of their own but in another kiln, and bring no poison."""
    from diagnose.fixes.shapes import KILN

    is_on_a_shelf = ((each, not each.own_firing or each.kind == KILN) for each in found.tiles)
    return [each for each, is_so in is_on_a_shelf if is_so and not each.holds]
