"""The user's own analyses, and what a stored recipe is made of by them."""

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from tiles.chemistry.formula import Composition, analyse
from tiles.chemistry.materials import Material, from_analysis
from tiles.chemistry.own_materials import beside_shipped
from tiles.records import forms, models


def own_materials(session: Session) -> tuple[Material, ...]:
    """The user's own materials that have an analysis on record, by name."""
    with_analysis = (
        select(models.Material)
        .where(models.Material.oxides.any())
        .options(selectinload(models.Material.oxides))
        .order_by(models.Material.name)
    )
    return beside_shipped(
        from_analysis(
            row.name,
            {each.oxide: each.weight_pct for each in row.oxides},
            loss_on_ignition_percent=row.loss_on_ignition_pct or 0.0,
            source=row.source or "",
        )
        for row in session.scalars(with_analysis)
    )


def composition(recipe: forms.RecipeRecord, own: Iterable[Material] = ()) -> Composition:
    """What a recipe is made of, with the user's own materials before the shipped ones."""
    return analyse(recipe.base, extras=recipe.extras, own=own)
