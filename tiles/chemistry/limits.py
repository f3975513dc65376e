"""Published ranges of Seger formulas: where a glaze lies against each author, one by one.

The ranges are observations of glazes that worked for their authors, not proofs of durability or of
food safety, and they contradict each other; so they are never merged into one verdict.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from tiles.chemistry import oxides as ox
from tiles.chemistry._tables import read_table
from tiles.chemistry.cones import in_range

ALKALIS = ("K2O", "Na2O")
"""What authors add up as KNaO."""


@dataclass(frozen=True)
class Placement:
    """One quantity of a glaze against one author's range.

    ``place`` is below, within or above. ``finish`` is the finish the author gives the range for, or
    empty. ``status`` is ``read`` or ``memory``: a remembered range is to be confirmed in a copy.
    """

    author: str
    range_title: str
    finish: str
    quantity: str
    value: float
    low: float | None
    high: float | None
    status: str
    source: str

    @property
    def place(self) -> str:
        """Where the value lies: below, within or above."""
        # A hair of room: a ratio of 1.7 to .17 must count as the 10 it is.
        if self.low is not None and self.value < self.low - 1e-9:
            return "below"
        if self.high is not None and self.value > self.high + 1e-9:
            return "above"
        return "within"


@cache
def _rows() -> tuple[dict[str, str], ...]:
    return tuple(read_table("limits"))


def against_published(unity: Mapping[str, float], cone: str) -> list[Placement]:
    """Where a Seger formula lies against each author's range that covers a cone.

    Parameters
    ----------
    unity : Mapping[str, float]
        Seger formula, fluxes adding up to 1. [mol per mol flux].
    cone : str
        Cone the glaze is fired to.

    Returns
    -------
    list of Placement
        Author by author; empty when no range covers the cone. Ranges that ask for lead are left out
        for a glaze without it, and ratios for one without alumina.

    Raises
    ------
    UnknownCone, UnknownName
        Not a cone; not an oxide.

    Examples
    --------
    >>> glaze = {"K2O": 0.3, "CaO": 0.7, "Al2O3": 0.4, "SiO2": 3.2}
    >>> for each in against_published(glaze, "6"):
    ...     if each.quantity == "SiO2":
    ...         print(each.author, each.low, each.high, each.place)
    H. McWhinnie (2000) 1.9 2.5 above
    W. Carty (2007), cited by T. Buck 2.5 4.0 within

    Source
    ------
    The ``source`` of each row of data/limits.csv.
    """
    moles = {ox.read_oxide(oxide): float(amount) for oxide, amount in unity.items()}
    covering = [row for row in _rows() if in_range(cone, row["cone_low"], row["cone_high"])]
    asking_for_lead = {
        (row["author"], row["range"])
        for row in covering
        if row["quantity"] == "PbO" and float(row["low"] or 0) > 0
    }
    placements = []
    for row in covering:
        value = _quantity(moles, row["quantity"])
        is_lead_range = (row["author"], row["range"]) in asking_for_lead
        if value is not None and (moles.get("PbO") or not is_lead_range):
            placements.append(_placement(row, value))
    return placements


def _quantity(moles: dict[str, float], quantity: str) -> float | None:
    if quantity == "KNaO":
        return sum(moles.get(each, 0.0) for each in ALKALIS)
    if quantity == "SiO2:Al2O3":
        alumina = moles.get("Al2O3", 0.0)
        return moles.get("SiO2", 0.0) / alumina if alumina else None
    return moles.get(quantity, 0.0)


def _placement(row: dict[str, str], value: float) -> Placement:
    return Placement(
        author=row["author"],
        range_title=row["range"],
        finish=row["finish"],
        quantity=row["quantity"],
        value=value,
        low=float(row["low"]) if row["low"] else None,
        high=float(row["high"]) if row["high"] else None,
        status=row["status"],
        source=row["source"],
    )
