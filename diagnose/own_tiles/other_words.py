"""Which own tiles show the same fault as one that has no word of its own.

"Went glossy" and "a child dropped it" are both kept as `OTHER_FAULT`. They are the same fault where
the rule base gives their words a cause in common; words that it does not know, only where they are
the same words.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from diagnose.measures.of_area import choose_area, measures
from diagnose.notes.reading import read
from diagnose.rules import load
from diagnose.view import sightings
from diagnose.weighing import applies, strength_for
from tiles.records.derived import own_words
from tiles.records.gone import is_in_pieces
from tiles.records.words import OTHER_FAULT, name_key

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.measures.of_area import Measure
    from tiles.records.forms import DefectSeen, TileRecord

    Meaning = frozenset[str]

ANOTHER = "another fault"
"""What a fault of another meaning is called beside this one: it is there, and is not this one."""


def that_mean_the_same(others: "Sequence[TileRecord]", case: "Case") -> "list[TileRecord]":
    """Own tiles as they tell of the fault of a case; of a fault of the list as they are.

    On the others a fault without a word of its own is this one, or is called `ANOTHER`; where
    nobody can tell which, the tile is left out, unless it is a trial for this one. What is no fault
    of a glaze (it was dropped), or was not told in words, other tiles tell nothing of.

    Parameters
    ----------
    others : sequence of TileRecord
        Own tiles. They are only read.
    case : Case
        The failed tile.
    """
    if case.defect != OTHER_FAULT:
        return list(others)
    own = _named(case.facts)
    words = {name_key(own_words(each)) for each in sightings(case.record, OTHER_FAULT)} - {""}
    faults = {cause.name for cause in load(OTHER_FAULT).causes if cause.is_fault}
    is_told = bool(own & faults if own else words)
    told = (_told(each, own, words, case) for each in others)
    return [each for each in told if each and (is_told or each.trial_of == case.record.mark)]


def _told(
    record: "TileRecord", own: "Meaning", words: set[str], case: "Case"
) -> "TileRecord | None":
    """One tile with its other faults named as this one or another; None where none can tell."""
    if not any(seen.defect == OTHER_FAULT for look in record.inspections for seen in look.defects):
        return record
    looks = []
    for look in record.inspections:
        defects = []
        for seen in look.defects:
            is_same = seen.defect != OTHER_FAULT or _is_same(record, seen, own, words)
            if is_same is None and record.trial_of != case.record.mark:
                return None
            named = seen.model_copy(update={"defect": ANOTHER}) if is_same is False else seen
            defects.append(named)
        looks.append(look.model_copy(update={"defects": defects}))
    if any(is_in_pieces(record, area) for area in record.areas) and not _shows(looks):
        return None
    return record.model_copy(update={"inspections": looks})


def _shows(looks: Sequence) -> bool:
    return any(seen.defect == OTHER_FAULT for look in looks for seen in look.defects)


def _is_same(
    record: "TileRecord", seen: "DefectSeen", own: "Meaning", words: set[str]
) -> bool | None:
    """Whether a fault has the meaning of this one; None where its words, or these, have none."""
    if name_key(own_words(seen)) in words:
        return True
    its = _meaning(record, seen)
    return not own.isdisjoint(its) if own and its else None


def meant_by(record: "TileRecord", seen: "DefectSeen") -> str:
    """What tells a fault without a word of its own from others: its meaning, else its words.

    Parameters
    ----------
    record : TileRecord
        The tile.
    seen : DefectSeen
        What was seen on it; "" of a fault of the list.
    """
    if seen.defect != OTHER_FAULT:
        return ""
    return " ".join(sorted(_meaning(record, seen))) or name_key(own_words(seen))


def _meaning(record: "TileRecord", seen: "DefectSeen") -> "Meaning":
    """The causes that one fault names, whatever other faults in own words stand beside it."""
    alone = [
        look.model_copy(
            update={
                "defects": [
                    each for each in look.defects if each is seen or each.defect != OTHER_FAULT
                ]
            }
        )
        for look in record.inspections
    ]
    record = record.model_copy(update={"inspections": alone})
    area = choose_area(record, seen.area, OTHER_FAULT)
    number = area.number if area else None
    facts = measures(record, number, OTHER_FAULT)
    return _named(facts | read(record, number, OTHER_FAULT, facts).facts)


def _named(facts: "Mapping[str, Measure]") -> "Meaning":
    """The causes that what is written of a tile names."""
    return frozenset(
        cause.name
        for cause in load(OTHER_FAULT).causes
        for sign in cause.signs
        if sign.names_it
        and sign.measure in facts
        and applies(sign, facts, "unknown")
        and strength_for(sign, facts[sign.measure].value)
    )
