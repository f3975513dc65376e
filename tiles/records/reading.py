"""From stored rows back to the record shape."""

from sqlalchemy import ColumnElement, Select, case, false, or_, select
from sqlalchemy.orm import Session, aliased, joinedload, selectinload

from tiles.records import forms, models, words
from tiles.records.analyses import own_materials
from tiles.records.derived import all_seen, analysed, layers_of


def _picked(row, form: type[forms.BaseModel], *leave_out: str) -> dict:
    names = [name for name in form.model_fields if name not in leave_out]
    return {name: getattr(row, name) for name in names}


def body_record(row: models.ClayBody) -> forms.BodyRecord:
    """A clay body as a record."""
    return forms.BodyRecord.model_construct(**_picked(row, forms.BodyRecord))


def glaze_record(row: models.Glaze) -> forms.GlazeRecord:
    """A glaze as a record, without its recipe versions and batches."""
    return forms.GlazeRecord.model_construct(**_picked(row, forms.GlazeRecord))


def recipe_record(row: models.RecipeVersion) -> forms.RecipeRecord:
    """One recipe version as a record."""
    lines = [
        forms.RecipeLine.model_construct(
            material=line.material.name, parts=line.parts, is_addition=line.is_addition
        )
        for line in row.lines
    ]
    return forms.RecipeRecord.model_construct(version=row.version, lines=lines, note=row.note)


def batch_record(row: models.Batch) -> forms.BatchRecord:
    """A batch as a record."""
    return forms.BatchRecord.model_construct(**_picked(row, forms.BatchRecord))


def kiln_record(row: models.Kiln) -> forms.KilnRecord:
    """A kiln as a record."""
    return forms.KilnRecord.model_construct(**_picked(row, forms.KilnRecord))


def firing_record(row: models.Firing) -> forms.FiringRecord:
    """A firing as a record."""
    values = _picked(row, forms.FiringRecord, "kiln", "witness_cones")
    cones = [
        forms.WitnessCone.model_construct(shelf=read.shelf, cone=read.cone)
        for read in row.witness_cones
    ]
    kiln = row.kiln.name if row.kiln else None
    return forms.FiringRecord.model_construct(kiln=kiln, witness_cones=cones, **values)


def _layer_record(row: models.Layer) -> forms.LayerRecord:
    values = _picked(row, forms.LayerRecord, "glaze", "recipe", "batch")
    return forms.LayerRecord.model_construct(
        glaze=glaze_record(row.glaze),
        recipe=recipe_record(row.recipe_version) if row.recipe_version else None,
        batch=batch_record(row.batch) if row.batch else None,
        **values,
    )


def _area_record(row: models.Area, clues: list[models.TileClue]) -> forms.AreaRecord:
    return forms.AreaRecord.model_construct(
        layers=[_layer_record(layer) for layer in row.layers],
        clues={each.clue: each.answer for each in clues if each.area_id == row.area_id},
        **_picked(row, forms.AreaRecord, "layers", "clues"),
    )


def _inspection_record(
    row: models.Inspection, area_numbers: dict[int, int]
) -> forms.InspectionRecord:
    defects = [
        forms.DefectSeen.model_construct(
            area=area_numbers.get(seen.area_id), **_picked(seen, forms.DefectSeen, "area")
        )
        for seen in row.defects
    ]
    return forms.InspectionRecord.model_construct(
        defects=defects, **_picked(row, forms.InspectionRecord, "defects")
    )


def tile_record(row: models.Tile) -> forms.TileRecord:
    """All that is recorded of a tile."""
    nested = ["body", "bisque_firing", "firing", "areas", "clues", "inspections", "photos"]
    numbers = {area.area_id: area.number for area in row.areas}
    return forms.TileRecord.model_construct(
        body=body_record(row.body),
        bisque_firing=firing_record(row.bisque_firing) if row.bisque_firing else None,
        firing=firing_record(row.firing) if row.firing else None,
        areas=[_area_record(area, row.clues) for area in row.areas],
        clues={each.clue: each.answer for each in row.clues if each.area_id is None},
        inspections=[_inspection_record(look, numbers) for look in row.inspections],
        photos=[
            forms.PhotoRecord.model_construct(file=photo.file, caption=photo.caption)
            for photo in row.photos
        ],
        **_picked(row, forms.TileRecord, *nested),
    )


def parts(model: type[models.SQLModel]) -> tuple:
    """Options of a select that fetch the parts of many rows in a fixed number of queries."""
    if model is models.Firing:
        return joinedload(models.Firing.kiln), selectinload(models.Firing.witness_cones)
    if model is models.Glaze:
        lines = selectinload(models.Glaze.recipe_versions).selectinload(models.RecipeVersion.lines)
        return lines.joinedload(models.RecipeLine.material), selectinload(models.Glaze.batches)
    return ()


def whole_tiles() -> Select:
    """The select that fetches tiles with everything on them in a fixed number of queries."""
    tile, layer = models.Tile, models.Layer
    areas = selectinload(tile.areas).selectinload(models.Area.layers)
    recipe = areas.joinedload(layer.recipe_version).selectinload(models.RecipeVersion.lines)
    firings = [
        joinedload(which).options(*parts(models.Firing))
        for which in (tile.firing, tile.bisque_firing)
    ]
    return select(tile).options(
        joinedload(tile.body),
        *firings,
        areas.joinedload(layer.glaze),
        areas.joinedload(layer.batch),
        recipe.joinedload(models.RecipeLine.material),
        selectinload(tile.clues),
        selectinload(tile.inspections).selectinload(models.Inspection.defects),
        selectinload(tile.photos),
    )


def has_layer(*conditions) -> ColumnElement[bool]:
    """SQL for the tiles with a layer of which these hold."""
    with_it = select(models.Area.tile_id).join(models.Layer).where(*conditions)
    return models.Tile.tile_id.in_(with_it)


def all_firings(session: Session) -> list[forms.FiringRecord]:
    """The records of all firings, also those without a tile, as they came on record."""
    chosen = select(models.Firing).options(*parts(models.Firing)).order_by(models.Firing.firing_id)
    return [firing_record(row) for row in session.scalars(chosen).unique()]


def read_tiles(session: Session, chosen: Select) -> list[forms.TileRecord]:
    """The records of tiles, the user's own analyses with their recipes.

    Parameters
    ----------
    session : Session
        The open transaction.
    chosen : Select
        `whole_tiles`, with what narrows or orders them.
    """
    own = own_materials(session)
    return [analysed(tile_record(row), own) for row in session.scalars(chosen).unique()]


def records_fired_in(session: Session, firing: models.Firing) -> list[forms.TileRecord]:
    """The records of the tiles in a glaze firing."""
    return read_tiles(session, whole_tiles().where(models.Tile.firing_id == firing.firing_id))


def records_in(session: Session, firing: models.Firing) -> list[forms.TileRecord]:
    """The records of the tiles in a firing, a bisque too."""
    held_as = models.Tile.bisque_firing_id if firing.kind == "bisque" else models.Tile.firing_id
    return read_tiles(session, whole_tiles().where(held_as == firing.firing_id))


def find_records(session: Session, marks: list[str]) -> list[forms.TileRecord]:
    """The records of these marks, in the order of ``marks``; unknown marks are left out."""
    found = read_tiles(session, whole_tiles().where(models.Tile.mark.in_(marks)))
    by_mark = {record.mark: record for record in found}
    return [by_mark[mark] for mark in marks if mark in by_mark]


def sharing_marks(session: Session, record: forms.TileRecord, most: int) -> list[str]:
    """Marks of the inspected trials for a tile, then as `quick.find_others` has them."""
    names = {layer.glaze.name for layer in layers_of(record)}
    with_glaze = (
        select(models.Area.tile_id).join(models.Layer).join(models.Glaze)
        .where(models.Glaze.name.in_(names))
    )  # fmt: skip
    is_trial = models.Tile.trial_of == record.mark
    other = aliased(models.Tile)
    alike = select(other.mark).where(other.tile_id.in_(with_glaze))
    trial = select(models.Tile.tile_id).where(or_(is_trial, models.Tile.trial_of.in_(alike)))
    trial_glazes = (
        select(models.Layer.glaze_id).join(models.Area).join(models.Glaze)
        .where(models.Area.tile_id.in_(trial), models.Glaze.remark.like(f"{words.TRIAL_GLAZE}%"))
    )  # fmt: skip
    of_trial = (
        select(models.Area.tile_id).join(models.Layer)
        .where(models.Layer.glaze_id.in_(trial_glazes))
    )  # fmt: skip
    shares_glaze = (models.Tile.tile_id.in_(each) for each in (with_glaze, trial, of_trial))
    has_glaze = or_(*shares_glaze)
    fired = select(other.firing_id)
    is_beside = models.Tile.firing_id.in_(fired.where(other.mark == record.mark))
    beside_alike = models.Tile.firing_id.in_(fired.where(other.tile_id.in_(with_glaze)))
    faults = {seen.defect for seen in all_seen(record)}
    body = select(other.clay_body_id).where(other.mark == record.mark)
    on_body = models.Tile.clay_body_id.in_(body) if faults & {*words.OF_FIT} else false()
    wanted = (
        select(models.Tile.mark)
        .where(models.Tile.mark != record.mark)
        .where(models.Tile.tile_id.in_(select(models.Inspection.tile_id)))
        .where(or_(is_trial, has_glaze, is_beside, on_body, beside_alike))
        .order_by(
            case((is_trial, 0), (has_glaze, 1), (is_beside, 2), (on_body, 3), else_=4),
            models.Tile.tile_id.desc(),
        )
        .limit(most)
    )
    return list(session.scalars(wanted))
