"""First looks of one person that all found nothing, where others' of the same loads found faults.

First looks are held against first looks alone: who looks a second time, months later perhaps, sees
more, and of who only looks again at what somebody wrote down before nobody expects more.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from diagnose.comparing.exact_test import two_groups
from tiles.queries.written import words_of
from tiles.records.derived import firing_key
from tiles.records.forms import InspectionRecord, TileRecord
from tiles.records.looks import NEVER_HEAL

FEWEST_TILES, FEWEST_LOADS = 8, 3
"""Of fewer it may be one good load, or one kind of tile (estimates)."""
SURE = 0.01
"""Chance must do it less often, after allowing for how many wordings were looked at: a tale of
somebody's work wants more than the usual 1 time in 20 (an estimate)."""
LATE = NEVER_HEAL
"""What may have come after a look, and tells nothing of it."""
_WHO = re.compile(
    r"\b(?:look|check|inspect|examin|judg|record|unload|enter|not(?=e))\w*(?: \w+){0,2} by (?=\w)"
    r"|\b(?:seen|read|written) by (?=\w)|^by (?=\w)|\b(?:assistant|helper|volunteer|trainee)s?\b"
)
"""Words of who looked. Those of what was seen ("sound") stand on clean tiles alone, and must."""


@dataclass(frozen=True)
class NothingSeen:
    """All tiles first looked at with this note were found clean by it.

    On ``faulty`` of the ``others`` in ``loads`` of theirs a first look found a fault, `LATE` ones
    left out; ``chance`` would part the two so.
    """

    note: str
    marks: list[str]
    faulty: int
    others: int
    loads: int
    chance: float


def tells_who(look: InspectionRecord) -> bool:
    """Whether the note of a look says who looked.

    Examples
    --------
    >>> day = "2026-01-10"
    >>> notes = "Looked at by Ann", "checked: sound", "by the class", "by and by"
    >>> [tells_who(InspectionRecord(inspected_on=day, note=each)) for each in notes]
    [True, False, True, True]
    """
    return bool(_WHO.search(words_of(look.note or "").strip()))


def first_looks(record: TileRecord) -> list[InspectionRecord]:
    """The looks at a tile on the first day that anybody looked at it."""
    first = min((look.inspected_on for look in record.inspections), default=None)
    return [look for look in record.inspections if look.inspected_on == first]


def nothing_seen(records: Sequence[TileRecord]) -> list[NothingSeen]:
    """Each wording of who looked first by which nothing was found, unlike chance would have it.

    The tiles of each load are compared by themselves: failed ones are dealt out at random within
    it. A load in which nobody else looked first tells nothing; nor do first looks of somebody who
    found a fault at any look.
    """
    looks: dict[str, list[tuple[TileRecord, InspectionRecord]]] = defaultdict(list)
    who_found: set[str] = set()
    for record in records:
        for look in filter(tells_who, first_looks(record)):
            looks[words_of(look.note)].append((record, look))
        who_found |= {words_of(look.note or "") for look in record.inspections if look.defects}
    enough = {who: of for who, of in looks.items() if len(_marks(of)) >= FEWEST_TILES}
    clean = [of for who, of in enough.items() if who not in who_found]
    found = (_of_wording(each, records, len(enough)) for each in clean)
    return [each for each in found if each.loads >= FEWEST_LOADS and each.chance < SURE]


def _of_wording(
    looks: list[tuple[TileRecord, InspectionRecord]], records: Iterable[TileRecord], wordings: int
) -> NothingSeen:
    marks = _marks(looks)
    own = Counter(firing_key(each) for each in {each.mark: each for each, _look in looks}.values())
    beside = defaultdict(list)
    for each in records:
        load = firing_key(each)
        if load and load in own and each.inspections and each.mark not in marks:
            beside[load].append(_is_faulty(each))
    strata = [((0, own[load]), (sum(seen), len(seen))) for load, seen in beside.items()]
    told = sum(many for (_none, many), _others in strata)
    chance = min(1.0, wordings * two_groups(strata)) if told >= FEWEST_TILES else 1.0
    seen = [each for load in beside.values() for each in load]
    spelt = Counter(look.note for _record, look in looks).most_common(1)[0][0]
    return NothingSeen(spelt, list(marks), sum(seen), len(seen), len(strata), chance)


def _marks(looks: Iterable[tuple[TileRecord, InspectionRecord]]) -> dict[str, None]:
    return dict.fromkeys(record.mark for record, _look in looks)


def _is_faulty(record: TileRecord) -> bool:
    """Whether a first look found a fault that comes at once."""
    return any(seen.defect not in LATE for look in first_looks(record) for seen in look.defects)
