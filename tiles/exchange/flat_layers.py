"""Cells that should name one glaze and read as several layers, or as a glaze with its coats."""

from collections.abc import Collection, Iterator

from tiles.errors import Questioned
from tiles.exchange.flat_columns import MAIN, NOT_RECORDED, PLACES, header_of
from tiles.exchange.flat_csv import Reading
from tiles.records.layered import Layered, coats_typed, is_plain, layers_in
from tiles.records.words import name_key

_DOWN = ("", "under_", "under2_")


def ask_of_layers(reading: Reading, known: Collection[str]) -> None:
    """Add to the problems of a sheet, and take from its tiles, what may be layers in one cell.

    Parameters
    ----------
    reading : Reading
        Of a sheet nobody has confirmed.
    known : collection of str
        The glazes on record, as `name_key` has them: such a name stays as it is.
    """
    reading.refuse(_asked(reading, known))


def _asked(reading: Reading, known: Collection[str]) -> Iterator[Questioned]:
    recipes = {
        header_of("glaze", "name", place): header_of("recipe", "lines", place)
        for place in (MAIN, *PLACES)
    }
    cells = {
        (number, header): cell.strip()
        for number, row in reading.rows.items()
        for header, cell in zip(reading.header, row, strict=False)
        if header in {*recipes, *recipes.values()}
    }
    glazes = {at: cell for at, cell in cells.items() if at[1] in recipes}
    names = {name_key(cell) for cell in glazes.values()}.union(known)
    for (row, column), name in glazes.items():
        found = None if name_key(name) in known else layers_in(name, names - {name_key(name)})
        is_read = bool(found) and len(found.layers) == 1 and coats_typed(name)
        if found and not is_read and not _is_mix(found, cells.get((row, recipes[column]))):
            below = {cells.get((row, f"{place}glaze")) for place in _DOWN[1:]} - {None, ""}
            yield _question(reading.source, row, column, name, found, is_free=not below)


def _is_mix(found: Layered, recipe: str | None) -> bool:
    """Whether a name with a + or the like, and one recipe beside it, is that of one glaze."""
    return is_plain(found) and bool(recipe) and recipe != NOT_RECORDED


def _question(
    source: str, row: int, column: str, name: str, found: Layered, *, is_free: bool
) -> Questioned:
    what = "a glaze with its coats" if len(found.layers) == 1 else f"{len(found.layers)} layers"
    return Questioned(
        f"{name!r} reads as {what} ({source}, row {row}, column {column}).",
        f"{_where(column, found, is_free=is_free)}; or --yes if it is the name of one glaze.",
        field=column,
        value=name,
        row=row,
    )


def _where(column: str, found: Layered, *, is_free: bool) -> str:
    """The cells to write instead; only the columns where nobody can tell which goes into which."""
    start = column.removesuffix("glaze")
    down = _DOWN[_DOWN.index(start) :] if start in _DOWN else ()
    is_one = len(found.layers) == 1
    if is_one or (found.is_ordered and is_free and len(found.layers) <= len(down)):
        places = zip((start,) if is_one else down, found.layers, strict=False)
        return ", ".join(
            f"{place}glaze {name!r}" + (f", {place}coats {coats}" if coats else "")
            for place, (name, coats) in places
        )
    return (
        "the upper one in glaze, the one beneath in under_glaze, the next in under2_glaze, their "
        "coats in coats, under_coats, under2_coats"
    )
