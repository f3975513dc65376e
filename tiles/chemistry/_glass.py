"""A checked glass composition, as the glass-property models read it.

A composition comes in as a mapping of oxide to mol % (one glass, plain Python numbers) or as a
pandas frame with one column per oxide and one row per glass (numpy arrays). The same formulas serve
both; ``Glass.numbers`` is the `math`-like or numpy name space to work with.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import SimpleNamespace
from typing import Any

from tiles.chemistry._number import read_number
from tiles.chemistry.oxides import REPORTED_AS, read_oxide
from tiles.errors import InvalidValue

MEASURED = (
    *("SiO2", "Al2O3", "B2O3", "Li2O", "Na2O", "K2O", "MgO", "CaO", "SrO", "BaO", "ZnO", "PbO"),
    *("TiO2", "ZrO2", "SnO2", "Fe2O3", "MnO", "CoO", "NiO", "CuO", "Cr2O3", "P2O5", "F"),
)
"""Oxides of the measured glasses; any other of the oxide table is one of the ``minor`` ones."""

ALKALIS = ("Li2O", "Na2O", "K2O")
EARTHS = ("MgO", "CaO", "SrO", "BaO", "ZnO")
COLOURANTS = ("Fe2O3", "MnO", "CoO", "NiO", "CuO", "Cr2O3")
VOLATILE = ("H2O", "CO2", "SO3", "Cl")
"""Gone when the glaze has melted: left out of the composition."""

SUMS = {
    "alkalis": ALKALIS,
    "earths": EARTHS,
    "soda and potash": ("Na2O", "K2O"),
    "minor": (*COLOURANTS, "other"),
    "scarce": (*COLOURANTS, "other", "SnO2", "P2O5", "F"),
}
"""Sums of oxides that act alike; ``minor`` and ``scarce`` have too few measurements to tell."""

MOST_AMOUNT, LEAST_TOTAL = 1e100, 1e-100
"""Beyond these the sums and shares of a composition overflow; any real one is far inside."""

_SCALAR = SimpleNamespace(minimum=min, maximum=max, exp=math.exp, sqrt=math.sqrt)

WINDOW = {
    "SiO2": (45.0, 80.0, 6.0),
    "Al2O3": (1.0, 16.0, 4.0),
    "B2O3": (0.0, 25.0, 5.0),
    "alkalis": (1.5, 22.0, 5.0),
    "earths": (2.0, 35.0, 6.0),
    "PbO": (0.0, 0.5, 2.0),
    "TiO2": (0.0, 8.0, 2.0),
    "ZrO2": (0.0, 6.0, 2.0),
    "P2O5": (0.0, 3.0, 1.0),
    "F": (0.0, 3.0, 1.0),
    "minor": (0.0, 6.0, 2.0),
}
"""Where glazes were measured: lowest and highest mol %, and the mol % beyond that count as 1."""


@dataclass(frozen=True)
class Glass:
    """A checked composition, in mol % of the oxides (F: mol per 100 mol of oxides).

    ``unmeasured`` names the oxides of one glass that make up ``other``.
    """

    percent: dict[str, Any]
    numbers: Any
    index: Any = None
    unmeasured: tuple[str, ...] = ()

    def __getitem__(self, oxide: str) -> Any:
        return self.percent[oxide]

    def total(self, oxides: tuple[str, ...]) -> Any:
        """Sum of several oxides. [mol %]."""
        return sum(self.percent[oxide] for oxide in oxides)

    @cached_property
    def quantities(self) -> dict[str, Any]:
        """Every oxide and each of `SUMS`. [mol %]."""
        return self.percent | {name: self.total(oxides) for name, oxides in SUMS.items()}

    def outside(self) -> Any:
        """How far beyond the measured glasses: 0 inside, 1 for a small step out, and so on."""
        beyond = 0.0
        for name, (lowest, highest, step) in WINDOW.items():
            amount = self.quantities[name]
            below = self.numbers.maximum(0.0, lowest - amount) / max(lowest, 1.0)
            above = self.numbers.maximum(0.0, amount - highest) / step
            beyond = beyond + below + above
        return beyond

    def distance(self, centre: Mapping[str, float], spread: Mapping[str, float]) -> Any:
        """Mean squared distance from the middle of the measured glasses, in their own spread."""
        squares = (((self.percent[o] - centre[o]) / spread[o]) ** 2 for o in centre)
        return self.numbers.minimum(8.0, sum(squares) / len(centre))


def read_glass(oxides: Any) -> Glass:
    """Check a composition and scale its oxides to 100 mol %.

    Parameters
    ----------
    oxides : Mapping[str, float], pandas.Series or pandas.DataFrame
        Mol % (any positive total: it is scaled to 100) of each oxide; F in mol per 100 mol oxides.
        A Series is one glass, such as a row of a frame. Weight % cannot be told from mol % and
        must be turned into moles first (`tiles.chemistry.oxides.moles`).

    Returns
    -------
    Glass
        Every oxide of `MEASURED`, 0 where not given, and ``other`` for the rest of the table.

    Raises
    ------
    UnknownName
        A key is not in the oxide table; the nearest is suggested.
    InvalidValue
        A negative or absent amount, an oxide twice, nothing at all, or no SiO2.

    Examples
    --------
    >>> read_glass({"SiO2": 3, "Na2O": 1})["SiO2"]
    75.0
    """
    if hasattr(oxides, "columns") and hasattr(oxides, "index"):
        return _read_frame(oxides)
    is_series = hasattr(oxides, "items") and hasattr(oxides, "index")
    if not (is_series or isinstance(oxides, Mapping)):
        raise InvalidValue(
            f"A composition must map each oxide to its mol %, not be a {type(oxides).__name__}.",
            'estimate({"SiO2": 70, "Na2O": 20, "CaO": 10})',
        )
    _refuse_twice(oxides.keys(), "composition")
    amounts = {key: _read_amount(key, value) for key, value in oxides.items()}
    percent = _scale(amounts, _refuse_nothing, 0.0)
    if not percent["other"]:
        return Glass(percent, _SCALAR)
    held = {_reported(key)[0] for key, amount in amounts.items() if amount}
    return Glass(percent, _SCALAR, unmeasured=tuple(sorted(held - {*MEASURED, *VOLATILE})))


def glass_of(moles: Mapping[str, Any], numbers: Any = _SCALAR) -> Glass:
    """A composition that is known to be sound, such as that of an analysed recipe.

    Parameters
    ----------
    moles : Mapping[str, float or numpy.ndarray]
        Moles of each oxide, in any total.
    numbers : namespace
        numpy where the amounts are arrays, one number for each of many recipes.

    Raises
    ------
    InvalidValue
        One composition with nothing in it, or no SiO2.
    """
    refuse = _refuse_nothing if numbers is _SCALAR else _refuse_none
    return Glass(_scale(moles, refuse, 0.0), numbers)


def _refuse_none(_silica: Any, _total: Any) -> None:
    """Whoever asks for many has left out those that are none."""


def _refuse_twice(keys: Iterable[Any], where: str) -> None:
    """One oxide under two spellings would otherwise be added up, or one of the two dropped."""
    read: set[str] = set()
    for key in keys:
        oxide = read_oxide(str(key))
        if oxide in read:
            raise InvalidValue(
                f"The {where} has {oxide} twice.",
                f"{oxide} once, with the whole amount.",
                field=oxide,
            )
        read.add(oxide)


def _read_amount(key: Any, value: Any, where: str = "") -> float:
    amount = read_number(value, f"{key}{where}", f"mol % of {key}; 0 if there is none.", str(key))
    if not 0 <= amount <= MOST_AMOUNT:
        raise InvalidValue(
            f"{key}{where} is {amount:g} mol %, which cannot be right.",
            "an amount of 0 or more, such as 12.5.",
            field=str(key),
            value=value,
        )
    return amount


def _read_frame(frame: Any) -> Glass:
    import numpy as np

    _refuse_twice(frame.columns, "frame")
    amounts = {key: _read_column(frame[key]) for key in frame.columns}

    def refuse(silica: Any, total: Any) -> None:
        for row in ((total < LEAST_TOTAL) | (silica <= 0)).nonzero()[0][:1]:
            _refuse_nothing(silica[row], total[row], f" in row {frame.index[row]}")

    return Glass(_scale(amounts, refuse, np.zeros(len(frame))), np, frame.index)


def _read_column(column: Any) -> Any:
    """The column as floats; a cell that cannot be right is named by its row."""
    import numpy as np

    if isinstance(column.dtype, np.dtype) and column.dtype.kind in "fiu":
        values = column.to_numpy(dtype=float)
        if ((values >= 0) & (values <= MOST_AMOUNT)).all():
            return values
    cells = zip(column.index, column, strict=True)
    return np.array([_read_amount(column.name, each, f" in row {row}") for row, each in cells])


def _scale(amounts: Mapping[Any, Any], refuse: Any, nothing: Any) -> dict[str, Any]:
    percent = dict.fromkeys((*MEASURED, "other"), nothing)
    for key, amount in amounts.items():
        oxide, count = _reported(key)
        if oxide in VOLATILE:
            continue
        place = oxide if oxide in percent else "other"
        percent[place] = percent[place] + amount * count
    total = sum(percent.values()) - percent["F"]
    refuse(percent["SiO2"], total)
    return {place: amount * (100.0 / total) for place, amount in percent.items()}


def _reported(key: Any) -> tuple[str, float]:
    """The oxide in the form it is reported in, and moles of that per mole."""
    oxide = read_oxide(str(key))
    return REPORTED_AS.get(oxide, (oxide, 1.0))


def _refuse_nothing(silica: float, total: float, where: str = "") -> None:
    if total < LEAST_TOTAL:
        raise InvalidValue(f"The composition{where} is empty.", "give the oxides in mol %")
    if silica <= 0:
        raise InvalidValue(
            f"The composition{where} has no SiO2: the measured glasses are all silicates.",
            "check the recipe for a missing silica, clay or feldspar",
        )
