"""Free-text notes read for the known phrases of ``phrases.toml``.

What a note says fills a blank of the record; a recorded field always goes before it. "Not dusty",
"no dust" and "never wiped" are read as no; a guess ("perhaps dusty?") or a plan ("wipe it next
time") is not read at all.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose import fields
from diagnose.measures.of_area import Measure, measures
from diagnose.vocabulary import answer_said, is_yes_or_no, kind_of, label_of, unit_of
from tiles.records.clues import clues

if TYPE_CHECKING:
    from tiles.records.forms import TileRecord

# A crackle glaze is clear or glossy as well: the note tells more than the field, not the contrary.
_ADDS_TO = {("finish", "crackle"): ("clear", "gloss")}


@dataclass(frozen=True)
class NoteRead:
    """One phrase found in a note: what it was taken for, and whether it counts.

    ``tells`` names the measures that it bears on; ``agrees`` that a field says the same.
    """

    phrase: str
    name: str
    value: object
    is_counted: bool
    said: str
    tells: frozenset[str] = frozenset()
    agrees: bool = False


@dataclass(frozen=True)
class NotesRead:
    """The measures that notes add to those recorded, and what was read, for the reader."""

    facts: dict[str, Measure] = field(default_factory=dict)
    said: tuple[NoteRead, ...] = ()


def read(
    record: "TileRecord", area_number: int | None, defect: str, recorded: Mapping[str, Measure]
) -> NotesRead:
    """What the notes of a tile say about one defect.

    Parameters
    ----------
    record : TileRecord
        The tile. It is only read.
    area_number : int or None
        The area looked at.
    defect : str
        The defect in mind; notes written beside another one are about that one.
    recorded : Mapping[str, Measure]
        What is recorded; it goes before any note.

    Returns
    -------
    NotesRead
        Facts that were not recorded, and a line for every phrase found.
    """
    written = list(texts(record, area_number, defect))
    if not written:
        return NotesRead()
    from diagnose.notes.phrases import find

    found = {}
    for source, text in written:
        for phrase in find(text, source):
            found.setdefault(phrase.name, []).append(phrase)
    facts: dict[str, Measure] = {}
    said = []
    for name, phrases in found.items():
        new, line = _taken(record, area_number, defect, recorded, name, phrases)
        facts |= {key: value for key, value in new.items() if key not in facts}
        said.append(line)
    return NotesRead(facts, tuple(said))


def texts(record: "TileRecord", area_number: int | None, defect: str) -> Iterator[tuple[str, str]]:
    """Every note that can be about the defect: where it stands, and its text.

    What stands beside several faults may name another one.
    """
    faults = {seen.defect for look in record.inspections for seen in look.defects}
    is_shared = len(faults) > 1
    yield from _given("shared" if is_shared else "tile", record.note)
    for look in record.inspections:
        yield from _given("shared" if is_shared else "inspection", look.note)
        for seen in look.defects:
            if seen.defect == defect and seen.area in (None, area_number):
                yield from _given("defect", seen.note)
                yield from _given("place", seen.place)
    if record.firing is not None:
        yield from _given("firing", record.firing.remark)
    if record.bisque_firing is not None:
        yield from _given("bisque", record.bisque_firing.remark)
    for area in record.areas:
        if area.number == area_number:
            for layer in area.layers:
                yield from _given("batch", layer.batch.note if layer.batch else None)


def _given(source: str, text: str | None) -> Iterator[tuple[str, str]]:
    if text and text.strip():
        yield source, text


def _taken(record, area_number, defect, recorded, name, phrases) -> tuple[dict, NoteRead]:
    """The measures one fact from the notes adds, and how that is told."""
    first = min(phrases, key=lambda each: bool(each.implies))
    line = NoteRead(first.text, name, first.value, False, "", frozenset({name}))
    if any(each.value != first.value for each in phrases):
        texts_ = " and ".join(f'"{each.text}"' for each in phrases)
        return {}, replace(line, said=f"{texts_} contradict each other; neither counts")
    meaning = first.implies or _meaning(name, first.value)
    if _is_known(record, area_number, recorded, name, first.value):
        return {}, _beside_record(line, recorded, meaning)
    said = f"{meaning}{first.remark}"
    if _says_more(recorded, name, first.value) or not _has_place(name):
        new = {name: Measure(name, first.value, unit_of(name), said, note=first.text)}
        return new, replace(line, is_counted=True, said=said)
    changed = fields.filled(record, area_number, name, first.value)
    if changed is None:
        return {}, replace(line, said=f"{meaning}; not counted: no layer is recorded")
    now = measures(changed, area_number, defect)
    new = {
        key: replace(measure, note=first.text, said=(key == name and first.implies) or measure.said)
        for key, measure in now.items()
        if key not in recorded
    }
    return new, replace(line, is_counted=True, said=said, tells=line.tells | new.keys())


def _is_known(record, area_number, recorded: Mapping[str, Measure], name, value) -> bool:
    """Whether a field tells it, or one that tells the same thing does."""
    kind = kind_of(name)
    if _says_more(recorded, name, value):
        return False
    if name in recorded or (kind and any(kind_of(each) == kind for each in recorded)):
        return True
    return _has_place(name) and fields.is_filled(record, area_number, name)


def _has_place(name: str) -> bool:
    """Whether the record has a field or clue for it; else the note alone can tell it."""
    return name in clues() or name in fields.FIELDS


def _says_more(recorded: Mapping[str, Measure], name: str, value: object) -> bool:
    """Whether the note adds to the field instead of differing from it."""
    return name in recorded and recorded[name].value in _ADDS_TO.get((name, value), ())


def _beside_record(line: NoteRead, recorded, meaning: str) -> NoteRead:
    """A note never outweighs a field: it agrees, or differs and does not count."""
    known = recorded.get(line.name)
    if known is None:
        return replace(line, said=f"{meaning}; a field tells of it, and the record counts")
    if known.value == line.value:
        return replace(line, said=f"{meaning}; the record says so too", agrees=True)
    said = f"{meaning}; but the record says: {known.said}. The record counts"
    return replace(line, said=said)


def _meaning(name: str, value: object) -> str:
    if is_yes_or_no(name) and value in ("yes", "no"):
        return answer_said(name, str(value))
    shown = ("no", "yes")[value] if isinstance(value, bool) else value
    shown = f"{shown:g}" if isinstance(shown, float | int) else shown
    return f"{label_of(name)}: {shown} {unit_of(name)}".rstrip()
