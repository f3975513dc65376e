"""Options that several commands share: a block of them is written once, as a dataclass.

A command takes a block as one keyword parameter; `spread` shows its options in that place.
"""

import functools
import inspect
from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from typing import Annotated, Any

import typer

from tiles.cli import common, put_on, stretch


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


@dataclass(frozen=True)
class TopCoat:
    """How the topmost layer of a tile was put on, and from which bucket."""

    method: Annotated[str | None, typer.Option(help="brush, dip, pour, spray, ...")] = None
    applied_on: Annotated[list[str] | None, typer.Option(help=put_on.HELP)] = None
    beneath: Annotated[
        str | None,
        typer.Option(
            help="damp or dry: what the top coat went on, be it the coat before of the same glaze."
        ),
    ] = None
    batch: Annotated[str | None, typer.Option(help="Batch (bucket) of the top glaze.")] = None


@dataclass(frozen=True)
class OfTile:
    """What is known of a whole tile: its bisque, its firing, its form and its days."""

    bisque_cone: Annotated[str | None, typer.Option(help="Cone of the bisque.")] = None
    bisque_firing: Annotated[str | None, typer.Option(help="The bisque firing, if on record.")] = (
        None
    )
    firing: Annotated[str | None, typer.Option(help="The glaze firing.")] = None
    shelf: Annotated[str | None, typer.Option(help="Shelf or place in the kiln.")] = None
    cone_reached: Annotated[
        str | None, typer.Option(help="Cone reached there, by its witness cone.")
    ] = None
    form: Annotated[str | None, typer.Option(help="flat, angle, curved, vessel or other.")] = None
    stood: Annotated[str | None, typer.Option(help="upright, sloped or flat in the kiln.")] = None
    made_on: Annotated[str | None, common.day("Day it was made, YYYY-MM-DD.")] = None
    glazed_on: Annotated[str | None, common.day("Day of glazing: how old its bucket was.")] = None


@dataclass(frozen=True)
class OfTrial:
    """What a trial is about."""

    trial_defect: Annotated[str | None, typer.Option(help="The fault that the trial is about.")] = (
        None
    )
    trial_change: Annotated[
        str | None, typer.Option(help="The one thing changed: coats 3 -> 2.")
    ] = None


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


def by_name(options: Mapping[str, Any]) -> dict[str, Any]:
    """The options of a command, those of its blocks among the others."""
    return {
        key: value
        for name, each in options.items()
        for key, value in (vars(each) if is_dataclass(each) else {name: each}).items()
    }


def _option(field) -> inspect.Parameter:
    default = inspect.Parameter.empty if field.default is MISSING else field.default
    kind = inspect.Parameter.KEYWORD_ONLY
    return inspect.Parameter(field.name, kind, default=default, annotation=field.type)
