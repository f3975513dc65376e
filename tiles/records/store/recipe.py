"""Finding one version of a recipe."""

from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, UnknownName
from tiles.records import forms, models, reading
from tiles.records.store.belongings import find


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
