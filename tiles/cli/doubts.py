"""What is doubtful of tiles on record: what was told or asked once, as they were stored.

Each is judged by what `log` and `import` call, over the whole record, but for looks of one person
that found nothing: that shows only there.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from tiles.cli.alike import LOOKS, said_of
from tiles.cli.marks import runs
from tiles.errors import shell_line

SLIP = "it was a slip"


@dataclass(frozen=True)
class Doubt:
    """Something doubtful, said once of all tiles that it is true of, the newest of them first.

    ``mend`` is the command that puts it right if what ``mend_if`` says is so; what only a person
    knows stands in it in capitals, as CONE.
    """

    marks: list[str]
    said: str
    mend: str
    day: date | None = None
    mend_if: str = SLIP


def doubts(session, records: list) -> list[Doubt]:
    """All that is doubtful of some tiles, the newest first; what one command mends is one."""
    from tiles.records.derived import day_of

    days = {record.mark: day_of(record) for record in records}
    newest = sorted(records, key=lambda each: days[each.mark] or date.min, reverse=True)
    place = {record.mark: at for at, record in enumerate(newest)}
    by_mend: dict[str, list[Doubt]] = {}
    for each in _found(session, newest):
        by_mend.setdefault(each.mend, []).append(each)
    found = []
    for mend, told in by_mend.items():
        marks = sorted({mark for each in told for mark in each.marks}, key=place.__getitem__)
        most = max(told, key=lambda each: len(each.marks))
        found.append(Doubt(marks, most.said, mend, days[marks[0]], most.mend_if))
    return sorted(found, key=lambda each: place[each.marks[0]])


def _found(session, records: list) -> Iterator[Doubt]:
    from tiles.cli.doubts_asked import of_firings, of_tiles
    from tiles.cli.doubts_looks import of_lookers

    yield from _of_marks(session, records)
    yield from _of_names(session, records)
    yield from _of_shelves(session, records)
    yield from _of_readings(records)
    yield from _of_own_words(records)
    yield from of_firings(session, records)
    yield from of_tiles(records)
    yield from of_lookers(session, records)


def _of_marks(session, records: list) -> Iterator[Doubt]:
    """Each pair of marks once: the one with the slip, else the newer one, is doubtful."""
    from tiles.queries import marks_alike
    from tiles.records import store
    from tiles.records.derived import day_of

    stored = marks_alike.marks_as_stored(session)
    newest = sorted(records, key=lambda each: stored[each.mark], reverse=True)
    newest.sort(key=lambda each: day_of(each) or date.min, reverse=True)  # those of a day stay so
    marks = [record.mark for record in newest]
    for mark, known in marks_alike.marks_that_look_alike(session, marks):
        said = f"{mark!r} and {known!r} differ only by {LOOKS}: one tile twice?"
        yield Doubt([mark], said, _line("remove", mark))
    told, same = set(), []
    for slip, find in marks_alike.SLIPS.items():
        for mark, known, right in find(session, marks):
            if there := store.has_mark(session, right):
                same.append((mark, there))
            elif frozenset((mark, known)) not in told:
                told.add(frozenset((mark, known)))
                said = f"{slip}? {mark!r} beside {known!r}."
                yield Doubt([mark], said, _line("change", mark, "--mark", right))
    for mark, known in [*same, *marks_alike.marks_of_one_tile(session, marks)]:
        if frozenset((mark, known)) not in told:
            told.add(frozenset((mark, known)))
            said = f"{known!r} is on record: is {mark!r} the same tile?"
            yield Doubt([mark], said, _line("remove", mark))


def _of_names(session, records: list) -> Iterator[Doubt]:
    from tiles.queries.alike import named_in, names_alike
    from tiles.records.store.belongings import command_of, noun

    found = names_alike(session, [], records, is_whole=True)
    named = [
        (record.mark, {noun(model): names for model, names in named_in([record]).items()})
        for record in (records if found else ())
    ]
    for each in found:
        of = {each.name, each.like} if each.day else {each.name}
        if marks := [mark for mark, names in named if of & names[each.noun]]:
            mend = shell_line([*command_of(each.noun).split(), "merge", each.name, each.like])
            yield Doubt(marks, said_of(each), mend, mend_if="they are one" if each.day else SLIP)


def _of_shelves(session, records: list) -> Iterator[Doubt]:
    from tiles.cli.ask_log_firing import rather_no_shelf
    from tiles.queries.alike import shelves_alike, shelves_with_kiln, tiles_on_shelves
    from tiles.records.notices import shelf_read

    stood: Counter[str] = Counter()
    looks = {name: rather_no_shelf(session, name) for name in {x.shelf for x in records} if name}
    for shelves in tiles_on_shelves(session).values():
        stood.update(shelves)
    for found in (shelves_alike, shelves_with_kiln):
        for shelf, like, marks in found(session, records, {}):
            if stood[shelf] <= stood[like]:  # else the other one is the slip
                yield _of_shelf(marks, f"shelf {shelf!r} is very like {like!r}.", like)
    for (firing, shelf), of in _grouped(records, lambda each: (each.firing, each.shelf)):
        marks = [record.mark for record in of]
        if like := shelf_read(of[0]):
            said = f"{firing.name} has no witness cone for shelf {shelf!r}, but for {like!r}."
            yield _of_shelf(marks, said, like)
        elif shelf and looks[shelf]:
            yield _of_shelf(marks, f"shelf {shelf!r} looks like {looks[shelf]}.", "NAME")


def _of_shelf(marks: list[str], said: str, like: str) -> Doubt:
    return Doubt(marks, said, _line("change", *runs(marks), "--shelf", like))


def _of_readings(records: list) -> Iterator[Doubt]:
    """Tiles that say another cone of themselves than their firing, or than their bisque."""
    from tiles.records.notices import bisques_read_otherwise, cones_read_otherwise
    from tiles.records.own_cone import OF_TARGET

    for (firing, what, read, own), marks in cones_read_otherwise(records).items():
        if what != OF_TARGET:  # of what it was set for there is a question
            said = f"cone reached {own}, but in {firing} {what} is {read}."
            yield Doubt(marks, said, _line("change", *runs(marks), "--cone-reached", ""))
    for (bisque, read, own), marks in bisques_read_otherwise(records).items():
        said = f"bisque cone {own}, but {bisque} read cone {read}."
        yield Doubt(marks, said, _line("change", *runs(marks), "--bisque-cone", ""))


def _of_own_words(records: list) -> Iterator[Doubt]:
    for words, fault, marks, mend in own_words_doubted(records):
        yield Doubt(marks, f"{words!r} is kept as other, but most often means {fault}.", mend)


def own_words_doubted(records: list) -> list[tuple[str, str, list[str], str]]:
    """Words kept as another fault that most often mean one of the list, and that fault.

    With the marks of the tiles, and the command that names it in their place.
    """
    from tiles.records.derived import own_words
    from tiles.records.fault_words import listed_fault

    found: dict[tuple[str, str], list[str]] = {}
    for record in records:
        seen = [each for look in record.inspections for each in look.defects]
        for words in dict.fromkeys(filter(None, map(own_words, seen))):
            if fault := listed_fault(words):
                found.setdefault((words, fault), []).append(record.mark)
    return [
        (*told, marks, _line("change", *runs(marks), "--other-is", "=".join(told)))
        for told, marks in found.items()
    ]


def _grouped(records: Iterable, key: Callable) -> list[tuple]:
    """The records by something of them that need not be hashable."""
    found: dict[str, tuple] = {}
    for record in records:
        of = key(record)
        found.setdefault(repr(of), (of, []))[1].append(record)
    return list(found.values())


def _line(command: str, *words: str) -> str:
    return shell_line(["tiles", command, *words])
