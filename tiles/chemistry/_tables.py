"""Tables in CSV files: those shipped beside the formulas, and what stops one of a user's."""

import codecs
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


def text_in(file: Path) -> str:
    """All of a user's text file in UTF-8, or in UTF-16 where it begins with the mark of that.

    As UTF-16 a spreadsheet saves "Unicode text", and PowerShell what ``>`` sends into a file.

    Raises
    ------
    OSError, UnicodeDecodeError
    """
    with file.open("rb") as opened:
        is_wide = opened.read(2) in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
    return file.read_text(encoding="utf-16" if is_wide else "utf-8-sig")


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
