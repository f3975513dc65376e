"""How the tiles of ``tiles plan`` are coated: each glaze alone, or each over every other."""

import re
from collections.abc import Sequence
from itertools import permutations, product

from tiles.cli import entry, entry_numbers
from tiles.errors import InvalidValue

BANDS = ("lower alone", "overlap", "upper alone")
"""The areas of a tile with bands: what the overlap does is seen beside each glaze by itself."""


_COUNTS = re.compile(r"(.+?)=\s*(\d{1,3}(?:\s*,\s*\d{1,3})+)")
"""A layer beneath with several numbers of coats: "slip=1,2,3"."""


def refuse_areas(glazes: Sequence[str], beneath: Sequence[str]) -> None:
    """A plan puts every glaze on the whole tile; only coats differ by area.

    Raises
    ------
    InvalidValue
        A glaze names an area, or one that is not beneath several numbers of coats.
    """
    for text in [*glazes, *(each for each in beneath if not _COUNTS.fullmatch(each.strip()))]:
        try:
            has_area = entry.read_coat(text).area is not None
        except InvalidValue as error:
            error.hint = "--coats 1,2,3 for the glaze on top, --under NAME=1,2,3 for one beneath."
            raise
        if has_area:
            raise InvalidValue(
                f"glaze {text!r} names an area; a plan glazes the whole tile.",
                "the glaze without @, or 'tiles log' for a glaze on one area.",
                field="glaze",
                value=text,
            )


def beneath_each(beneath: Sequence[str], *, in_turn: bool, separate: bool) -> list[list[str]]:
    """The layers beneath of each tile: all of them, or ``in_turn`` one; by their coats if apart.

    Examples
    --------
    >>> beneath_each(["slip=1,2", "red"], in_turn=True, separate=True)
    [['slip=1'], ['slip=2'], ['red']]
    >>> beneath_each(["slip=1,2", "red"], in_turn=False, separate=False)
    [['slip=1@1', 'slip=2@2', 'red']]
    """
    if in_turn and len(beneath) < 2:
        raise InvalidValue("--in-turn without several --under.", "--under for each colour.")
    stacks = [[each] for each in beneath] if in_turn else [beneath]
    for stack in stacks if not separate else ():
        _refuse_other_counts(stack)
    return [
        [text for layer in chosen for text in layer]
        for stack in stacks
        for chosen in product(*(_by_coats(text, separate=separate) for text in stack))
    ]


def _refuse_other_counts(stack: Sequence[str]) -> None:
    """Each layer with several numbers of coats has one for each area."""
    told = [each for each in stack if _COUNTS.fullmatch(each.strip())]
    if len({each.count(",") for each in told}) > 1:
        raise InvalidValue(
            f"the areas do not match: {' and '.join(map(repr, told))}.",
            "as many numbers for each layer, or --separate for tiles in place of areas.",
            field="coats",
        )


def _by_coats(text: str, *, separate: bool) -> list[list[str]]:
    """What stands for a layer on each tile: one of its numbers of coats, or an area for each."""
    told = _COUNTS.fullmatch(text.strip())
    if not told:
        return [[text]]
    counts = [f"{told[1]}={each.strip()}" for each in told[2].split(",")]
    if separate:
        return [[each] for each in counts]
    return [[f"{each}@{area}" for area, each in enumerate(counts, start=1)]]


def alone(
    glazes: Sequence[str],
    beneath: Sequence[list[str]],
    shares: Sequence[str | None],
    shared: dict,
):
    """The areas of a tile for each of the layers beneath, each glaze and each of some coats."""
    return [
        entry.areas([*under, name], coats=share, shared=shared)
        for under in beneath
        for name in glazes
        for share in shares
    ]


def over_each_other(
    glazes: Sequence[str], beneath: Sequence[list[str]], coats: str | None, *, bands: bool
) -> list[list[dict]]:
    """The areas of a tile for each glaze over every other; the coats are those of both.

    Raises
    ------
    InvalidValue
        There is no other glaze, or a number of coats for each area.
    """
    if len(glazes) < 2:
        raise InvalidValue(
            "one glaze alone lies over no other.", "--glaze again for each further one."
        )
    if coats and "," in coats:
        raise InvalidValue(
            f"coats {coats!r} would be those of areas, and both glazes get as many everywhere.",
            "one number such as --coats 2, or --glaze NAME=COATS for each.",
            field="coats",
            value=coats,
        )
    many = entry_numbers.numbers(coats, "coats", int)
    both = [_with_coats(name, many) for name in glazes]
    if bands and any("@" in layer for under in beneath for layer in under):
        raise InvalidValue(
            "--bands makes areas of its own, beside those of coats beneath.",
            "--separate, for a tile with each number of coats.",
        )
    pairs = product(beneath, permutations(both, 2))
    return [_areas(under, *pair, bands=bands) for under, pair in pairs]


def _with_coats(text: str, many: list) -> str:
    coat = entry.read_coat(text)
    if many:
        entry.refuse_two_counts({"glaze": coat.glaze, "coats": coat.coats}, many[0])
    return f"{coat.glaze}={many[0]}" if many else text


def _areas(beneath: list[str], lower: str, upper: str, *, bands: bool) -> list[dict]:
    if not bands:
        return entry.areas([*beneath, lower, upper])
    layers = [*beneath, f"{lower}@1", f"{lower}@2", f"{upper}@2", f"{upper}@3"]
    found = entry.areas(layers)
    return [area | {"label": label} for area, label in zip(found, BANDS, strict=True)]
