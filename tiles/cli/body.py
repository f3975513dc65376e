"""``tiles body``: clay bodies."""

from dataclasses import dataclass
from typing import Annotated

import typer

from tiles.cli import asked, belonging_commands, body_limits, common

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


@dataclass(frozen=True)
class Facts:
    """What is known of a clay body."""

    kind: Annotated[
        str | None, typer.Option(help="earthenware, stoneware, porcelain or other.")
    ] = None
    colour: Annotated[str | None, typer.Option(help="Fired colour.")] = None
    cones: Annotated[str | None, typer.Option(help="Cone range on the bag, such as 06-04.")] = None
    absorption_pct: Annotated[
        str | None, common.number_or_blank("Water absorption after firing [%].", "%")
    ] = None
    shrinkage_pct: Annotated[
        str | None, common.number_or_blank("Wet to fired shrinkage [%].", "%")
    ] = None
    expansion_ppm_per_k: Annotated[
        str | None, common.number_or_blank("Measured thermal expansion [ppm/K = 1e-6/K].", "ppm/K")
    ] = None
    remark: Annotated[str | None, typer.Option(help="Bag, batch or anything else.")] = None


def add_to(app: typer.Typer) -> None:
    """Add the subject."""
    sub = common.subject(app, "body", "Clay bodies.")
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


@asked.spread
def add(name: str, *, facts: Facts, db: common.Db = None) -> None:
    """Put a clay body on record."""
    belonging_commands.add("ClayBody", {"name": name} | vars(facts), db)


@asked.spread
def change(name: str, *, facts: Facts, yes: common.Yes = False, db: common.Db = None) -> None:
    """Change what is known of a clay body; what is not named stays.

    An empty text ("") clears a field.
    """
    belonging_commands.change("ClayBody", name, vars(facts), db, yes=yes)
