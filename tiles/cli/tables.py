"""Rows as a table that fits the screen: whole words, nothing cut, a wide row goes on below."""

import shutil
import sys
import textwrap
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise, zip_longest

GAP = 2
BELOW = 4
"""Indent of the columns that go on below the first ones."""
MOST_JUDGED = 200
"""Rows, spread over the table, by which the widths of columns are chosen."""

Bands = list[tuple[int, list[int]]]
"""What stands beneath each other of one row: each its indent and the widths of its columns."""


def lines(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """The table beneath its headings.

    A pipe gets every row on one line. On a screen too narrow for that, cells are wrapped between
    words or columns go on below the first ones, whichever takes fewer lines.
    """
    columns = list(zip(headings, *rows, strict=True))
    widths = [max(map(len, column)) for column in columns]
    room = shutil.get_terminal_size().columns
    if not sys.stdout.isatty() or _taken(widths) <= room:
        return _drawn(headings, rows, [(0, widths)])
    return min((_drawn(headings, rows, bands) for bands in _layouts(columns, room)), key=len)


def _layouts(columns: list[tuple[str, ...]], room: int) -> Iterator[Bands]:
    """Ways to lay a row out: from one band of narrow columns to as many as leave cells whole."""
    # A heading costs one line when it is wrapped, a cell one line a row.
    widths = [max(_longest_word(head), *map(len, cells)) for head, *cells in columns]
    least = [max(map(_longest_word, column)) for column in columns]
    # The name that is typed stays whole; a second line of it would look like a row of its own.
    least[0] = widths[0]
    judged = _lengths([cells for _head, *cells in columns])
    for count in range(1, len(columns) + 1):
        bands = [
            (
                indent,
                _narrowed(widths[at:end], least[at:end], judged[at:end], max(room - indent, 1)),
            )
            for at, end in _ends(widths, count)
            for indent in [BELOW if at else 0]
        ]
        if all(narrowed for _, narrowed in bands):
            yield bands
            if [width for _, narrowed in bands for width in narrowed] == widths:
                return


def _ends(widths: Sequence[int], count: int) -> list[tuple[int, int]]:
    """So many bands of columns, in order, that the widest band is as narrow as can be."""
    inner = combinations(range(1, len(widths)), count - 1)
    splits = (list(pairwise((0, *cuts, len(widths)))) for cuts in inner)
    return min(splits, key=lambda ends: max(_taken(widths[at:end]) for at, end in ends))


def _taken(widths: Sequence[int]) -> int:
    return sum(widths) + GAP * (len(widths) - 1)


def _lengths(columns: Sequence[Sequence[str]]) -> list[list[int]]:
    """How long the cells of each column are, of so many rows as are judged."""
    apart = max(len(columns[0]) // MOST_JUDGED, 1)
    return [[len(cell) for cell in cells[::apart]] for cells in columns]


def _narrowed(
    widths: Sequence[int], least: Sequence[int], lengths: Sequence[Sequence[int]], room: int
) -> list[int]:
    """The widths, narrowed until they fit where it costs fewest lines; none if words would break.

    ``lengths`` are those of the cells of each column.
    """
    narrowed = list(widths)
    while (over := _taken(narrowed) - room) > 0:
        able = [at for at, width in enumerate(narrowed) if width > least[at]]
        if not able:
            # A word wider than the screen is broken, because it would be cut elsewhere.
            return [room] if len(narrowed) == 1 else []
        steps = [(at, _next_width(narrowed[at], least[at], lengths[at], over)) for at in able]
        at, width = min(steps, key=lambda step: _cost(step, narrowed, lengths))
        narrowed[at] = width
    return narrowed


def _next_width(width: int, least: int, lengths: Sequence[int], over: int) -> int:
    """As much narrower as costs no more lines than one letter less does."""
    return max([width - over, least, *(each for each in lengths if each < width)])


def _cost(step: tuple[int, int], widths: list[int], lengths: Sequence[Sequence[int]]) -> tuple:
    """The lines that a column costs for each letter won; of equal ones the widest goes first."""
    at, width = step
    then = [*widths[:at], width, *widths[at + 1 :]]
    more = _lines_of(then, lengths) - _lines_of(widths, lengths)
    return more / (widths[at] - width), -widths[at]


def _lines_of(widths: Sequence[int], lengths: Sequence[Sequence[int]]) -> int:
    """About how many lines the rows take."""
    rows = zip(*lengths, strict=True)
    return sum(max(-(-n // w) for n, w in zip(row, widths, strict=True)) for row in rows)


def _longest_word(text: str) -> int:
    return max(map(len, text.split()), default=0)


def _drawn(headings: Sequence[str], rows: Sequence[Sequence[str]], bands: Bands) -> list[str]:
    dashes = ["-" * width for _, widths in bands for width in widths]
    return [line for row in (headings, dashes, *rows) for line in _row(row, bands)]


def _row(cells: Sequence[str], bands: Bands) -> Iterator[str]:
    left = iter(cells)
    for indent, widths in bands:
        wrapped = [_wrapped(next(left), width) for width in widths]
        for parts in zip_longest(*wrapped, fillvalue=""):
            line = (" " * GAP).join(f"{part:<{w}}" for part, w in zip(parts, widths, strict=True))
            yield (" " * indent + line).rstrip()


def _wrapped(text: str, width: int) -> list[str]:
    if len(text) <= width:
        return [text]
    return textwrap.wrap(text, width, break_on_hyphens=False)
