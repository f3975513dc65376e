"""The tables, and nothing else.

A table class checks nothing: every value has come through ``forms`` first. Cones are stored as
canonical text ("05"), choices as the lower-case words of ``words``, None always means "not
recorded". What can be worked out (a tile's stage, whether it is clean) is never stored.
"""

from datetime import date

from sqlalchemy import MetaData, false
from sqlmodel import Field, Relationship, SQLModel, UniqueConstraint

# Every constraint has a name, so that SQLite can rebuild a table in a migration.
NAMING = {
    "ix": "ix_%(column_0_label)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class _Table(SQLModel):
    metadata = MetaData(naming_convention=NAMING)


def _owned(back: str, order_by: str) -> Relationship:
    """Rows that have no life of their own: they go when their owner goes."""
    extra = {"cascade": "all, delete-orphan", "order_by": order_by}
    return Relationship(back_populates=back, sa_relationship_kwargs=extra)


class ClayBody(_Table, table=True):
    """A clay body."""

    __tablename__ = "clay_body"
    clay_body_id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True, unique=True)
    kind: str | None = None
    colour: str | None = None
    cone_low: str | None = None
    cone_high: str | None = None
    absorption_pct: float | None = None
    shrinkage_pct: float | None = None
    expansion_ppm_per_k: float | None = None
    remark: str | None = None
    is_retired: bool = False


class Material(_Table, table=True):
    """A raw material, by the name on the user's bag."""

    __tablename__ = "material"
    material_id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True, unique=True)
    source: str | None = None
    loss_on_ignition_pct: float | None = None
    remark: str | None = None
    oxides: list["MaterialOxide"] = _owned("material", "MaterialOxide.material_oxide_id")


class MaterialOxide(_Table, table=True):
    """One oxide of a material's analysis, in percent by weight."""

    __tablename__ = "material_oxide"
    __table_args__ = (UniqueConstraint("material_id", "oxide"),)
    material_oxide_id: int | None = Field(default=None, primary_key=True)
    material_id: int = Field(foreign_key="material.material_id", index=True)
    oxide: str
    weight_pct: float
    material: Material | None = Relationship(back_populates="oxides")


class Glaze(_Table, table=True):
    """A jar or a recipe, in one of the roles of ``words.GLAZE_ROLES``."""

    __tablename__ = "glaze"
    glaze_id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True, unique=True)
    kind: str
    role: str
    finish: str | None = None
    colour: str | None = None
    maker: str | None = None
    cone_low: str | None = None
    cone_high: str | None = None
    supplied_as: str | None = None
    food_label: str | None = None
    remark: str | None = None
    is_retired: bool = False
    recipe_versions: list["RecipeVersion"] = _owned("glaze", "RecipeVersion.version")
    batches: list["Batch"] = _owned("glaze", "Batch.batch_id")


class RecipeVersion(_Table, table=True):
    """One version of a recipe. Written once, never changed: a new idea is a new version."""

    __tablename__ = "recipe_version"
    __table_args__ = (UniqueConstraint("glaze_id", "version"),)
    recipe_version_id: int | None = Field(default=None, primary_key=True)
    glaze_id: int = Field(foreign_key="glaze.glaze_id", index=True)
    version: int
    note: str | None = None
    glaze: Glaze | None = Relationship(back_populates="recipe_versions")
    lines: list["RecipeLine"] = _owned("recipe_version", "RecipeLine.position")


class RecipeLine(_Table, table=True):
    """One material of a recipe version, in parts by dry weight."""

    __tablename__ = "recipe_line"
    __table_args__ = (UniqueConstraint("recipe_version_id", "position"),)
    recipe_line_id: int | None = Field(default=None, primary_key=True)
    recipe_version_id: int = Field(foreign_key="recipe_version.recipe_version_id", index=True)
    position: int
    material_id: int = Field(foreign_key="material.material_id", index=True)
    parts: float
    is_addition: bool = False
    recipe_version: RecipeVersion | None = Relationship(back_populates="lines")
    material: Material | None = Relationship()


class Batch(_Table, table=True):
    """One mixed or revived bucket of a glaze."""

    __tablename__ = "batch"
    __table_args__ = (UniqueConstraint("glaze_id", "name"),)
    batch_id: int | None = Field(default=None, primary_key=True)
    glaze_id: int = Field(foreign_key="glaze.glaze_id", index=True)
    name: str
    mixed_on: date | None = None
    specific_gravity: float | None = None
    sieve_mesh: int | None = None
    dry_portion: str | None = None
    is_revived: bool | None = None
    note: str | None = None
    # With a value of the table's own: SQLite adds such a column without building the table anew.
    is_retired: bool = Field(default=False, sa_column_kwargs={"server_default": false()})
    glaze: Glaze | None = Relationship(back_populates="batches")


class Kiln(_Table, table=True):
    """A kiln."""

    __tablename__ = "kiln"
    kiln_id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True, unique=True)
    remark: str | None = None


class Firing(_Table, table=True):
    """One bisque or glaze firing."""

    __tablename__ = "firing"
    firing_id: int | None = Field(default=None, primary_key=True)
    name: str = Field(index=True, unique=True)
    kind: str = "glaze"
    kiln_id: int | None = Field(default=None, foreign_key="kiln.kiln_id", index=True)
    fired_on: date | None = Field(default=None, index=True)
    target_cone: str | None = None
    rate_c_per_h: float | None = None
    hold_min: float | None = None
    atmosphere: str | None = None
    peak_c: float | None = None
    opened_c: float | None = None
    remark: str | None = None
    kiln: Kiln | None = Relationship()
    witness_cones: list["WitnessConeRead"] = _owned("firing", "WitnessConeRead.witness_cone_id")


class WitnessConeRead(_Table, table=True):
    """The cone a witness pack showed; ``shelf`` None speaks for the whole load."""

    __tablename__ = "witness_cone"
    __table_args__ = (UniqueConstraint("firing_id", "shelf"),)
    witness_cone_id: int | None = Field(default=None, primary_key=True)
    firing_id: int = Field(foreign_key="firing.firing_id", index=True)
    shelf: str | None = None
    cone: str
    firing: Firing | None = Relationship(back_populates="witness_cones")


class Tile(_Table, table=True):
    """A test tile. ``mark`` is what is written on its back.

    ``written_on`` is the day it came on this record, no fact of the tile: no file tells it.
    """

    __tablename__ = "tile"
    tile_id: int | None = Field(default=None, primary_key=True)
    mark: str = Field(index=True, unique=True)
    made_on: date | None = None
    glazed_on: date | None = None
    form: str | None = None
    stood: str | None = None
    clay_body_id: int = Field(foreign_key="clay_body.clay_body_id", index=True)
    bisque_cone: str | None = None
    bisque_firing_id: int | None = Field(default=None, foreign_key="firing.firing_id", index=True)
    firing_id: int | None = Field(default=None, foreign_key="firing.firing_id", index=True)
    shelf: str | None = None
    cone_reached: str | None = Field(default=None, index=True)
    note: str | None = None
    trial_of: str | None = Field(default=None, index=True)
    trial_defect: str | None = None
    trial_change: str | None = None
    written_on: date | None = None
    body: ClayBody | None = Relationship()
    firing: Firing | None = Relationship(sa_relationship_kwargs={"foreign_keys": "Tile.firing_id"})
    bisque_firing: Firing | None = Relationship(
        sa_relationship_kwargs={"foreign_keys": "Tile.bisque_firing_id"}
    )
    areas: list["Area"] = _owned("tile", "Area.number")
    clues: list["TileClue"] = _owned("tile", "TileClue.tile_clue_id")
    inspections: list["Inspection"] = _owned(
        "tile", "[Inspection.inspected_on, Inspection.inspection_id]"
    )
    photos: list["Photo"] = _owned("tile", "Photo.photo_id")


class Area(_Table, table=True):
    """One area of a tile with its own layers."""

    __tablename__ = "area"
    __table_args__ = (UniqueConstraint("tile_id", "number"),)
    area_id: int | None = Field(default=None, primary_key=True)
    tile_id: int = Field(foreign_key="tile.tile_id", index=True)
    number: int
    label: str | None = None
    surface: str | None = None
    tile: Tile | None = Relationship(back_populates="areas")
    layers: list["Layer"] = _owned("area", "Layer.position")


class Layer(_Table, table=True):
    """One layer on an area, counted from the clay upwards."""

    __tablename__ = "layer"
    __table_args__ = (UniqueConstraint("area_id", "position"),)
    layer_id: int | None = Field(default=None, primary_key=True)
    area_id: int = Field(foreign_key="area.area_id", index=True)
    position: int
    glaze_id: int = Field(foreign_key="glaze.glaze_id", index=True)
    recipe_version_id: int | None = Field(
        default=None, foreign_key="recipe_version.recipe_version_id", index=True
    )
    batch_id: int | None = Field(default=None, foreign_key="batch.batch_id", index=True)
    coats: int | None = None
    thickness_mm: float | None = None
    fired_thickness_mm: float | None = None
    method: str | None = None
    applied_on: str | None = None
    beneath: str | None = None
    area: Area | None = Relationship(back_populates="layers")
    glaze: Glaze | None = Relationship()
    recipe_version: RecipeVersion | None = Relationship()
    batch: Batch | None = Relationship()


class TileClue(_Table, table=True):
    """A yes / no fact about a tile, or (``area_id`` set) about one of its areas."""

    __tablename__ = "tile_clue"
    __table_args__ = (UniqueConstraint("tile_id", "area_id", "clue"),)
    tile_clue_id: int | None = Field(default=None, primary_key=True)
    tile_id: int = Field(foreign_key="tile.tile_id", index=True)
    area_id: int | None = Field(default=None, foreign_key="area.area_id", index=True)
    clue: str
    answer: str
    tile: Tile | None = Relationship(back_populates="clues")
    area: Area | None = Relationship()


class Inspection(_Table, table=True):
    """One look at a fired tile."""

    __tablename__ = "inspection"
    inspection_id: int | None = Field(default=None, primary_key=True)
    tile_id: int = Field(foreign_key="tile.tile_id", index=True)
    inspected_on: date
    note: str | None = None
    tile: Tile | None = Relationship(back_populates="inspections")
    defects: list["Defect"] = _owned("inspection", "Defect.defect_id")


class Defect(_Table, table=True):
    """A defect seen at an inspection; ``area_id`` None means on the whole tile."""

    __tablename__ = "defect"
    defect_id: int | None = Field(default=None, primary_key=True)
    inspection_id: int = Field(foreign_key="inspection.inspection_id", index=True)
    area_id: int | None = Field(default=None, foreign_key="area.area_id", index=True)
    defect: str = Field(index=True)
    severity: str | None = None
    place: str | None = None
    note: str | None = None
    inspection: Inspection | None = Relationship(back_populates="defects")
    area: Area | None = Relationship()


class Photo(_Table, table=True):
    """A picture of a tile; the file is named by its content and lies beside the database."""

    __tablename__ = "photo"
    __table_args__ = (UniqueConstraint("tile_id", "file"),)
    photo_id: int | None = Field(default=None, primary_key=True)
    tile_id: int = Field(foreign_key="tile.tile_id", index=True)
    file: str
    caption: str | None = None
    tile: Tile | None = Relationship(back_populates="photos")


class FormerName(_Table, table=True):
    """What something of this kind was called before it got another name, or was merged."""

    __tablename__ = "former_name"
    former_name_id: int | None = Field(default=None, primary_key=True)
    noun: str
    name: str
    called: str
    since: date
