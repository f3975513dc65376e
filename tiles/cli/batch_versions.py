"""Buckets and the versions of recipes: what the tiles from a bucket tell of what is in it."""

from tiles.cli import common
from tiles.errors import shell_line


def tell_other_version(records: list, db: str | None) -> None:
    """One line for tiles of another version than all others from the bucket they came from."""
    from tiles.records import models, store
    from tiles.records.derived import is_of_recipe

    with common.reading(db) as session:
        for (glaze, batch, version), found in _by_version(records).items():
            row = store.find_batch(store.find(session, models.Glaze, glaze), batch)
            marks = list(found)
            recipes = store.recipes_from(session, row, marks)
            own = next(iter(found.values()))
            numbers = {each.version for each in recipes}
            if len(numbers) == 1 and not any(is_of_recipe(own, each) for each in recipes):
                _tell(marks, f"version {version} of {glaze}", batch, *numbers)


def _by_version(records: list) -> dict[tuple, dict]:
    """The recipe of each tile whose top layer has a batch, by glaze, batch and version."""
    found: dict[tuple, dict] = {}
    for record in records:
        for area in record.areas:
            for layer in area.layers[-1:]:
                if layer.batch and layer.recipe:
                    key = layer.glaze.name, layer.batch.name, layer.recipe.version
                    found.setdefault(key, {})[record.mark] = layer.recipe
    return found


def _tell(marks: list[str], version: str, batch: str, other: int) -> None:
    from tiles.cli.marks import runs
    from tiles.records.spoken import some

    are = "is" if len(marks) == 1 else "are"
    command = shell_line(["tiles", "change", *runs(marks), "--recipe-version", str(other)])
    common.talk(
        f"Check: {some(marks)} {are} of {version}, all other tiles from batch {batch} of version "
        f"{other}. If these are too: {command}"
    )


def may_be_from(session, row, recipes: list) -> bool:
    """Whether tiles of some recipes may be from a bucket, as far as its tiles tell."""
    from tiles.records import store
    from tiles.records.derived import is_of_recipe

    known = store.recipes_from(session, row)
    return not known or any(is_of_recipe(own, each) for own in recipes for each in known)
