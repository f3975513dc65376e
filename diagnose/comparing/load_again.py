"""Tiles made like those of a load that failed as a whole, fired in other loads."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.comparing.counted import Counted
from tiles.records.derived import firing_key
from tiles.records.words import name_key, same_name

if TYPE_CHECKING:
    from diagnose.comparing.set_apart_pairs import Side
    from diagnose.next_tiles.odds import Inspected
    from tiles.records.forms import TileRecord


@dataclass(frozen=True)
class Again:
    """A tile ``mark`` made, as far as is recorded, like tile ``of`` of the load, in another one.

    ``failed``: it has the fault as well; ``is_since``: it was fired after that load;
    ``is_control``: it was planned to tell that.
    """

    mark: str
    of: str
    failed: bool
    is_since: bool
    is_control: bool = False


@dataclass(frozen=True)
class FailedLoad:
    """The tiles of a load that failed as a whole, and those made like one of them elsewhere.

    ``bad_too`` are other loads of which a good part failed, as names are compared: what failed
    there tells of no make, and is not among ``again``.
    """

    firing: str
    marks: tuple[str, ...]
    again: tuple[Again, ...]
    bad_too: frozenset[str] = frozenset()


def failed_load(side: "Side", areas: Sequence[Counted]) -> FailedLoad:
    """What is on record of the tiles on the failing side, and of their like in other loads.

    Parameters
    ----------
    side : Side
        The load, from `of_load.fails_as_a_whole`.
    areas : sequence of Counted
        The areas that were counted.
    """
    from diagnose.next_tiles.odds import Inspected, layers_of
    from diagnose.own_tiles.load import that_may_have_failed

    failed = [each for each in areas if each.failed and side.has(each.values)]
    glazes = ((each.record, each.values.get("glaze")) for each in areas if each.failed)
    bad = that_may_have_failed(glazes, {each.record.mark: each.record for each in areas}.values())
    elsewhere, did = Inspected(), {}
    for each in areas:
        if firing_key(each.record) not in ("", *bad) and not side.has(each.values):
            made = layers_of(each.record, each.area)
            elsewhere.setdefault(made, []).append((each.record, each.area))
            did[id(each.area)] = each.failed
    found: dict[tuple[str, str], Again] = {}
    for each in failed:
        for record, area in _made_alike(each, elsewhere):
            key = record.mark, each.record.mark
            is_so = did[id(area)] or (key in found and found[key].failed)
            when = _is_since(record, each.record)
            found[key] = Again(*key, is_so, when, _is_control_of(each.record, record))
    marks = tuple(dict.fromkeys(each.record.mark for each in failed))
    firing = failed[0].record.firing.name
    return FailedLoad(firing, marks, tuple(found.values()), bad - {name_key(firing)})


def _is_control_of(failed: "TileRecord", record: "TileRecord") -> bool:
    from diagnose.trials.tried import is_control

    return is_control(record) and same_name(record.trial_of, failed.mark)


def _made_alike(each: Counted, elsewhere: "Inspected") -> list:
    """The areas elsewhere that were glazed and bisqued like one, however they were fired.

    Where its coats were not counted, only those that were planned so; never a trial of a change,
    which may not be on its record.
    """
    from diagnose.fixes.steps_fire import COOLED_SLOWLY
    from diagnose.next_tiles.odds import AS_IT_WAS, made_like
    from diagnose.trials.tried import is_control

    record, is_counted = each.record, all(layer.coats for layer in each.area.layers)
    clues = {name: told for name, told in record.clues.items() if name != COOLED_SLOWLY}
    unfired = {"firing": None, "shelf": None, "cone_reached": None, "clues": clues}
    made = made_like(elsewhere, record.model_copy(update=unfired), each.area.number, AS_IT_WAS)
    made = [one for one in made if not one[0].trial_of or is_control(one[0])]
    return [one for one in made if is_counted or _is_control_of(record, one[0])]


def _is_since(record: "TileRecord", load: "TileRecord") -> bool:
    days = record.firing.fired_on, load.firing.fired_on
    return None not in days and days[0] > days[1]
