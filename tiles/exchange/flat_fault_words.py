"""The words about each fault, in a column of their own beside the columns of the defects."""

from collections.abc import Iterable, Iterator, Sequence

from tiles.errors import InvalidValue
from tiles.exchange.flat_columns import FAULT_WORDS
from tiles.exchange.flat_faults import FAULTS
from tiles.records import derived, forms
from tiles.records.words import DEFECTS, OTHER_FAULT, read_word

_SIGN = " | "
SAYS = (
    f"words about faults that stand in the defect columns, as an export writes them: "
    f"other: black smeared{_SIGN}crawling: at the rim"
)


def written(record: forms.TileRecord, area: forms.AreaRecord) -> str:
    """The words about the faults of an area; empty where there are none that a cell can hold."""
    told = _words(derived.defects_on(record, area))
    fitting = ((each, told[each][0].strip()) for each in DEFECTS if _fits(told.get(each, ())))
    return _SIGN.join(f"{defect}: {words}" for defect, words in fitting)


def are_lost(record: forms.TileRecord) -> bool:
    """Whether some of the words do not fit: two of one fault and day, or with the sign between."""
    for day in {look.inspected_on for look in record.inspections}:
        looks = [look for look in record.inspections if look.inspected_on == day]
        of_day = record.model_copy(update={"inspections": looks})
        for area in record.areas:
            seen = derived.defects_on(of_day, area)
            if any(each.place for each in seen) or not all(map(_fits, _words(seen).values())):
                return True
    return False


def read(text: str) -> tuple[tuple[str, str], ...]:
    """The words of a cell by their fault.

    Raises
    ------
    InvalidValue
        A part does not name a fault and something about it.

    Examples
    --------
    >>> read("other: black smeared | Crawling: rim: half of it")
    (('other', 'black smeared'), ('crawling', 'rim: half of it'))
    """
    found = []
    for part in text.split(_SIGN):
        defect, sign, words = part.partition(":")
        if not (sign and words.strip()):
            hint = f"fault: words, with{_SIGN}between, such as crawling: at the rim."
            raise InvalidValue(f"{part.strip()!r} is not a fault with words.", hint, value=text)
        found.append((read_word(defect, DEFECTS, "defect"), words.strip()))
    return tuple(found)


def of_others(rows: Iterable) -> Iterator[tuple]:
    """Each row with words about another fault than those of the list, and these."""
    for row in rows:
        for defect, words in (*row.cells.get(FAULTS, ()), *row.cells.get(FAULT_WORDS, ())):
            if defect == OTHER_FAULT:
                yield row, words


def refuse_of_none(row, words: Iterable[str], seen: Iterable[str]) -> None:
    """Words about a fault that was not seen there."""
    if strange := [each for each in words if each not in set(seen)]:
        raise row.refuse(
            FAULT_WORDS,
            f"there are words about {strange[0]}, which was not seen there",
            f"{strange[0]} in its own column as well, or no words about it.",
        )


def _words(seen: Iterable[forms.DefectSeen]) -> dict[str, list[str]]:
    """What is told of each fault, each thing once."""
    found: dict[str, list[str]] = {}
    for each in seen:
        if each.note and each.note not in found.setdefault(each.defect, []):
            found[each.defect].append(each.note)
    return {defect: told for defect, told in found.items() if told}


def _fits(told: Sequence[str]) -> bool:
    return len(told) == 1 and "|" not in told[0] and told[0].isprintable()
