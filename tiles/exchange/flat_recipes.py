"""The one recipe that a flat file gives for a glaze goes to all its tiles of that file."""

from sqlalchemy.orm import Session

from tiles.exchange.flat_csv import Reading
from tiles.records import forms, models, reading
from tiles.records.derived import recipe_key
from tiles.records.spoken import some
from tiles.records.store import belongings
from tiles.records.words import name_key


def fill_recipes(session: Session, sheet: Reading) -> list[str]:
    """Fill in blank recipes, in place, where no other version can be meant.

    Returns
    -------
    list of str
        One sentence for each glaze with recipes of which the blanks stay blank.
    """
    given = _given(sheet)
    blank: dict[str, list[tuple[str, forms.LayerRecord]]] = {}
    for mark, layer in sheet.blank_recipes:
        if layer.glaze.kind != "jar":
            blank.setdefault(name_key(layer.glaze.name), []).append((mark, layer))
    untold = []
    for glaze, found in blank.items():
        name = found[0][1].glaze.name
        in_file, on_record = given.get(glaze, []), _on_record(session, name)
        marks = some(list(dict.fromkeys(mark for mark, _layer in found)))
        if len({tuple(recipe_key(each)) for each in in_file + on_record}) > 1:
            untold.append(f"{name} has several recipes, and none was filled in where it is blank: "
                          f"{marks}.")  # fmt: skip
        elif in_file:
            for _mark, layer in found:
                layer.recipe = in_file[0]
        elif on_record:
            untold.append(
                f"{name} has a recipe on record, but the file names none for {marks}. If it was "
                "that one: its lines on one row of the file, and --replace."
            )
    return untold


def _given(sheet: Reading) -> dict[str, list[forms.RecipeRecord]]:
    given: dict[str, list[forms.RecipeRecord]] = {}
    for glaze, recipe in sheet.recipes:
        given.setdefault(name_key(glaze), []).append(recipe)
    return given


def _on_record(session: Session, name: str) -> list[forms.RecipeRecord]:
    glaze = belongings.look_up(session, models.Glaze, name)
    return [reading.recipe_record(each) for each in glaze.recipe_versions] if glaze else []
