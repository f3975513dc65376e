"""Tiles by what a person wrote of them: words of a class or a party, a mark, a yes or no."""

import re

from sqlalchemy import and_, exists, or_, select
from sqlalchemy.orm import Session

from tiles.errors import InvalidValue
from tiles.records import models
from tiles.records.mark_looks import could_be
from tiles.records.words import name_key

_WORD = re.compile(r"\w+")


def words_of(text: str) -> str:
    """The words of a text as they are compared, each between two blanks.

    Examples
    --------
    >>> words_of("T2; Klasse-7C"), words_of("?!")
    (' t2 klasse 7c ', ' ')
    """
    return " ".join(["", *_WORD.findall(name_key(text)), ""])


def has_words(texts: list[str], wanted: str) -> bool:
    """Whether every word that is asked for stands in one of some texts, whole.

    Examples
    --------
    >>> texts = ["T2; 7C; s13", "a party in May"]
    >>> has_words(texts, "PARTY 7c"), has_words(texts, "s1"), has_words(texts, "7C-s13")
    (True, False, True)
    """
    spelt = [words_of(text) for text in texts]
    return all(any(words_of(word) in text for text in spelt) for word in wanted.split())


def note_has(session: Session, wanted: str):
    """SQL for the tiles with such words in their note, those of their looks, or in their mark.

    Raises
    ------
    InvalidValue
        There is no word in what is asked for.
    """
    if not words_of(wanted).strip():
        raise InvalidValue(f"{wanted!r} holds no word to look for.", "a word as it was written.")
    tile, look, seen = models.Tile, models.Inspection, models.Defect
    of_faults = select(look.tile_id, seen.note).join(seen, seen.inspection_id == look.inspection_id)
    texts: dict[int, list[str]] = {}
    for asked in (
        select(tile.tile_id, tile.mark),
        select(tile.tile_id, tile.note),
        select(look.tile_id, look.note),
        of_faults,
    ):
        for tile_id, text in session.execute(asked):
            texts.setdefault(tile_id, []).append(text or "")
    return tile.tile_id.in_([each for each, said in texts.items() if has_words(said, wanted)])


def mark_is(session: Session, legible: str):
    """SQL for the tiles whose mark may be one of which not all can be read (`could_be`)."""
    tile = models.Tile
    rows = session.execute(select(tile.tile_id, tile.mark))
    return tile.tile_id.in_([each for each, mark in rows if could_be(mark, legible)])


def clue_is(name: str, answer: str):
    """SQL for the areas of which a clue has this answer: their own, else that of the whole tile."""
    clue, area = models.TileClue, models.Area
    of_tile = (clue.tile_id == models.Tile.tile_id, clue.clue == name)
    of_area = (*of_tile, clue.area_id == area.area_id)
    of_whole = exists().where(*of_tile, clue.area_id.is_(None), clue.answer == answer)
    own = exists().where(*of_area, clue.answer == answer)
    return or_(own, and_(of_whole, ~exists().where(*of_area)))
