"""``tiles blend``: line, triaxial and grid blends of recipes on record."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common
from tiles.cli.blend_points import Wanted, answer
from tiles.cli.recipe_show import Cone

Corner = Annotated[str, typer.Argument(help="A recipe on record; NAME@1 for version 1.")]
Steps = Annotated[int, typer.Option(help="Steps along each side; 4 steps make 5 tiles a side.")]
BatchG = Annotated[float, common.number("Dry weight of each mixture [g].")]
Body = Annotated[str | None, typer.Option(help="Clay body to compare the fit with.")]
Plan = Annotated[
    bool, typer.Option("--plan", help="Put the recipes and planned tiles on record; needs --body.")
]
Coats = Annotated[str | None, typer.Option(help="With --plan: coats; 1,2,3 makes three areas.")]
Bisque = Annotated[str | None, typer.Option(help="With --plan: cone of the bisque.")]
FirstMark = Annotated[
    str | None, typer.Option(help="With --plan: mark of the first tile; default: after the last.")
]


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    sub = typer.Typer(
        rich_markup_mode=None,
        no_args_is_help=True,
        help="Blends of recipes: the tiles to make, weighed out, with predicted fit and melt.",
    )
    sub.command("line")(line)
    sub.command("triaxial")(triaxial)
    sub.command("grid")(grid)
    app.add_typer(sub, name="blend")


def line(
    first: Corner,
    second: Corner,
    steps: Steps = 6,
    batch_g: BatchG = 100.0,
    cone: Cone = None,
    body: Body = None,
    plot: Annotated[
        Path | None, typer.Option(help="Save a picture: the expansion band beside the body's.")
    ] = None,
    plan: Plan = False,
    coats: Coats = None,
    bisque_cone: Bisque = None,
    first_mark: FirstMark = None,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """Blend two recipes in equal steps; 6 steps make 7 tiles, both ends among them.

    Example: tiles blend line "house clear@1" "house clear@2" --steps 6 --body "red earthenware"
    """
    from tiles.chemistry.blends import line as mix

    wanted = Wanted(batch_g, cone, body, plot, plan, coats, bisque_cone, first_mark, yes, db)
    answer(
        [first, second],
        lambda corners, own: mix(*corners, steps, own=own),
        wanted,
        as_json=as_json,
        as_csv=as_csv,
    )


def triaxial(
    first: Corner,
    second: Corner,
    third: Corner,
    steps: Steps = 4,
    batch_g: BatchG = 100.0,
    cone: Cone = None,
    body: Body = None,
    plan: Plan = False,
    coats: Coats = None,
    bisque_cone: Bisque = None,
    first_mark: FirstMark = None,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """Blend three recipes; 4 steps make 15 tiles, row by row from the first corner."""
    from tiles.chemistry.blends import triaxial as mix

    wanted = Wanted(batch_g, cone, body, None, plan, coats, bisque_cone, first_mark, yes, db)
    names = [first, second, third]
    answer(
        names,
        lambda corners, own: mix(*corners, steps, own=own),
        wanted,
        as_json=as_json,
        as_csv=as_csv,
    )


def grid(
    top_left: Corner,
    top_right: Corner,
    bottom_left: Corner,
    bottom_right: Corner,
    steps: Steps = 3,
    batch_g: BatchG = 100.0,
    cone: Cone = None,
    body: Body = None,
    plan: Plan = False,
    coats: Coats = None,
    bisque_cone: Bisque = None,
    first_mark: FirstMark = None,
    yes: common.Yes = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """Blend four recipes in a square; 3 steps make 16 tiles, row by row from the top left."""
    from tiles.chemistry.blends import grid as mix

    wanted = Wanted(batch_g, cone, body, None, plan, coats, bisque_cone, first_mark, yes, db)
    names = [top_left, top_right, bottom_left, bottom_right]
    answer(
        names,
        lambda corners, own: mix(*corners, steps + 1, steps + 1, own=own),
        wanted,
        as_json=as_json,
        as_csv=as_csv,
    )
