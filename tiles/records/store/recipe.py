"""Versions of a recipe: adding one, finding one."""

from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, UnknownName, shell_word
from tiles.records import forms, models, reading
from tiles.records.store.belongings import add_row, find, look_up
from tiles.records.words import name_key


def add_recipe_version(
    session: Session, glaze_name: str, record: forms.RecipeRecord
) -> models.RecipeVersion:
    """Add the next version of a recipe. Earlier versions stay as they were fired."""
    glaze = find(session, models.Glaze, glaze_name)
    if glaze.kind != "recipe":
        raise InvalidValue(
            f"{glaze.name!r} is on record as a jar, so it has no recipe.",
            f"'tiles glaze change {shell_word(glaze.name)} --kind recipe' if it is mixed from one.",
            field="glaze",
            value=glaze.name,
        )
    _refuse_repeated_material(record)
    number = next_version(glaze)
    if record.version not in (None, number):
        raise InvalidValue(
            f"the next version of {glaze.name!r} is {number}, not {record.version}.",
            "leave the version out.",
            field="version",
            value=record.version,
        )
    row = models.RecipeVersion(version=number, note=record.note)
    row.lines = [
        models.RecipeLine(
            position=position,
            material_id=_material(session, line.material).material_id,
            parts=line.parts,
            is_addition=line.is_addition,
        )
        for position, line in enumerate(record.lines, start=1)
    ]
    glaze.recipe_versions.append(row)
    session.flush()
    return row


def next_version(glaze: models.Glaze) -> int:
    """The number that the next version of a recipe gets."""
    return 1 + max((version.version for version in glaze.recipe_versions), default=0)


def _refuse_repeated_material(record: forms.RecipeRecord) -> None:
    names = [name_key(line.material) for line in record.lines]
    for line in record.lines:
        if names.count(name_key(line.material)) > 1:
            raise InvalidValue(
                f"{line.material!r} stands in the recipe twice.",
                "one line for each material, with its parts added up.",
                field="material",
                value=line.material,
            )


def _material(session: Session, name: str) -> models.Material:
    known = look_up(session, models.Material, name)
    return known or add_row(session, models.Material, {"name": name})


def find_recipe(session: Session, name: str, version: int | None = None) -> forms.RecipeRecord:
    """One version of a recipe, as `find_version` finds it."""
    return reading.recipe_record(find_version(session, name, version))


def find_version(session: Session, name: str, version: int | None) -> models.RecipeVersion:
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
            else f"'tiles recipe add {shell_word(glaze.name)} --line MATERIAL=PARTS ...'.",
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
    return glaze.recipe_versions[numbers.index(wanted)]
