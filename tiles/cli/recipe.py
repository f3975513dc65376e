"""``tiles recipe``: recipes in plain materials, each change a new version."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import caution, common, output, recipe_lines
from tiles.cli.glaze import Cones, Finish
from tiles.cli.recipe_text import spoken_parts
from tiles.cli.studio import own_materials
from tiles.errors import AlreadyOnRecord, InvalidValue, Questioned, shell_word

COLUMNS = {
    "glaze": "glaze",
    "version": "version",
    "of": "of",
    "role": "role",
    "cones": "cones",
    "parts": "parts",
    "not_understood_pct": "not understood %",
}


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    from tiles.cli import recipe_compare, recipe_show

    what = "Recipes: parts, Seger formula, fit, melt, batch weights."
    sub = common.subject(app, "recipe", what)
    sub.command("add")(add)
    sub.command("list")(list_all)
    sub.command("show")(recipe_show.show)
    sub.command("compare")(recipe_compare.compare)
    sub.command("remove")(remove)


def add(
    name: Annotated[str, typer.Argument(help="The glaze; new, or a recipe on record.")],
    line: Annotated[
        list[str] | None, typer.Option(help="MATERIAL=PARTS of the base; repeat.")
    ] = None,
    extra: Annotated[
        list[str] | None, typer.Option(help="MATERIAL=PARTS above the base; repeat.")
    ] = None,
    from_csv: Annotated[
        Path | None, typer.Option(help="CSV with material,parts,is_addition instead.")
    ] = None,
    to_100: Annotated[
        bool, typer.Option("--to-100", help="Scale the base to 100 parts, additions with it.")
    ] = False,
    role: Annotated[
        str | None, typer.Option(help="Of a new one: glaze, slip, wash ...; default glaze.")
    ] = None,
    finish: Finish = None,
    cones: Cones = None,
    note: Annotated[str | None, typer.Option(help="What this version is about.")] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Put a recipe on record, or the next version of one. Parts are kept as given.

    Example: tiles recipe add "satin white" --line "soda feldspar=32" --line whiting=14
    --line kaolin=24 --line silica=30 --extra "tin oxide=4"
    """
    if not name.strip():
        raise InvalidValue("the recipe has no name.", 'a name, such as "satin white".')
    lines = _lines(line or [], extra or [], from_csv, db)
    lines.refuse_impossible(own_materials(db, aloud=False))
    lines = lines.to_100() if to_100 else lines
    about = {"role": role, "finish": finish} | common.cone_range(cones)
    about = {key: value for key, value in about.items() if value is not None}
    # A person who was asked for each line has been asked about its material too.
    was_asked = not (line or extra or from_csv)
    stored = common.confirmed(
        lambda sure: _store(name, lines, about, note, db=db, sure=sure), yes=yes or was_asked
    )
    _tell(stored, lines)
    caution.tell([stored], db)
    common.talk(f"Next: tiles recipe show {shell_word(stored[0])}")


def _lines(
    line: list[str], extra: list[str], from_csv: Path | None, db: str | None
) -> recipe_lines.Lines:
    if from_csv is not None:
        if line or extra:
            raise InvalidValue("lines beside --from-csv.", "one of the two.")
        return recipe_lines.from_csv(from_csv)
    if line or extra:
        return recipe_lines.from_options(line, extra)
    if not common.is_interactive():
        raise InvalidValue(
            "the recipe has no line.", f"--line {recipe_lines.EXAMPLE}, once a line."
        )
    return recipe_lines.asked(own_materials(db))


def _store(name, lines, about, note, *, db, sure) -> tuple[str, int]:
    """Glaze and version, in one transaction; what cannot be right is refused before that."""
    from tiles.records import forms, store

    recipe = forms.read(forms.RecipeRecord, {"lines": _form_lines(lines), "note": note}, name)
    with common.writing(db) as session:
        _check(session, recipe, sure=sure)
        glaze = _glaze(session, name, about)
        _refuse_same(glaze, recipe)
        version = store.add_recipe_version(session, glaze.name, recipe)
        return glaze.name, version.version


def _form_lines(lines: recipe_lines.Lines) -> list[dict]:
    return [
        {"material": material, "parts": parts, "is_addition": is_addition}
        for is_addition, group in ((False, lines.base), (True, lines.extras))
        for material, parts in group
    ]


def _check(session, recipe, *, sure: bool) -> None:
    """Refuse what cannot be right; question a material that nobody has an analysis of."""
    from tiles.records.analyses import composition, own_materials

    own = own_materials(session)
    made_of = composition(recipe, own)
    if sure or not made_of.suggestions:
        return
    name, close = next(iter(made_of.suggestions.items()))
    others = f" and {len(made_of.suggestions) - 1} more" if len(made_of.suggestions) > 1 else ""
    poisons = caution.unknown_materials(made_of.suggestions, own)
    raise Questioned(
        " ".join(
            [
                f"No analysis of {name!r}{others} is known, so "
                f"{made_of.not_understood_percent:.0f} % of the recipe would not be understood.",
                *poisons,
            ]
        ),
        (f"{close!r}, " if close else "")
        + f"'tiles material add {shell_word(name)}' with its data sheet, or --yes to keep it so.",
        field="material",
        value=name,
    )


def _glaze(session, name: str, about: dict):
    from tiles.records import forms, models, store
    from tiles.records.layered import refuse_layers
    from tiles.records.store.belongings import look_up

    row = look_up(session, models.Glaze, name)
    if row is None:
        refuse_layers(name)
        values = {"name": name, "kind": "recipe", "role": "glaze"} | about
        return store.add_glaze(session, forms.read(forms.GlazeRecord, values))
    if about:
        raise InvalidValue(
            f"{row.name!r} is on record already, so this adds a version of its recipe only.",
            f"'tiles glaze change {shell_word(row.name)}' for {', '.join(about)}.",
        )
    return row


def _refuse_same(glaze, recipe) -> None:
    from tiles.records.derived import recipe_key
    from tiles.records.reading import recipe_record

    known = shell_word(glaze.name)
    for version in glaze.recipe_versions:
        if recipe_key(recipe_record(version)) == recipe_key(recipe):
            # A version is known by its lines, in files too: a second one could not be told apart.
            newest = glaze.recipe_versions[-1].version
            off = f", or 'tiles recipe remove {known}' if version {newest} was never on a tile"
            raise AlreadyOnRecord(
                f"version {version.version} of {glaze.name!r} has these lines already.",
                f"'tiles recipe show {known} --version {version.version}', and "
                f"for tiles of it --recipe-version {version.version} with log, plan and change"
                f"{off if newest != version.version else ''}.",
            )


def _tell(stored: tuple[str, int], lines: recipe_lines.Lines) -> None:
    name, version = stored
    base, extras = (round(each, 2) for each in (lines.base_sum, lines.extras_sum))
    additions = f", additions {extras:g}" if lines.extras else ""
    print(f"{name} version {version} is on record; base {base:g} parts{additions}.")
    if lines.base and abs(lines.base_sum - 100) > 0.05:
        common.talk("Note: the base does not add up to 100; kept as given (--to-100 scales it).")


def remove(
    name: str,
    version: Annotated[int | None, typer.Option(help="The newest one, which is meant.")] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Take the newest version of a recipe off the record, if no tile was glazed with it."""
    from functools import partial

    from tiles.cli import belonging_commands
    from tiles.records import store

    off = partial(store.remove_version, glaze_name=name, number=version)
    belonging_commands.take_off(off, db, yes=yes)


def list_all(
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    limit: common.Limit = None,
    db: common.Db = None,
) -> None:
    """List the newest version of every recipe."""
    from sqlalchemy import select

    from tiles.records import models, reading
    from tiles.records.analyses import own_materials

    every = select(models.Glaze).options(*reading.parts(models.Glaze)).order_by(models.Glaze.name)
    with common.reading(db) as session:
        own = own_materials(session)
        rows = session.scalars(every)
        found = [_row(glaze, own) for glaze in rows if glaze.recipe_versions]
    output.rows(found, COLUMNS, as_json=as_json, as_csv=as_csv, limit=limit, empty="No recipe yet.")


def _row(glaze, own: tuple) -> dict:
    from tiles.cli.belonging_commands import range_cell
    from tiles.records.analyses import composition
    from tiles.records.reading import glaze_record, recipe_record

    recipe = recipe_record(glaze.recipe_versions[-1])
    made_of = composition(recipe, own)
    return {
        "glaze": glaze.name,
        "version": recipe.version,
        "of": len(glaze.recipe_versions),
        "role": glaze.role,
        "cones": range_cell(glaze_record(glaze).model_dump()),
        "parts": spoken_parts(recipe),
        "lines": [line.model_dump() for line in recipe.lines],
        "not_understood_pct": round(made_of.not_understood_percent, 1),
        "note": recipe.note,
    }
