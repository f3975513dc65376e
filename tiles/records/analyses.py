"""From stored recipes to what ``tiles.chemistry`` works on, the user's own analyses going first."""

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from tiles.chemistry import materials
from tiles.chemistry.formula import Composition, analyse
from tiles.errors import InvalidValue, UnknownName
from tiles.records import forms, models, reading
from tiles.records.store.belongings import find

CLAY_SILICA_PERCENT, CLAY_ALUMINA_PERCENT, CLAY_LOSS_PERCENT = 40.0, 12.0, 5.5
"""From these up an analysis is that of a raw clay. [wt %], estimate: of the shipped materials they
pick the clays with bound water and neither pyrophyllite nor a feldspar."""


def own_materials(session: Session) -> tuple[materials.Material, ...]:
    """The user's own materials that have an analysis on record, by name.

    An own material also answers to the other names of the shipped one it replaces, unless the
    user has a material of that other name too.
    """
    with_analysis = (
        select(models.Material)
        .where(models.Material.oxides.any())
        .options(selectinload(models.Material.oxides))
        .order_by(models.Material.name)
    )
    rows = session.scalars(with_analysis).all()
    taken = {materials.fold(row.name) for row in rows}
    found = []
    for row in rows:
        twin = materials.index().get(materials.fold(row.name))
        aliases = [name for name in twin.names if materials.fold(name) not in taken] if twin else []
        taken.update(map(materials.fold, aliases))
        found.append(_material(row, twin, aliases))
    return tuple(found)


def _material(
    row: models.Material, twin: materials.Material | None, aliases: Iterable[str]
) -> materials.Material:
    analysis = {each.oxide: each.weight_pct for each in row.oxides}
    loss = row.loss_on_ignition_pct or 0.0
    return materials.from_analysis(
        row.name,
        analysis,
        loss_on_ignition_percent=loss,
        source=row.source or "",
        clay=twin.clay if twin else clay_of(analysis, loss),
        aliases=aliases,
    )


def clay_of(analysis: dict[str, float], loss_on_ignition_percent: float) -> str:
    """``raw`` for the analysis of a raw clay, else nothing; see `CLAY_LOSS_PERCENT`."""
    is_clay = (
        analysis.get("SiO2", 0.0) >= CLAY_SILICA_PERCENT
        and analysis.get("Al2O3", 0.0) >= CLAY_ALUMINA_PERCENT
        and loss_on_ignition_percent >= CLAY_LOSS_PERCENT
    )
    return "raw" if is_clay else ""


def find_recipe(session: Session, name: str, version: int | None = None) -> forms.RecipeRecord:
    """One version of a recipe; the newest when none is named.

    Raises
    ------
    UnknownName
        No such glaze, or no such version of it.
    InvalidValue
        The glaze is a jar, or has no recipe yet.
    """
    glaze = find(session, models.Glaze, name)
    numbers = [each.version for each in glaze.recipe_versions]
    if not numbers:
        is_jar = glaze.kind != "recipe"
        raise InvalidValue(
            f"{glaze.name!r} {'is a jar: it has no' if is_jar else 'has no'} recipe on record.",
            "'tiles recipe list' for those that have one."
            if is_jar
            else f"'tiles recipe add \"{glaze.name}\" --line MATERIAL=PARTS ...'.",
            field="glaze",
            value=name,
        )
    wanted = numbers[-1] if version is None else version
    if wanted not in numbers:
        raise UnknownName(
            f"{glaze.name!r} has no version {wanted}.",
            f"one of {', '.join(map(str, numbers))}.",
            field="version",
            value=version,
        )
    return reading.recipe_record(glaze.recipe_versions[numbers.index(wanted)])


def recipe_inputs(
    recipe: forms.RecipeRecord,
) -> tuple[list[tuple[str, float]], list[tuple[str, float]]]:
    """The (material, parts) pairs of the base, and those of the additions."""
    groups: tuple[list, list] = ([], [])
    for line in recipe.lines:
        groups[line.is_addition].append((line.material, line.parts))
    return groups


def composition(recipe: forms.RecipeRecord, own: Iterable[materials.Material] = ()) -> Composition:
    """What a recipe is made of, with the user's own materials before the shipped ones."""
    base, extras = recipe_inputs(recipe)
    return analyse(base, extras=extras, own=own)
