"""``tiles blend``: line, triaxial and grid blends of recipes on record."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import asked, common
from tiles.cli.blend_points import Wanted, answer

Corner = Annotated[str, typer.Argument(help="A recipe on record; NAME@1 for version 1.")]
Steps = Annotated[int, typer.Option(help="Steps along each side; 4 steps make 5 tiles a side.")]


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    what = "Blends of recipes: the tiles to make, weighed out, with predicted fit and melt."
    sub = common.subject(app, "blend", what)
    sub.command("line")(line)
    sub.command("triaxial")(triaxial)
    sub.command("grid")(grid)


@asked.spread
def line(
    first: Corner,
    second: Corner,
    steps: Steps = 6,
    *,
    plot: Annotated[
        Path | None, typer.Option(help="Save a picture: the expansion band beside the body's.")
    ] = None,
    wanted: Wanted,
) -> None:
    """Blend two recipes in equal steps; 6 steps make 7 tiles, both ends among them.

    Example: tiles blend line "house clear@1" "house clear@2" --steps 6 --body "red earthenware"
    """
    from tiles.chemistry.blends import line as mix

    answer([first, second], lambda corners, own: mix(*corners, steps, own=own), wanted, plot)


@asked.spread
def triaxial(
    first: Corner, second: Corner, third: Corner, steps: Steps = 4, *, wanted: Wanted
) -> None:
    """Blend three recipes; 4 steps make 15 tiles, row by row from the first corner."""
    from tiles.chemistry.blends import triaxial as mix

    answer([first, second, third], lambda corners, own: mix(*corners, steps, own=own), wanted)


@asked.spread
def grid(
    top_left: Corner,
    top_right: Corner,
    bottom_left: Corner,
    bottom_right: Corner,
    steps: Steps = 3,
    *,
    wanted: Wanted,
) -> None:
    """Blend four recipes in a square; 3 steps make 16 tiles, row by row from the top left."""
    from tiles.chemistry.blends import grid as mix

    names, side = [top_left, top_right, bottom_left, bottom_right], steps + 1
    answer(names, lambda corners, own: mix(*corners, side, side, own=own), wanted)
