"""Tables in CSV files: those shipped beside the formulas, and what stops one of a user's."""

import csv
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tiles.errors import InvalidValue

DATA = Path(__file__).parent / "data"


def read_table(name: str) -> list[dict[str, str]]:
    """Rows of one shipped CSV file, by its name without the ending."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


@contextmanager
def parted_into_cells(name: str) -> Iterator[None]:
    """Says in one line that a CSV file has a cell without an end."""
    try:
        yield
    except csv.Error as error:
        raise InvalidValue(
            f"{name} has a cell of over {csv.field_size_limit()} letters.",
            "the quotation mark that is not closed.",
        ) from error
