"""Names and marks just added that are very like another: a slip of the pen, most often."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import nearest
from tiles.queries.summaries import with_tile_counts
from tiles.records import models
from tiles.records.store.belongings import noun
from tiles.records.store.named import Added

VERY_LIKE = 0.85
"""One letter wrong in seven, two letters changed about in a dozen (an estimate)."""
_MODELS = (models.ClayBody, models.Glaze, models.Kiln, models.Firing)
_SERIES = re.compile(r"\d+|\b\w\b")


@dataclass(frozen=True)
class Alike:
    """A name, one of two just added perhaps, that is very like another on record."""

    noun: str
    name: str
    like: str
    firings: tuple[str, ...] = ()
    """Where it is a kiln: the firings in it."""


def names_alike(session: Session, added: Iterable[Added]) -> list[Alike]:
    """The names just added that are very like another of their kind, each pair once.

    Of two that are both new, the one with fewer tiles is named first. Names with other numbers
    or single letters in them are a series (F12, F13), never a slip.
    """
    found: list[Alike] = []
    for model in _MODELS:
        new = {each.name for each in added if each.what == noun(model)}
        if not new:
            continue
        tiles = {row.name: count for row, count in with_tile_counts(session, model)}
        for name, like in _pairs(new, tiles):
            firings = _firings_in(session, name) if model is models.Kiln else ()
            found.append(Alike(noun(model), name, like, firings))
    return found


def _pairs(new: set[str], tiles: dict[str, int]) -> list[tuple[str, str]]:
    series: dict[tuple, list[str]] = {}
    for name in tiles:
        series.setdefault(_series_of(name), []).append(name)
    pairs = {}
    for name in sorted(new, key=lambda each: (tiles[each], each)):
        others = [each for each in series[_series_of(name)] if each != name]
        like = nearest(name, others, cutoff=VERY_LIKE)
        if like:
            pairs.setdefault(frozenset((name, like)), (name, like))
    return sorted(pairs.values())


def _series_of(name: str) -> tuple[str, ...]:
    return tuple(_SERIES.findall(name.casefold()))


def marks_but_for_blanks(session: Session, marks: Iterable[str]) -> list[tuple[str, str]]:
    """Each mark with one on record that differs from it only by blanks: "T 06" and "T06"."""
    known = sorted(session.scalars(select(models.Tile.mark)))
    by_bare: dict[str, list[str]] = {}
    for mark in known:
        by_bare.setdefault(_bare(mark), []).append(mark)
    pairs = {}
    for mark in marks:
        for other in by_bare.get(_bare(mark), []):
            if other.casefold() != mark.casefold():
                pairs.setdefault(frozenset((mark, other)), (mark, other))
    return list(pairs.values())


def _bare(mark: str) -> str:
    return "".join(mark.split()).casefold()


def _firings_in(session: Session, kiln: str) -> tuple[str, ...]:
    inside = select(models.Firing.name).join(models.Kiln).where(models.Kiln.name == kiln)
    return tuple(session.scalars(inside.order_by(models.Firing.name)))
