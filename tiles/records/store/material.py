"""Writing the user's own materials, from the analysis on a data sheet."""

from sqlalchemy.orm import Session

from tiles.chemistry import materials
from tiles.errors import AlreadyOnRecord, shell_word
from tiles.records import forms, models
from tiles.records.store.belongings import look_up


def add_material(
    session: Session,
    material: materials.Material,
    *,
    remark: str | None = None,
    replace: bool = False,
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

    Raises
    ------
    AlreadyOnRecord
        It has an analysis, and ``replace`` was not said.
    InvalidValue
        No line of a recipe could have its name.
    """
    forms.read(forms.RecipeLine, {"material": material.name, "parts": 1})
    row = look_up(session, models.Material, material.name)
    if row is None:
        # A recipe may have brought in the name already, without an analysis.
        row = models.Material(name=material.name)
        session.add(row)
    elif row.oxides and not replace:
        raise AlreadyOnRecord(
            f"{row.name!r} already has an analysis on record.",
            f"'tiles material show {shell_word(row.name)}', or --replace for a new data sheet.",
            field="material",
            value=material.name,
        )
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
