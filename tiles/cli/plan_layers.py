"""How the tiles of ``tiles plan`` are coated: each glaze alone, or each over every other."""

from collections.abc import Sequence
from itertools import permutations

from tiles.cli import entry
from tiles.errors import InvalidValue

BANDS = ("lower alone", "overlap", "upper alone")
"""The areas of a tile with bands: what the overlap does is seen beside each glaze by itself."""


def alone(glazes: Sequence[str], beneath: list[str], shares: Sequence[str | None], shared: dict):
    """The areas of a tile for each glaze and each of some coats."""
    return [
        entry.areas([*beneath, name], coats=share, shared=shared)
        for name in glazes
        for share in shares
    ]


def over_each_other(
    glazes: Sequence[str], beneath: list[str], coats: str | None, *, bands: bool
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
    many = entry.numbers(coats, "coats", int)
    both = [_with_coats(name, many) for name in glazes]
    return [_areas(beneath, *pair, bands=bands) for pair in permutations(both, 2)]


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
