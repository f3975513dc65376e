"""The plain data files shipped beside the formulas."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"


def read_table(name: str) -> list[dict[str, str]]:
    """Rows of one shipped CSV file, by its name without the ending."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))
