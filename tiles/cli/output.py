"""One result as a table a person reads, as CSV or as JSON."""

import csv
import json
import shutil
import sys
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from tiles.errors import InvalidValue

DASH = "-"
LABEL = 22
"""Width of the names beside which the facts of one thing stand."""


def rows(
    found: Sequence[Mapping[str, Any]],
    columns: Mapping[str, str],
    *,
    as_json: bool,
    as_csv: bool,
    empty: str,
    limit: int | None = None,
) -> None:
    """Print rows in the chosen way.

    Parameters
    ----------
    found : sequence of mappings
        One mapping a row; all keys go to JSON and CSV.
    columns : mapping
        Key to heading, for the table alone.
    empty : str
        What to say, on standard error, when there is nothing.
    limit : int, optional
        Print at most so many; a table says how many more there are.
    """
    if as_json and as_csv:
        raise InvalidValue("--json and --csv together.", "one of the two.")
    shown = list(found[:limit])
    if as_json:
        print_json(shown)
    elif as_csv:
        _print_csv(shown, list(found[0]) if found else list(columns))
    elif found:
        _print_table(shown, columns)
        if len(found) > len(shown):
            print(f"... and {len(found) - len(shown)} more", file=sys.stderr)
    if not found and not as_json:
        print(empty, file=sys.stderr)


def print_json(value: Any) -> None:
    """JSON with the characters as written; dates as ISO 8601."""
    print(json.dumps(value, ensure_ascii=False, indent=2, default=str))


def cell(value: Any) -> str:
    """A value as a person reads it in a table or a spreadsheet."""
    if value is None or value == [] or value == {}:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        return " + ".join(cell(each) or "?" for each in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {cell(each)}".strip() for key, each in value.items())
    return str(value)


def _print_csv(found: Sequence[Mapping[str, Any]], keys: list[str]) -> None:
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(keys)
    writer.writerows([cell(row[key]) for key in keys] for row in found)


def _print_table(found: Sequence[Mapping[str, Any]], columns: Mapping[str, str]) -> None:
    texts = [[cell(row[key]) or DASH for key in columns] for row in found]
    headings = list(columns.values())
    widths = [max(map(len, column)) for column in zip(headings, *texts, strict=True)]
    widths = _fit(widths, headings)
    for line in [headings, ["-" * width for width in widths], *texts]:
        cut = [_cut(text, width) for text, width in zip(line, widths, strict=True)]
        first, *more = textwrap.wrap(line[-1], widths[-1]) or [""]
        for last in (cut[:-1] + [first], *([""] * len(cut[:-1]) + [each] for each in more)):
            print("  ".join(f"{text:<{w}}" for text, w in zip(last, widths, strict=True)).rstrip())


def _fit(widths: list[int], headings: list[str]) -> list[int]:
    """Narrow the widest columns until a line fits the terminal; a pipe gets every word.

    What does not fit is cut, but in the last column, which goes on below.
    """
    if not sys.stdout.isatty():
        return widths
    room = shutil.get_terminal_size().columns - 2 * (len(widths) - 1)
    widths = list(widths)
    while sum(widths) > room:
        widest = max(range(len(widths)), key=widths.__getitem__)
        if widths[widest] <= max(8, len(headings[widest])):
            break
        widths[widest] -= 1
    return widths


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"
