"""The control fired beside a trial: where it is sound as well, the trial tells nothing."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import AS_SET, CONE_REACHED, SHELF
from tiles.records.derived import firing_key, shows
from tiles.records.gone import telling_looks
from tiles.records.words import name_key

if TYPE_CHECKING:
    from diagnose.own_tiles.late_looks import LateLooks
    from tiles.records.forms import TileRecord


def sound_beside(
    trial: "TileRecord", controls: "Sequence[TileRecord]", late: "LateLooks"
) -> tuple[str, ...]:
    """The controls of the firing of a trial, if none of them has the fault.

    What made the tile fail was not there in that firing, so that no change of it was put to the
    test.

    Parameters
    ----------
    trial : TileRecord
        With a change, fired and looked at.
    controls : sequence of TileRecord
        The failed tile once more, in any firing.
    late : LateLooks
        How late the fault comes: a control that was looked at before that tells nothing.
    """
    beside = beside_it(trial, controls)
    if any(shows(each, area, late.defect) for each in beside for area in each.areas):
        return ()
    return tuple(each.mark for each in beside if any(late.tells(each, a) for a in each.areas))


def beside_it(trial: "TileRecord", controls: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The controls of the firing of a trial that were looked at."""
    of = firing_key(trial)
    return [each for each in controls if telling_looks(each) and firing_key(each) == of]


def controls_of(
    trial: "TileRecord", record: "TileRecord", others: "Sequence[TileRecord]"
) -> "list[TileRecord]":
    """The controls of the set of a trial, whichever fault of its tile they were planned for.

    Where it is a trial for the tile that is asked about (or planned for none), and that is a
    control, also this itself and the others of its set; of a trial for another tile those of that.
    """
    from diagnose.trials.tried import is_control

    sets = sets_of(record)
    is_own = not trial.trial_of or trial.trial_of in sets
    of = {name_key(mark) for mark in (sets if is_own else [trial.trial_of])}
    tiles = (each for each in (*others, record) if is_control(each) and each.trial_of)
    return [each for each in tiles if name_key(each.trial_of) in of]


def sets_of(record: "TileRecord") -> list[str]:
    """The tiles whose trials are trials for this one: itself, and of a control the one it repeats.

    A control is made as that tile was, so that it is as good a start for each change.
    """
    from diagnose.trials.tried import is_control

    return [record.mark, *([record.trial_of] if is_control(record) and record.trial_of else [])]


def right_heat(trials: "Sequence[tuple[str, str]]") -> tuple[str, str] | None:
    """Of marks with their changes the one that goes as hot as it should for its change.

    To the right cone, or on a shelf that reached it.
    """
    heat = (f"{CONE_REACHED} ", f"{SHELF} ")
    return next((each for each in trials if each[1].startswith(heat)), None)


def why_no_control(mark: str, trials: "Sequence[tuple[str, str]]") -> str:
    """With what trials are compared where the tile as it was is not fired again; empty else.

    Parameters
    ----------
    mark : str
        The failed tile.
    trials : sequence of tuple
        The mark and the change of each trial, no control among them.
    """
    right = right_heat(trials)
    if right is None:
        return ""
    what = SHELF if right[1].startswith(f"{SHELF} ") else CONE_REACHED
    before = right[1].removeprefix(f"{what} ").partition(" -> ")[0].removesuffix(AS_SET)
    again = f"on shelf {before}" if what == SHELF else f"fired to cone {before}"
    beside = (
        f", and what is changed else, fired no hotter, with {right[0]}" if len(trials) > 1 else ""
    )
    return (
        f"No control: {again} again it would be over what clay or glaze stand. "
        f"Compare {right[0]} with {mark} itself{beside}."
    )
