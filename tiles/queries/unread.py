"""Tiles that might answer a search, had a cone been read of them, or a day written down."""

from dataclasses import dataclass, replace

from sqlalchemy import Select, exists, func, select
from sqlalchemy.orm import Session

from tiles.chemistry import cones
from tiles.queries.days import day
from tiles.queries.search import (
    Search,
    bisque_cone,
    cone_reached,
    cone_within,
    cones_asked,
    natural_key,
    statement,
)
from tiles.records import models


@dataclass(frozen=True)
class Unread:
    """A tile of a firing that was set for a cone of a search, and that no reading speaks for.

    ``by_shelf`` are the cones read of the shelves of its firing. The tile's own is none of them:
    its ``shelf`` is another one, or, where it is None, not recorded.
    """

    mark: str
    shelf: str | None
    firing: str
    by_shelf: dict[str, str]


def tiles_unread(session: Session, search: Search) -> list[Unread]:
    """The tiles more that might answer: set for a cone of the search, reached is not known.

    By their firings, and in each by their marks.
    """
    firing, tile, read = models.Firing, models.Tile, models.WitnessConeRead
    is_set = cone_within(firing.target_cone, search.cone_from, search.cone_to)
    if not is_set:
        return []
    chosen = select(_rest(session, search, *is_set).subquery().c.tile_id)
    asked = select(tile.mark, tile.shelf, firing.name).join(
        firing, tile.firing_id == firing.firing_id
    )
    rows = session.execute(asked.where(tile.tile_id.in_(chosen))).all()
    if not rows:
        return []
    cones_read = select(firing.name, read.shelf, read.cone).join(
        firing, read.firing_id == firing.firing_id
    )
    by_shelf: dict[str, dict[str, str]] = {}
    for name, shelf, cone in session.execute(cones_read.order_by(read.shelf)):
        by_shelf.setdefault(name, {})[shelf] = cone
    found = [Unread(mark, shelf, name, by_shelf.get(name, {})) for mark, shelf, name in rows]
    return sorted(found, key=lambda each: (natural_key(each.firing), natural_key(each.mark)))


def tiles_near_by_peak(session: Session, search: Search) -> int:
    """How many tiles more might answer: no cone read or set, but the peak lies near those asked.

    Within a cone of them: the rate and the hold move the peak of a cone by so much (common
    practice, no source).
    """
    asked = cones_asked(search.cone_from, search.cone_to)
    if not asked:
        return 0
    low = max(cones.step(asked[0]) - 1, cones.step(cones.CONES[0]))
    high = min(cones.step(asked[-1]) + 1, cones.step(cones.CONES[-1]))
    ends_c = [cones.temperature_c(cones.cone_at(end)) for end in (low, high)]
    firing = models.Firing
    is_near = firing.target_cone.is_(None), firing.peak_c.between(*ends_c)
    return _tiles_in(session, _rest(session, search, *is_near))


def tiles_bisqued_by_shelf(session: Session, search: Search) -> int:
    """How many tiles more might answer: some shelves of their bisque read a cone of the search.

    Others of it read another one, and nothing tells on which a tile stood.
    """
    asked = cones_asked(search.bisque_cone_from, search.bisque_cone_to)
    if not asked:
        return 0
    rest = statement(session, replace(search, bisque_cone_from=None, bisque_cone_to=None))
    read = models.WitnessConeRead
    is_read = exists().where(read.firing_id == models.Tile.bisque_firing_id, read.cone.in_(asked))
    return _tiles_in(session, rest.where(bisque_cone().is_(None), is_read))


def tiles_without_day(session: Session, search: Search) -> int:
    """How many tiles more might answer a search for a stretch of time: no day of them is known."""
    if search.since is None and search.until is None:
        return 0
    rest = statement(session, replace(search, since=None, until=None))
    return _tiles_in(session, rest.where(day().is_(None)))


def _tiles_in(session: Session, areas: Select) -> int:
    """How many tiles some areas are on."""
    return session.scalar(select(func.count(areas.subquery().c.tile_id.distinct())))


def _rest(session: Session, search: Search, *conditions) -> Select:
    """The areas that no cone was read of and that answer the rest of a search."""
    rest = statement(session, replace(search, cone_from=None, cone_to=None))
    return rest.where(cone_reached(session).is_(None), *conditions)
