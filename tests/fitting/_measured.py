"""The measured glasses, and the folds that keep every source of data in one piece."""

from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from tiles.chemistry._glass import MEASURED, Glass, read_glass

DATA = Path(__file__).parents[1] / "outside" / "data"
EXPANSION = "cte_1e-6_per_K"
VISCOSITY = "log10_viscosity_Pa_s"
REGIONS = ("low_boron", "mid", "high", "other")
NOTICE = (
    "# Contains information from the SciGlass database, available under the Open Database License"
    " 1.0.\n"
)


@cache
def expansion_check() -> pd.DataFrame:
    """The 1500 glasses on which expansion scores are reported."""
    return pd.read_csv(DATA / "measured_expansion.csv").assign(split=_linked_groups("check"))


@cache
def expansion_wide() -> pd.DataFrame:
    """The wider window the expansion is fitted on, leaded glasses left out."""
    table = pd.read_csv(DATA / "measured_expansion_wide.csv.gz")
    table = table.assign(split=_linked_groups("wide"))
    return table[table["PbO"] <= 5].reset_index(drop=True)


@cache
def viscosity() -> pd.DataFrame:
    """Every measured viscosity point."""
    table = pd.read_csv(DATA / "measured_viscosity.csv")
    return table.assign(split=pd.factorize(table["group"])[0])


def glass_of(table: pd.DataFrame) -> Glass:
    """The compositions of a table."""
    return read_glass(table[list(MEASURED)])


@cache
def _links() -> tuple[np.ndarray, np.ndarray]:
    """A common group number for each row of both expansion tables.

    Both carry groups of their own. Rows of either table that share a group of either kind, or a
    source (second part of the id), end in one common group, so nothing leaks between folds.
    """
    check = pd.read_csv(DATA / "measured_expansion.csv", usecols=["id", "group"])
    wide = pd.read_csv(DATA / "measured_expansion_wide.csv.gz", usecols=["id", "group"])
    leader: dict[str, str] = {}

    def find(name: str) -> str:
        while leader.setdefault(name, name) != name:
            name = leader[name]
        return name

    author = dict(zip(wide["id"], wide["group"], strict=True))
    for number, group in zip(wide["id"], wide["group"], strict=True):
        leader[find(f"source {number.split('_')[1]}")] = find(f"author {group}")
    for number, group in zip(check["id"], check["group"], strict=True):
        leader[find(f"author {author[number]}")] = find(f"group {group}")
    names = [find(f"author {group}") for group in wide["group"]]
    names += [find(f"group {group}") for group in check["group"]]
    codes = pd.factorize(pd.Series(names))[0]
    return codes[len(wide) :], codes[: len(wide)]


def _linked_groups(table: str) -> np.ndarray:
    return _links()[0 if table == "check" else 1]


def folds(split: pd.Series, count: int, seed: int) -> dict[object, int]:
    """Fold of each group: groups in random order, each to the fold with fewest rows so far."""
    sizes = split.value_counts()
    groups = np.random.default_rng(seed).permutation(np.sort(sizes.index.to_numpy()))
    filled = np.zeros(count)
    chosen = {}
    for group in groups:
        fold = int(filled.argmin())
        chosen[group] = fold
        filled[fold] += sizes[group]
    return chosen
