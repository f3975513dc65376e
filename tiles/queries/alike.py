"""Names just added that are very like another: a slip of the pen, most often."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from os.path import commonprefix

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tiles.queries.reworded import NUMBERS, begun, reworded, within, words_in
from tiles.queries.summaries import with_tile_counts
from tiles.records import models, reading
from tiles.records.derived import layers_of
from tiles.records.forms import TileRecord
from tiles.records.layered import layers_in
from tiles.records.notices import lacks_cone
from tiles.records.one_firing import firings_twice
from tiles.records.store import former
from tiles.records.store.belongings import noun
from tiles.records.store.named import Added
from tiles.records.words import name_key

LEAST_LETTERS = 4
"""Words as short as F12, May and Mar, or top and tip are told apart by a letter (an estimate)."""
_MODELS = (models.ClayBody, models.Glaze, models.Kiln, models.Firing)
_SHORTENED = (models.ClayBody, models.Glaze)
"""A firing or a kiln is not written shorter by leaving out its last words."""


@dataclass(frozen=True)
class Alike:
    """A name, one of two just added or come again perhaps, that is very like another on record."""

    noun: str
    name: str
    like: str
    is_asked: bool = False
    """Perhaps two things (one name and more words, or its words in another order): not told."""
    since: date | None = None
    """Not like it, but what that was called until this day."""
    day: date | None = None
    """Not like it, but a firing of the same kiln on this day."""


def names_alike(
    session: Session,
    added: Iterable[Added],
    stored: Iterable[TileRecord] = (),
    *,
    is_whole: bool = False,
) -> list[Alike]:
    """The names just added that are very like another of their kind, each pair once.

    So are those of tiles just stored, as long as both have tiles. Very like are names of the same
    letters joined otherwise, or with one differing word, and that by one letter, or by one out of
    its place. Of two that are both new, or both old, the one with fewer tiles is named first. Names
    with other numbers in them are a series (F12, F13), never a slip. Last come those of the same
    words in another order or with other zeros, then clays and glazes whose name is another one's
    beginning, or just added within another one's, and no third one's: those are a family. Firings
    of one kiln and one day come with the very like (`firings_twice`).

    ``is_whole``: it is asked of all that stands on record, so that what counts of a name just added
    alone counts of each: its words within another one's, and that something was called so before.
    """
    added = list(added)
    named = named_in(stored)
    held = [Added(noun(model), name) for model in _MODELS for name in sorted(named[model])]
    found = _called_otherwise(session, held if is_whole else added)
    for model in _MODELS:
        just_added = {each.name for each in added if each.what == noun(model)}
        if new := just_added | named[model]:
            rows = with_tile_counts(session, model)
            pairs = _alike_of(model, rows, new, just_added, is_whole=is_whole)
            found += pairs
            if model is models.Firing:
                found += _of_one_day(rows, new, just_added, pairs)
    return sorted(found, key=lambda each: each.is_asked)


def _alike_of(
    model, rows: list[tuple], new: set[str], just_added: set[str], *, is_whole: bool
) -> list[Alike]:
    """The new names of one table that are like another, each pair once; ``rows`` with tiles."""
    tiles = {row.name: count for row, count in rows}
    roles = {row.name: getattr(row, "role", None) for row, _count in rows}
    slips, longer = _pairs(new, tiles), []
    if model in _SHORTENED:
        longer = [*begun(new, tiles), *within(new if is_whole else just_added, tiles)]
    perhaps = [pair for pair in longer if roles[pair[0]] == roles[pair[1]]]
    found: dict[frozenset, Alike] = {}
    known = set(map(name_key, tiles))
    for pair in [*slips, *reworded(new, tiles), *perhaps]:
        is_new = not just_added.isdisjoint(pair)
        if frozenset(pair) in found or not (is_new or all(tiles[name] for name in pair)):
            continue
        is_asked = pair not in slips
        if is_asked and model is models.Glaze and any(layers_in(x, known) for x in pair):
            continue  # of two layers none is the same as both
        in_order = sorted(pair, key=lambda name: (name not in just_added, tiles[name], name))
        found[frozenset(pair)] = Alike(noun(model), *in_order, is_asked)
    return list(found.values())


def _of_one_day(
    rows: list[tuple], new: set[str], just_added: set[str], told: list[Alike]
) -> list[Alike]:
    """The firings of one kiln and day among the new ones, but for those that are told as alike."""
    firings = [reading.firing_record(row) for row, _count in rows]
    tiles = {row.name: count for row, count in rows}
    seen = {frozenset((each.name, each.like)) for each in told}
    return [
        Alike(noun(models.Firing), name, like, day=day)
        for name, like, day in firings_twice(firings, tiles, just_added)
        if not new.isdisjoint((name, like)) and frozenset((name, like)) not in seen
    ]


def _called_otherwise(session: Session, added: Iterable[Added]) -> list[Alike]:
    """Each of these names that something on record had before it was renamed or merged."""
    once = {
        noun(model): {name_key(each.name) for each in former.of_noun(session, noun(model))}
        for model in _MODELS
    }
    told = (
        (each, former.called_now(session, each.what, each.name))
        for each in added
        if name_key(each.name) in once.get(each.what, ())
    )
    return [
        Alike(new.what, new.name, old.called, since=old.since)
        for new, known in told
        for old in known
    ]


def named_in(stored: Iterable[TileRecord]) -> dict[type, set[str]]:
    """What these tiles name, by its table."""
    names: dict[type, set[str]] = {model: set() for model in _MODELS}
    for record in stored:
        firings = [each for each in (record.firing, record.bisque_firing) if each]
        names[models.ClayBody].add(record.body.name)
        names[models.Glaze] |= {each.glaze.name for each in layers_of(record)}
        names[models.Firing] |= {each.name for each in firings}
        names[models.Kiln] |= {each.kiln for each in firings if each.kiln}
    return names


def _pairs(new: set[str], tiles: dict[str, int]) -> list[tuple[str, str]]:
    by_trace: dict[tuple, list[str]] = {}
    for name in tiles:
        for trace in _traces(name):
            by_trace.setdefault(trace, []).append(name)
    pairs = {}
    for name in sorted(new, key=lambda each: (tiles[each], each)):
        near = {other for trace in _traces(name) for other in by_trace[trace]} - {name}
        likes = [other for other in near if _are_alike(name, other)]
        if likes:
            like = min(likes, key=lambda each: (-tiles[each], each))
            pairs.setdefault(frozenset((name, like)), (name, like))
    return sorted(pairs.values())


def _traces(name: str) -> Iterator[tuple[str, ...]]:
    """What any two names that are alike have in common: a look-up in place of comparing all."""
    words = words_in(name)
    yield ("".join(words),)
    yield words
    for place, word in enumerate(words):
        for at, letter in enumerate(word):
            if letter.isalpha():
                yield (*words[:place], word[:at] + word[at + 1 :], *words[place + 1 :])


def _are_alike(name: str, other: str) -> bool:
    words, others = words_in(name), words_in(other)
    if NUMBERS.findall(name) != NUMBERS.findall(other):
        return False
    if "".join(words) == "".join(others):
        return True
    if len(words) != len(others):
        return False
    differ = [pair for pair in zip(words, others, strict=True) if pair[0] != pair[1]]
    return len(differ) == 1 and _is_slip(*differ[0])


def _is_slip(word: str, other: str) -> bool:
    """One letter more, less, other, or one or two places out of its own."""
    if max(len(_letters(word)), len(_letters(other))) < LEAST_LETTERS:
        return False
    start = len(commonprefix([word, other]))
    left, right = word[start:], other[start:]
    end = len(commonprefix([left[::-1], right[::-1]]))
    left, right = left[: len(left) - end], right[: len(right) - end]
    if max(len(left), len(right)) <= 1:
        return True
    return len(left) <= 3 and right in (left[1:] + left[:1], left[-1:] + left[:-1])


def _letters(word: str) -> str:
    return "".join(filter(str.isalpha, word))


def shelf_alike(session: Session, shelf: str) -> str | None:
    """The shelf on record that one is very like, as names are; None where it is on record itself.

    Asked for before the new one is stored.
    """
    known = sorted(shelves_on_record(session))
    if name_key(shelf) in map(name_key, known):
        return None
    place = _without_kiln(shelf)
    same = (name for name in known if _are_alike(shelf, name))
    at_the_place = (
        name for name in known if words_in(name) in (words_in(place), (*words_in(place), "shelf"))
    )
    return next(same, None) or next(at_the_place, None)


def _without_kiln(shelf: str) -> str:
    """A shelf without what it says of the kiln, and without the word: "big kiln top shelf"."""
    return re.sub(r"^.*\bkiln\b|\bshelf\b", "", shelf, flags=re.IGNORECASE).strip(" ,:-")


def shelves_on_record(session: Session) -> set[str]:
    """The shelves that tiles stood on or witness cones were read on."""
    tiles, cones = (select(each.shelf).distinct() for each in (models.Tile, models.WitnessConeRead))
    return {name for names in (tiles, cones) for name in session.scalars(names) if name}


def shelves_alike(
    session: Session, records: Iterable[TileRecord], before: dict[str, dict[str, int]]
) -> list[tuple[str, str, list]]:
    """Each shelf just stored for the first time that is very like another of its kiln.

    With the other one, and the marks of its tiles. Without a kiln a firing stands for itself.
    ``before`` are the shelves as `tiles_on_shelves` gave them before the records were stored.
    """
    marks: dict[tuple[str, str], list[str]] = {}
    for record in records:
        if record.shelf and record.firing and not lacks_cone(record):
            of = record.firing.kiln or record.firing.name
            marks.setdefault((of, record.shelf), []).append(record.mark)
    counts = tiles_on_shelves(session) if marks else {}
    found = []
    for of in dict.fromkeys(of for of, _shelf in marks):
        stood = counts[of]
        known = {name_key(shelf) for shelf in before.get(of, ())}
        new = {shelf for at, shelf in marks if at == of and name_key(shelf) not in known}
        found += [
            (shelf, like, marks[of, shelf])
            for shelf, like in _pairs(new, stood)
            if name_key(shelf) != name_key(like)
        ]
    return found


def shelves_with_kiln(
    session: Session, records: Iterable[TileRecord], before: dict[str, dict[str, int]]
) -> list[tuple[str, str, list]]:
    """Each shelf just stored for the first time that names its kiln where another does not.

    As `shelves_alike` has them: "big kiln top" with "top", a shelf of any kiln.
    """
    known = {name_key(shelf) for stood in before.values() for shelf in stood}
    marks: dict[str, list[str]] = {}
    for record in records:
        if record.shelf and name_key(record.shelf) not in known:
            marks.setdefault(record.shelf, []).append(record.mark)
    named = {shelf: _without_kiln(shelf) for shelf in marks if "kiln" in words_in(shelf)}
    places = {words_in(each): each for each in shelves_on_record(session)} if named else {}
    return [
        (shelf, places[words_in(place)], marks[shelf])
        for shelf, place in named.items()
        if words_in(place) in places
    ]


def tiles_on_shelves(session: Session) -> dict[str, dict[str, int]]:
    """How many tiles stood on each shelf of each kiln, or of each firing without one."""
    of = func.coalesce(models.Kiln.name, models.Firing.name)
    tiles = select(of, models.Tile.shelf, func.count()).select_from(models.Tile)
    stood = tiles.join(models.Tile.firing).outerjoin(models.Firing.kiln)
    stood = stood.where(models.Tile.shelf.is_not(None))
    counts: dict[str, dict[str, int]] = {}
    for kiln, shelf, count in session.execute(stood.group_by(of, models.Tile.shelf)):
        counts.setdefault(kiln, {})[shelf] = count
    return counts
