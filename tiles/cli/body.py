"""``tiles body``: clay bodies."""

from typing import Annotated

import typer

from tiles.cli import belonging_commands, body_limits, common

COLUMNS = {
    "name": "body",
    "kind": "kind",
    "colour": "colour",
    "cones": "cones",
    "absorption_pct": "absorbs %",
    "shrinkage_pct": "shrinks %",
    "tiles": "tiles",
    "retired": "retired",
}

_FIELDS = "kind colour absorption_pct shrinkage_pct expansion_ppm_per_k remark".split()

Kind = Annotated[str | None, typer.Option(help="earthenware, stoneware, porcelain or other.")]
Colour = Annotated[str | None, typer.Option(help="Fired colour.")]
Cones = Annotated[str | None, typer.Option(help="Cone range on the bag, such as 06-04.")]
Absorption = Annotated[str | None, common.number_or_blank("Water absorption after firing [%].")]
Shrinkage = Annotated[str | None, common.number_or_blank("Wet to fired shrinkage [%].")]
Expansion = Annotated[
    str | None, common.number_or_blank("Measured thermal expansion [ppm/K = 1e-6/K].")
]
Remark = Annotated[str | None, typer.Option(help="Bag, batch or anything else.")]


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    sub = typer.Typer(rich_markup_mode=None, no_args_is_help=True, help="Clay bodies.")
    sub.command("add")(add)
    sub.command("change")(change)
    belonging_commands.add_common(
        sub,
        "ClayBody",
        COLUMNS,
        can_retire=True,
        learned=body_limits.of_body,
        spoken=body_limits.lines,
    )
    app.add_typer(sub, name="body")


def add(
    name: str,
    kind: Kind = None,
    colour: Colour = None,
    cones: Cones = None,
    absorption_pct: Absorption = None,
    shrinkage_pct: Shrinkage = None,
    expansion_ppm_per_k: Expansion = None,
    remark: Remark = None,
    db: common.Db = None,
) -> None:
    """Put a clay body on record."""
    values = common.fields(_FIELDS, locals()) | common.cone_range(cones)
    belonging_commands.add("ClayBody", {"name": name} | values, db)


def change(
    name: str,
    kind: Kind = None,
    colour: Colour = None,
    cones: Cones = None,
    absorption_pct: Absorption = None,
    shrinkage_pct: Shrinkage = None,
    expansion_ppm_per_k: Expansion = None,
    remark: Remark = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Change what is known of a clay body; what is not named stays.

    An empty text ("") clears a field.
    """
    values = common.fields(_FIELDS, locals())
    values |= belonging_commands.cones_to_change(cones)
    belonging_commands.change("ClayBody", name, values, db, yes=yes)
