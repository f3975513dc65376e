"""Writing the user's own materials, from the analysis on a data sheet."""

import re
from dataclasses import dataclass
from string import ascii_uppercase

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tiles.chemistry import materials
from tiles.errors import AlreadyOnRecord, Questioned, shell_word
from tiles.records import forms, models
from tiles.records.analyses import own_materials
from tiles.records.spoken import some
from tiles.records.store.belongings import look_up
from tiles.records.words import refuse_dash

_LOT = re.compile(r" lot [A-Z]$")


@dataclass(frozen=True)
class ReckonedWith:
    """What is reckoned with a material: versions of recipes ("pond clear@2"), and tiles."""

    recipes: list[str]
    tiles: int

    def __str__(self) -> str:
        recipes, tiles = len(self.recipes), self.tiles
        said = f"{recipes} recipe version{'s' * (recipes != 1)} on record ({some(self.recipes)})"
        return f"{said} and {tiles} tile{'s' * (tiles != 1)}"


def own_material(session: Session, name: str) -> materials.Material:
    """The user's own material of this name."""
    key = materials.fold(name)
    return next(each for each in own_materials(session) if materials.fold(each.name) == key)


def reckoned_with(session: Session, material: materials.Material) -> ReckonedWith:
    """What on record is reckoned with a material of the user's, under any of its names."""
    folded = {materials.fold(each) for each in material.names}
    named = session.execute(select(models.Material.name, models.Material.material_id))
    ids = [key for each, key in named if materials.fold(each) in folded]
    lines, version, layer = models.RecipeLine, models.RecipeVersion, models.Layer
    chosen = select(lines.recipe_version_id).where(lines.material_id.in_(ids))
    found = session.execute(
        select(models.Glaze.name, version.version)
        .join(version)
        .where(version.recipe_version_id.in_(chosen))
        .order_by(models.Glaze.name, version.version)
    )
    tiles = session.scalar(
        select(func.count(models.Area.tile_id.distinct()))
        .join(layer)
        .where(layer.recipe_version_id.in_(chosen))
    )
    return ReckonedWith([f"{glaze}@{number}" for glaze, number in found], tiles)


def add_material(
    session: Session,
    material: materials.Material,
    *,
    remark: str | None = None,
    replace: bool = False,
    confirmed: bool = False,
) -> models.Material:
    """Put the analysis of a material on record; from then on it goes before the shipped one.

    Parameters
    ----------
    session : Session
        The open transaction.
    material : Material
        From `materials.from_analysis`, which has checked it.
    remark : str, optional
        Anything else.
    replace : bool
        Write over an analysis that is on record already.
    confirmed : bool
        A person has said so, knowing what is reckoned with it.

    Raises
    ------
    AlreadyOnRecord
        It has an analysis, and ``replace`` was not said.
    Questioned
        Recipes on record are reckoned with the analysis that would be written over.
    InvalidValue
        No line of a recipe could have its name.
    """
    forms.read(forms.RecipeLine, {"material": material.name, "parts": 1})
    row = look_up(session, models.Material, material.name)
    if row is None:
        refuse_dash(material.name)
        # A recipe may have brought in the name already, without an analysis.
        row = models.Material(name=material.name)
        session.add(row)
    elif row.oxides and not replace:
        raise AlreadyOnRecord(
            f"{row.name!r} already has an analysis on record.",
            f"'tiles material show {shell_word(row.name)}', a name of its own such as "
            f"{shell_word(_name_of_next_lot(session, row.name))} for a new lot, or --replace for a "
            "better data sheet of this one.",
            field="material",
            value=material.name,
        )
    elif row.oxides and not confirmed:
        _ask_to_write_over(session, row, material)
    row.source = material.source or None
    row.loss_on_ignition_pct = material.loss_on_ignition_percent
    row.remark = remark
    row.oxides.clear()
    session.flush()
    row.oxides = [
        models.MaterialOxide(oxide=oxide, weight_pct=percent)
        for oxide, percent in material.analysis.items()
    ]
    session.flush()
    return row


def _ask_to_write_over(
    session: Session, row: models.Material, material: materials.Material
) -> None:
    """The next lot of a material is another one: what was mixed from the last was mixed from it."""
    before = own_material(session, row.name)
    loss = material.loss_on_ignition_percent
    is_same = before.analysis == material.analysis and before.loss_on_ignition_percent == loss
    with_it = reckoned_with(session, before)
    if is_same or not with_it.recipes:
        return
    raise Questioned(
        f"{with_it} would be reckoned anew with this analysis of {row.name!r}, as if they had been "
        "mixed from it, and the analysis on record would be gone.",
        f"{shell_word(_name_of_next_lot(session, row.name))} as its name if it is a new lot, with "
        "a recipe version of its own; --yes if the analysis on record was wrong.",
        field="material",
        value=row.name,
    )


def _name_of_next_lot(session: Session, name: str) -> str:
    """The first lot of that name that is not on record: "studio frit lot B"."""
    plain = _LOT.sub("", name)
    names = (f"{plain} lot {letter}" for letter in ascii_uppercase[1:])
    return next((each for each in names if not look_up(session, models.Material, each)), plain)
