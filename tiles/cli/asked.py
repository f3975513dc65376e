"""Options that several commands share: a block of them is written once, as a dataclass.

A command takes a block as one keyword parameter; `spread` shows its options in that place.
"""

import functools
import inspect
from collections.abc import Callable
from dataclasses import MISSING, dataclass, fields, is_dataclass
from typing import Annotated

import typer

from tiles.cli import common, stretch


@dataclass(frozen=True)
class Made:
    """How the tiles that are asked for were made and fired."""

    body: Annotated[str | None, typer.Option(help="On this clay body.")] = None
    glaze: Annotated[
        list[str] | None, typer.Option(help="With this glaze on it; repeat for layers.")
    ] = None
    cone: Annotated[
        str | None, typer.Option(help="Cone reached: one, or a range such as 06-04.")
    ] = None
    firing: Annotated[str | None, typer.Option(help="From this firing, glaze or bisque.")] = None
    bisque_firing: Annotated[str | None, typer.Option(help="From this bisque.")] = None
    bisque_cone: Annotated[
        str | None, typer.Option(help="Cone of the bisque (set, if not read), or a range.")
    ] = None
    kiln: Annotated[str | None, typer.Option(help="From this kiln.")] = None
    batch: Annotated[str | None, typer.Option(help="With this batch of a glaze on it.")] = None
    coats: Annotated[int | None, typer.Option(min=1, help="With a layer of so many coats.")] = None

    @property
    def searched(self) -> dict:
        """As a search names it."""
        plain = ("body", "firing", "bisque_firing", "kiln", "batch", "coats")
        return {
            **{name: getattr(self, name) for name in plain},
            "glazes": tuple(self.glaze or ()),
            **cones(self.cone, ""),
            **cones(self.bisque_cone, "bisque_"),
        }


@dataclass(frozen=True)
class Noted:
    """Of which time they are, and with which words noted."""

    since: stretch.Since = None
    until: stretch.Until = None
    note: stretch.Note = None

    @property
    def searched(self) -> dict:
        """As a search names it."""
        return stretch.read(self.since, self.until) | {"note": self.note}


@dataclass(frozen=True)
class Listing:
    """How rows are printed, and from which database they are."""

    limit: common.Limit = None
    as_json: common.AsJson = False
    as_csv: common.AsCsv = False
    db: common.Db = None

    @property
    def is_table(self) -> bool:
        """Whether a person reads them."""
        return not (self.as_json or self.as_csv)


def cones(cone: str | None, of: str) -> dict:
    """The ends of a range of cones, as a search names them."""
    ends = common.cone_range(cone)
    return {f"{of}cone_from": ends.get("cone_low"), f"{of}cone_to": ends.get("cone_high")}


def spread(command: Callable) -> Callable:
    """A command that shows the options of each block that it takes; they are given by name."""
    blocks, shown = {}, []
    for name, each in inspect.signature(command).parameters.items():
        if is_dataclass(each.annotation):
            blocks[name] = each.annotation
            shown += [_option(field) for field in fields(each.annotation)]
        else:
            shown.append(each)

    @functools.wraps(command)
    def run(**given):
        for name, block in blocks.items():
            own = [field.name for field in fields(block) if field.name in given]
            given[name] = block(**{each: given.pop(each) for each in own})
        return command(**given)

    run.__signature__ = inspect.Signature(shown)
    run.__annotations__ = {each.name: each.annotation for each in shown}
    return run


def _option(field) -> inspect.Parameter:
    default = inspect.Parameter.empty if field.default is MISSING else field.default
    kind = inspect.Parameter.KEYWORD_ONLY
    return inspect.Parameter(field.name, kind, default=default, annotation=field.type)
