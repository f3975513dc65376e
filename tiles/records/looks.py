"""What a person must confirm of the looks at a tile, and what cannot be."""

from collections.abc import Collection
from datetime import date

from tiles.errors import InvalidValue, shell_word
from tiles.records.derived import own_words
from tiles.records.forms import DefectSeen, InspectionRecord, TileRecord
from tiles.records.words import same_name

NEVER_HEAL = ("crazing", "shivering", "dunting")
"""Cracks through the glaze or the clay, and glaze that came off: no later day closes them (common
practice)."""


def refuse_faults_twice(record: TileRecord, before: Collection[InspectionRecord] = ()) -> None:
    """One look tells a fault of one place once.

    What was stored long ago stays as it is: ``before`` are the looks on record.

    Raises
    ------
    InvalidValue
        Names the fault.
    """
    for look in record.inspections:
        twice = fault_twice(record, look.defects) if look not in before else None
        if twice:
            where = f" on area {twice.area}" if twice.area else ""
            raise InvalidValue(
                f"{twice.defect} is named twice{where} in the look of {look.inspected_on} at "
                f"{record.mark}.",
                "once, with one severity.",
                field="defects",
                value=twice.defect,
            )


def fault_twice(record: TileRecord, seen: Collection[DefectSeen]) -> DefectSeen | None:
    """A fault that stands twice on the same area, told by no place or note from the other one."""
    told, has_areas = set(), len(record.areas) > 1
    for each in seen:
        fault = (each.defect, each.area if has_areas else None, each.place, each.note)
        if fault in told:
            return each
        told.add(fault)
    return None


def told_as(
    seen_on: Collection[InspectionRecord], words: str, fault: str
) -> list[InspectionRecord]:
    """Looks with a fault of the list in place of words that were kept as another one.

    The words stay beside it. A look that tells it already of that place tells it once, and two
    looks of a day that are the same by now are one.
    """
    renamed: list[InspectionRecord] = []
    found: list[InspectionRecord] = []
    for look in seen_on:
        if any(is_kept_as(words, each) for each in look.defects):
            look = look.model_copy(update={"defects": _once(look.defects, words, fault)})
            renamed.append(look)
        found.append(look)
    return [each for at, each in enumerate(found) if each not in renamed or each not in found[:at]]


def is_kept_as(words: str, seen: DefectSeen) -> bool:
    """Whether these are the words of a fault without a word of its own, whatever their capitals."""
    return bool(own_words(seen)) and same_name(own_words(seen), words)


def _once(defects: list[DefectSeen], words: str, fault: str) -> list[DefectSeen]:
    """The fault in place of the words; where it is told of that place already, they stand by it."""
    found = [each for each in defects if not is_kept_as(words, each)]
    for kept in (each for each in defects if is_kept_as(words, each)):
        told = kept.model_copy(update={"defect": fault})
        of = [(each.defect, each.area, each.place) for each in found]
        if (fault, told.area, told.place) not in of:
            found.append(told)
            continue
        at = of.index((fault, told.area, told.place))
        notes = dict.fromkeys(filter(None, (found[at].note, told.note)))
        both = {"severity": found[at].severity or told.severity, "note": "; ".join(notes)}
        found[at] = found[at].model_copy(update=both)
    return found


def is_on_record(record: TileRecord, look: InspectionRecord) -> bool:
    """Whether the very same was seen that day: sent twice, most often, and one look."""

    def told(each: InspectionRecord) -> tuple:
        return each.inspected_on, each.note, sorted(map(repr, each.defects))

    return told(look) in map(told, record.inspections)


def day_of_look(record: TileRecord, look: InspectionRecord) -> str:
    """The day of a look as --forget-inspection takes it: with its place among several of a day."""
    of_day = [each for each in record.inspections if each.inspected_on == look.inspected_on]
    place = next(at for at, each in enumerate(of_day, start=1) if each is look)
    return f"{look.inspected_on}:{place}" if len(of_day) > 1 else f"{look.inspected_on}"


def day_of_next_look(record: TileRecord, day: date) -> str:
    """As `day_of_look`, for one more look of that day."""
    earlier = sum(each.inspected_on == day for each in record.inspections)
    return f"{day}:{earlier + 1}" if earlier else f"{day}"


def hint_of_looks(record: TileRecord, asked: list[str]) -> str:
    """How to put right the first look that a question is about: it is on record, most often."""
    day = day_doubted(record, asked)
    return (
        f"'tiles change {shell_word(record.mark)} --forget-inspection {day}' takes the first off; "
        "or --yes if both are right, as in a backup of your own."
    )


def day_doubted(record: TileRecord, asked: list[str]) -> str | None:
    """The day, as `day_of_look` has it, of the first look that one of some questions is about."""
    days = (day_of_look(record, look) for look, said in _look_doubts(record) if said in asked)
    return next(days, None)


def look_questions(record: TileRecord) -> list[str]:
    """One sentence for each two looks that contradict each other."""
    return [said for _look, said in _look_doubts(record)]


def _look_doubts(record: TileRecord) -> list[tuple[InspectionRecord, str]]:
    """Looks that contradict each other, by the first of them: one is a slip, most often."""
    found = []
    for day in dict.fromkeys(look.inspected_on for look in record.inspections):
        looks = [look for look in record.inspections if look.inspected_on == day]
        faulty = [look for look in looks if look.defects]
        if faulty and len(faulty) < len(looks):
            names = ", ".join(dict.fromkeys(each.defect for each in faulty[0].defects))
            said = f"one look of {day} found it clean, another with {names}."
            found.append((looks[0], said))
    return found + _healed(record)


def _healed(record: TileRecord) -> list[tuple[InspectionRecord, str]]:
    """A crack that a later look did not find, nor any other fault there: one of them is a slip."""
    looks, first_seen = record.inspections, {}
    for look in sorted(looks, key=lambda look: look.inspected_on):
        for seen in look.defects:
            if seen.defect in NEVER_HEAL:
                first_seen.setdefault((seen.defect, seen.area), look)
    return [
        (first, f"{defect}{f' on area {area}' if area else ''} was seen on {first.inspected_on} "
                f"and does not heal, but the look of {look.inspected_on} found it clean.")
        for (defect, area), first in first_seen.items()
        for look in looks
        if look.inspected_on > first.inspected_on and not _faults_on(look, area)
    ]  # fmt: skip


def _faults_on(look: InspectionRecord, area: int | None) -> list:
    """What a look saw on an area; of the whole tile, anything at all."""
    return [seen for seen in look.defects if area is None or seen.area in (None, area)]
