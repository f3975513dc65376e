"""How often a fault came on own tiles of another glaze, clay or jar, before one is fired for it.

They tell how likely it is to come again there. Why it came on the failed tile they do not tell:
`tiles why` weighs no tiles of other glazes and clays but its trials, so what an outcome means for
the causes (`diagnose.next_tiles.odds.chances`) leaves them out.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING

from diagnose.comparing.factors import BARE_CLAY
from diagnose.fixes.shapes import UNDER
from diagnose.next_tiles.odds import Inspected, Like, batch_of, counted, layers_of, like
from diagnose.view import View, area_of
from tiles.records.words import name_key

if TYPE_CHECKING:
    from tiles.records.forms import AreaRecord, TileRecord

MADE_OTHERWISE = 0.5
"""A tile of the same glaze on the same clay, of other coats or fired otherwise, counts so much of
one made alike (estimate) ..."""
MOST_AT_LARGE = 8.0
"""... and so does one of the new glaze on other clays, or of the new clay under other glazes, but
all of those no more than so many tiles: each pair has a fit of its own (estimate)."""


def outlook(
    others: Inspected, then: "TileRecord", area: int | None, defect: str, kind: str, believed: float
) -> tuple[float, Like]:
    """How likely the fault comes on a tile with another glaze or clay, and the tiles that tell it.

    Parameters
    ----------
    others : Inspected
        Own tiles, from `odds.inspected`.
    then : TileRecord
        The tile as it would be.
    area : int or None
        Which of its areas.
    defect : str
        One word of the defect list.
    kind : str
        What was changed on it, one of `odds.SWAPS`.
    believed : float
        The chance by the causes alone.
    """
    here = area_of(then, area)
    ours = _of_batch(others, here) if kind == "batch" else others
    alike = like(ours, then, area, defect, kind)
    pair = counted(ours.get(layers_of(then, here), ()), then, defect, others.late)
    at_large = counted(_at_large(ours, then, here, kind), then, defect, others.late)
    # A glaze without tiles is taken to be like the others.
    usual = at_large if at_large.is_told else counted(_all(others), then, defect, others.late)
    chance = usual.chance(believed, min(MADE_OTHERWISE, MOST_AT_LARGE / max(1, usual.worth)))
    chance = alike.chance(pair.but(alike).chance(chance, MADE_OTHERWISE))
    if alike.tiles:
        return chance, alike
    glaze, body = _spoken(here, kind), then.body.name
    if pair.is_told:
        alone = " alone" if len(here.layers) == 1 else ""
        return chance, replace(pair, of=f"{glaze}{alone} on {body}")
    return chance, replace(at_large, of=body if kind == "body" else glaze)


def _of_batch(others: Inspected, here: "AreaRecord") -> Inspected:
    """The areas of its batch alone."""
    found = Inspected(others.late)
    for layers, areas in others.items():
        found[layers] = [each for each in areas if batch_of(each[1]) == batch_of(here)]
    return found


def _all(others: Inspected) -> "Iterator[tuple[TileRecord, AreaRecord]]":
    return chain.from_iterable(others.values())


def _at_large(
    others: Inspected, then: "TileRecord", here: "AreaRecord", kind: str
) -> "Iterator[tuple[TileRecord, AreaRecord]]":
    """The areas of the new glaze on other clays, or of the new clay under other glazes."""

    def new(record: "TileRecord", area: "AreaRecord") -> "str | tuple[str, ...] | None":
        if kind == UNDER:
            return layers_of(record, area)[1:]
        name = record.body.name if kind == "body" else View(record, area).glaze_name
        return name and name_key(name)

    now = layers_of(then, here)
    for layers, areas in others.items():
        if layers != now and areas and new(*areas[0]) == new(then, here):
            yield from areas


def _spoken(here: "AreaRecord", kind: str) -> str:
    """Its uppermost glaze, and the batch where that is what is new; a tile may have none."""
    top = View(None, here).top
    if top is None:
        return BARE_CLAY
    return f"{top.glaze.name} from {top.batch.name}" if kind == "batch" else top.glaze.name
