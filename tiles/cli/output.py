"""One result as a table a person reads, as CSV or as JSON."""

import csv
import json
import sys
from collections.abc import Mapping, Sequence
from typing import Any, TextIO

from tiles.errors import InvalidValue

DASH = "-"
LABEL = 22
"""Width of the names beside which the facts of one thing stand."""
CONES = ("bisque", "cooler", "hotter", "nearest", "read")
"""Columns of cones whose heading does not say so."""


def rows(
    found: Sequence[Mapping[str, Any]],
    columns: Mapping[str, str],
    *,
    as_json: bool,
    as_csv: bool,
    empty: str,
    limit: int | None = None,
    keys: Sequence[str] | None = None,
    once: Sequence[str] = (),
    may_go: bool = False,
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
    keys : sequence of str, optional
        The keys of a row, which head a CSV without any; where not given, those of ``columns``.
    once : sequence of str, optional
        Keys that a table tells above it, and not on each row, where all rows say the same.
    may_go : bool
        Whether a table is without the columns in which every row is blank.
    """
    refuse_two_forms(as_json=as_json, as_csv=as_csv)
    shown = list(found[:limit])
    if as_json:
        print_json(shown)
    elif as_csv:
        _print_csv(shown, list(found[0] if found else keys or columns))
    elif found:
        alike = {key: cell(found[0][key]) for key in once if _are_alike(found, key)}
        if alike:
            said = ", ".join(f"{columns[key]} {said}" for key, said in alike.items())
            print(f"All: {said}\n")
        gone = set(alike)
        if may_go:
            gone |= {key for key in columns if not any(cell(row[key]) for row in shown)}
        _print_table(shown, {key: columns[key] for key in columns if key not in gone})
        if len(found) > len(shown):
            print(f"... and {len(found) - len(shown)} more", file=sys.stderr)
    if not found and not as_json:
        print(empty, file=sys.stderr)


def refuse_two_forms(*, as_json: bool, as_csv: bool) -> None:
    """One answer has one form."""
    if as_json and as_csv:
        raise InvalidValue("--json and --csv together.", "one of the two.")


def print_json(value: Any) -> None:
    """JSON with the characters as written where the output takes them; dates as ISO 8601."""
    in_numbers = not takes_any_letter(sys.stdout)
    print(json.dumps(value, ensure_ascii=in_numbers, indent=2, default=str))


def takes_any_letter(stream: TextIO) -> bool:
    """Whether what is written there can hold the letters of all languages."""
    return (getattr(stream, "encoding", None) or "utf-8").lower().startswith("utf")


def facts(label: str, *texts: str) -> list[str]:
    """The facts of one thing as lines, each text beside the label, which stands once."""
    from tiles.cli.prose import beside

    starts = [f"{'' if at else label:<{LABEL}} " for at in range(len(texts))]
    return [line for start, text in zip(starts, texts, strict=True) for line in beside(start, text)]


def cell(value: Any) -> str:
    """A value as a person reads it in a table or a spreadsheet."""
    if value is None or value == [] or value == {}:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        if all(each is None for each in value):
            return ""  # not recorded of any layer
        return " + ".join(cell(each) or "?" for each in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {cell(each)}".strip() for key, each in value.items())
    return str(value)


def _are_alike(found: Sequence[Mapping[str, Any]], key: str) -> bool:
    """Whether several rows say the same in a column."""
    said = {cell(row[key]) for row in found}
    return len(found) > 1 and len(said) == 1 and said != {""}


def _print_csv(found: Sequence[Mapping[str, Any]], keys: list[str]) -> None:
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(keys)
    writer.writerows([_csv_cell(key, row[key]) for key in keys] for row in found)


def _csv_cell(key: str, value: Any) -> str:
    from tiles.chemistry.cones import for_sheets

    text = cell(value)
    holds_cones = isinstance(value, str | list) and ("cone" in key or key in CONES)
    return for_sheets(text) if holds_cones else text


def _print_table(found: Sequence[Mapping[str, Any]], columns: Mapping[str, str]) -> None:
    from tiles.cli import tables

    texts = [[cell(row[key]) or DASH for key in columns] for row in found]
    print("\n".join(tables.lines(list(columns.values()), texts)))
