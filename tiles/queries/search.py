"""Which areas of which tiles: one :class:`Search`, one select statement, one row per area."""

from dataclasses import dataclass, field, replace
from datetime import date

from sqlalchemy import Select, and_, case, exists, func, or_, select
from sqlalchemy.orm import Session, aliased

from tiles.chemistry import cones
from tiles.errors import UnknownName, nearest
from tiles.queries.blank import is_blank
from tiles.queries.days import day, day_within
from tiles.queries.written import clue_is, mark_is, note_has
from tiles.records import forms, models, reading, words
from tiles.records.mark_looks import natural_key


@dataclass(frozen=True)
class Search:
    """What is looked for; every part that is given must hold.

    ``cone_from`` / ``cone_to`` bound the cone reached, both ends included, and ``bisque_cone_from``
    / ``bisque_cone_to`` that of the bisque, as it was set where none was read, none where its
    shelves read several. ``firing`` may be a bisque, too. ``is_clean`` True: inspected, and no
    inspection saw a defect on the area; False: a defect was seen; ``is_inspected`` False: never
    looked at (neither clean nor not). ``glazes`` must all lie on the area. Coats, thickness (of the
    dry coat as applied [mm]) and batch are those of one layer, any of them. ``since`` and ``until``
    are days of tiles (``derived.day_of``), both included. ``note`` are words written of a tile.
    ``clues`` are each a name of the list and an answer; ``blank`` names what is not recorded;
    ``mark`` is what can be read of one (``mark_looks.could_be``).
    """

    mark: str | None = None
    body: str | None = None
    glazes: tuple[str, ...] = ()
    cone_from: str | None = None
    cone_to: str | None = None
    firing: str | None = None
    bisque_firing: str | None = None
    bisque_cone_from: str | None = None
    bisque_cone_to: str | None = None
    kiln: str | None = None
    batch: str | None = None
    coats: int | None = None
    thickness_from_mm: float | None = None
    thickness_to_mm: float | None = None
    defect: str | None = None
    is_clean: bool | None = None
    is_inspected: bool | None = None
    since: date | None = None
    until: date | None = None
    note: str | None = None
    clues: tuple[tuple[str, str], ...] = ()
    blank: str | None = None


@dataclass
class Found:
    """One area that answers a search."""

    mark: str
    area: int
    area_label: str | None
    body: str
    firing: str | None
    fired_on: date | None
    cone_reached: str | None
    inspected: bool
    glazes: list[str] = field(default_factory=list)
    versions: list[int | None] = field(default_factory=list)
    coats: list[int | None] = field(default_factory=list)
    thickness_mm: list[float | None] = field(default_factory=list)
    batches: list[str | None] = field(default_factory=list)
    severity: dict[str, str | None] = field(default_factory=dict)
    other_words: list[str] = field(default_factory=list)
    areas_on_tile: int = 1
    kiln: str | None = None
    day: date | None = None

    @property
    def clean(self) -> bool | None:
        """True or False once inspected; None before that."""
        return not self.severity if self.inspected else None

    def as_dict(self) -> dict:
        """The row as ``tiles find --json`` prints it; layers are listed from the clay upwards."""
        return {
            "mark": self.mark,
            "area": self.area,
            "area_label": self.area_label,
            "body": self.body,
            "glazes": self.glazes,
            "coats": self.coats,
            "thickness_mm": self.thickness_mm,
            "firing": self.firing,
            "fired_on": self.fired_on.isoformat() if self.fired_on else None,
            "cone_reached": self.cone_reached,
            "inspected": self.inspected,
            "defects": list(self.severity),
            "severity": self.severity,
            "other_words": self.other_words,
            "clean": self.clean,
        }


def run(session: Session, search: Search) -> list[Found]:
    """The areas that answer a search, in the order of their marks.

    Raises
    ------
    UnknownName
        A body, glaze, kiln or firing of the search is not on record.
    """
    chosen = statement(session, search).subquery()
    found = {
        row.area_id: Found(
            mark=row.mark,
            area=row.number,
            area_label=row.label,
            body=row.body,
            firing=row.firing,
            fired_on=row.fired_on,
            cone_reached=row.cone_reached,
            inspected=bool(row.inspected),
            areas_on_tile=row.areas_on_tile,
            kiln=row.kiln,
            day=row.day,
        )
        for row in session.execute(select(chosen))
    }
    _add_layers(session, chosen, found)
    _add_defects(session, chosen, found)
    return sorted(found.values(), key=lambda each: (natural_key(each.mark), each.area))


def records_of(session: Session, search: Search) -> list[forms.TileRecord]:
    """The whole tiles of the areas that answer a search, in the order of their marks.

    Raises
    ------
    UnknownName
        As :func:`run`.
    """
    chosen = statement(session, search).subquery()
    wanted = reading.whole_tiles().where(models.Tile.tile_id.in_(select(chosen.c.tile_id)))
    return sorted(reading.read_tiles(session, wanted), key=lambda record: natural_key(record.mark))


def with_other_zero(search: Search) -> Search | None:
    """The same search for cone 05 in place of 5, or 5 in place of 05; else None.

    They differ by one key. A range turned so would run backwards.
    """
    cone = search.cone_from
    if cone is None or cone != search.cone_to:
        return None
    other = cones.with_other_zero(cone)
    return other and replace(search, cone_from=other, cone_to=other)


def cone_reached(session: Session):
    """SQL for the cone at a tile's place; the twin of ``derived.cone_reached``."""
    tile, on_shelf = models.Tile, aliased(models.WitnessConeRead)
    keys = _shelf_keys(session)
    same_shelf = select(on_shelf.cone).where(
        on_shelf.firing_id == tile.firing_id,
        _key_of(on_shelf.shelf, keys) == _key_of(tile.shelf, keys),
    )
    return func.coalesce(
        tile.cone_reached,
        same_shelf.correlate(tile).scalar_subquery(),
        _cone_of_load(tile.firing_id),
    )


def _shelf_keys(session: Session) -> dict[str, str]:
    """The key of each way in which the shelf of a witness cone is written that is not its key."""
    of_cones = session.scalars(select(models.WitnessConeRead.shelf).distinct())
    spelt = {shelf: words.name_key(shelf) for shelf in of_cones if shelf}
    of_tiles = session.scalars(select(models.Tile.shelf).distinct()) if spelt else ()
    told = {shelf: words.name_key(shelf) for shelf in of_tiles if shelf}
    spelt |= {shelf: key for shelf, key in told.items() if key in {*spelt.values()}}
    return {shelf: key for shelf, key in spelt.items() if shelf != key}


def _key_of(shelf, keys: dict[str, str]):
    return case(keys, value=shelf, else_=shelf) if keys else shelf


def bisque_cone():
    """SQL for the cone of a tile's bisque; the twin of ``derived.bisque_cone``."""
    tile, bisque = models.Tile, aliased(models.Firing)
    read = aliased(models.WitnessConeRead)
    of_shelves = select(case((func.min(read.cone) == func.max(read.cone), func.min(read.cone))))
    of_shelves = of_shelves.where(read.firing_id == tile.bisque_firing_id)
    set_for = select(bisque.target_cone).where(
        bisque.firing_id == tile.bisque_firing_id,
        ~exists().where(models.WitnessConeRead.firing_id == bisque.firing_id),
    )
    return func.coalesce(
        tile.bisque_cone,
        _cone_of_load(tile.bisque_firing_id),
        of_shelves.correlate(tile).scalar_subquery(),
        set_for.correlate(tile).scalar_subquery(),
    )


def _cone_of_load(firing_id):
    read = aliased(models.WitnessConeRead)
    whole_load = select(read.cone).where(read.firing_id == firing_id, read.shelf.is_(None))
    return whole_load.correlate(models.Tile).scalar_subquery()


def _inspected():
    return exists().where(models.Inspection.tile_id == models.Tile.tile_id)


def _defect_seen(*conditions):
    """A defect on the area itself or on its whole tile."""
    return exists().where(
        models.Inspection.tile_id == models.Tile.tile_id,
        models.Defect.inspection_id == models.Inspection.inspection_id,
        or_(models.Defect.area_id == models.Area.area_id, models.Defect.area_id.is_(None)),
        *conditions,
    )


def statement(session: Session, search: Search) -> Select:
    """The one select behind a search."""
    tile, area, firing = models.Tile, models.Area, models.Firing
    other = aliased(models.Area)
    reached = cone_reached(session)
    siblings = select(func.count()).where(other.tile_id == tile.tile_id).correlate(tile)
    columns = select(
        area.area_id,
        tile.tile_id,
        tile.mark,
        area.number,
        area.label,
        models.ClayBody.name.label("body"),
        firing.name.label("firing"),
        firing.fired_on,
        models.Kiln.name.label("kiln"),
        reached.label("cone_reached"),
        _inspected().label("inspected"),
        siblings.scalar_subquery().label("areas_on_tile"),
        day().label("day"),
    )
    joined = (
        columns.join(tile, area.tile_id == tile.tile_id)
        .join(models.ClayBody, tile.clay_body_id == models.ClayBody.clay_body_id)
        .outerjoin(firing, tile.firing_id == firing.firing_id)
        .outerjoin(models.Kiln, firing.kiln_id == models.Kiln.kiln_id)
    )
    return joined.where(and_(True, *_conditions(session, search, reached)))


def _named(session: Session, model: type, name: str):
    """The row of a name that was asked for; what finds it loads all that can be stored."""
    from tiles.records.store import belongings

    return belongings.find(session, model, name)


def _conditions(session: Session, search: Search, reached) -> list:
    tile = models.Tile
    glazes = (_named(session, models.Glaze, name) for name in search.glazes)
    conditions = [_layer_is(models.Layer.glaze_id == each.glaze_id) for each in glazes]
    if search.body:
        body = _named(session, models.ClayBody, search.body)
        conditions.append(tile.clay_body_id == body.clay_body_id)
    if search.firing:
        firing = _named(session, models.Firing, search.firing)
        inside = (tile.firing_id, tile.bisque_firing_id)
        conditions.append(or_(*(each == firing.firing_id for each in inside)))
    if search.bisque_firing:
        firing = _named(session, models.Firing, search.bisque_firing)
        conditions.append(tile.bisque_firing_id == firing.firing_id)
    if search.kiln:
        kiln = _named(session, models.Kiln, search.kiln)
        conditions.append(models.Firing.kiln_id == kiln.kiln_id)
    conditions += day_within(search.since, search.until)
    conditions += [note_has(session, search.note)] if search.note is not None else []
    conditions += [mark_is(session, search.mark)] if search.mark is not None else []
    conditions += [clue_is(*each) for each in search.clues]
    conditions += [is_blank(search.blank, reached, bisque_cone())] if search.blank else []
    conditions += cone_within(reached, search.cone_from, search.cone_to)
    conditions += cone_within(bisque_cone(), search.bisque_cone_from, search.bisque_cone_to)
    return conditions + _layer_conditions(session, search) + _defect_conditions(search)


def cone_within(cone, coolest: str | None, hottest: str | None) -> list:
    """The condition that a cone lies between those asked for; none where none is asked for."""
    asked = cones_asked(coolest, hottest)
    return [cone.in_(asked)] if asked else []


def cones_asked(coolest: str | None, hottest: str | None) -> list[str]:
    """Every cone between two, both included; an end left open is that of the scale."""
    if not (coolest or hottest):
        return []
    return cones.cones_between(coolest or cones.CONES[0], hottest or cones.CONES[-1])


def _layer_is(*conditions):
    return exists().where(models.Layer.area_id == models.Area.area_id, *conditions)


def _layer_conditions(session: Session, search: Search) -> list:
    layer = models.Layer
    coat = []
    if search.batch:
        coat.append(layer.batch_id.in_(_batches(session, search.batch, search.glazes)))
    if search.coats is not None:
        coat.append(layer.coats == search.coats)
    if search.thickness_from_mm is not None:
        coat.append(layer.thickness_mm >= search.thickness_from_mm)
    if search.thickness_to_mm is not None:
        coat.append(layer.thickness_mm <= search.thickness_to_mm)
    return [_layer_is(*coat)] if coat else []


def _batches(session: Session, name: str, glazes: tuple[str, ...]) -> list[int]:
    """The batches of this name, of these glazes or of any."""
    name, batch = words.tidy_name(name), models.Batch
    wanted = select(batch.batch_id, batch.name, models.Glaze.name.label("glaze")).join(models.Glaze)
    of = {words.name_key(each) for each in glazes}
    rows = [row for row in session.execute(wanted) if not of or words.name_key(row.glaze) in of]
    found = [row.batch_id for row in rows if words.same_name(row.name, name)]
    if not found:
        close = nearest(name, [row.name for row in rows])
        raise UnknownName(
            f"no batch called {name!r} is on record" + (" for that glaze." if of else "."),
            f"{close!r}, or 'tiles batch list'." if close else "'tiles batch list'.",
            field="batch",
            value=name,
        )
    return found


def _defect_conditions(search: Search) -> list:
    conditions = []
    if search.is_inspected is not None:
        conditions.append(_inspected() if search.is_inspected else ~_inspected())
    if search.is_clean is True:
        conditions += [_inspected(), ~_defect_seen()]
    if search.is_clean is False:
        conditions.append(_defect_seen())
    if search.defect:
        conditions.append(_defect_seen(models.Defect.defect == search.defect))
    return conditions


def _add_layers(session: Session, chosen, found: dict[int, Found]) -> None:
    layer, recipe, batch = models.Layer, models.RecipeVersion, models.Batch
    asked = models.Glaze.name, recipe.version, layer.coats, layer.thickness_mm, batch.name
    rows = session.execute(
        select(layer.area_id, *asked)
        .outerjoin(batch, layer.batch_id == batch.batch_id)
        .join(models.Glaze, layer.glaze_id == models.Glaze.glaze_id)
        .outerjoin(recipe, layer.recipe_version_id == recipe.recipe_version_id)
        .where(layer.area_id.in_(select(chosen.c.area_id)))
        .order_by(layer.area_id, layer.position)
    )
    for area_id, glaze, version, coats, thickness_mm, bucket in rows:
        found[area_id].glazes.append(glaze)
        found[area_id].versions.append(version)
        found[area_id].coats.append(coats)
        found[area_id].thickness_mm.append(thickness_mm)
        found[area_id].batches.append(bucket)


def _add_defects(session: Session, chosen, found: dict[int, Found]) -> None:
    defect, inspection = models.Defect, models.Inspection
    rows = session.execute(
        select(chosen.c.area_id, defect.defect, defect.severity, defect.note)
        .join(inspection, inspection.tile_id == chosen.c.tile_id)
        .join(defect, defect.inspection_id == inspection.inspection_id)
        .where(or_(defect.area_id == chosen.c.area_id, defect.area_id.is_(None)))
        .order_by(defect.defect_id)
    )
    for area_id, name, severity, note in rows:
        seen, told = found[area_id].severity, words.tidy_name(note or "")
        seen[name] = worse(seen.get(name), severity)
        if name == words.OTHER_FAULT and told and told not in found[area_id].other_words:
            found[area_id].other_words.append(told)
    for each in found.values():
        each.severity = {d: each.severity[d] for d in words.DEFECTS if d in each.severity}


def worse(first: str | None, second: str | None) -> str | None:
    """The worse of two severities; one that was not recorded never hides one that was."""
    known = [each for each in (first, second) if each]
    return max(known, key=words.SEVERITIES.index, default=None)
