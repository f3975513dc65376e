"""Seger formulas of many recipes at once, as arrays. Use it through ``formula``."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from tiles.chemistry import oxides as ox
from tiles.chemistry.materials import Material, find
from tiles.errors import InvalidValue

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike


@dataclass(frozen=True)
class ManyFormulas:
    """Formulas of n recipes over k oxides: row i belongs to recipe i, column j to ``oxides[j]``.

    ``moles`` is shape (n, k) [mol of the parts taken as grams]. Rows without a flux have no Seger
    formula and are NaN in ``unity``, as are rows without alumina in ``silica_to_alumina``.
    """

    oxides: tuple[str, ...]
    materials: tuple[Material, ...]
    parts: "np.ndarray"
    moles: "np.ndarray"

    @cached_property
    def unity(self) -> "np.ndarray":
        """Moles with the fluxes of each row adding up to 1. Shape (n, k)."""
        is_flux = [float(ox.role(each) == "flux") for each in self.oxides]
        return _divided(self.moles, self.moles @ is_flux)

    @cached_property
    def mole_percent(self) -> "np.ndarray":
        """Shape (n, k). [mol %]."""
        return _divided(100 * self.moles, self.moles.sum(axis=1))

    @cached_property
    def weight_percent(self) -> "np.ndarray":
        """Of the fired glaze. Shape (n, k). [wt %]."""
        mass = self.moles * [ox.molar_mass(each) for each in self.oxides]
        return _divided(100 * mass, mass.sum(axis=1))

    @cached_property
    def silica_to_alumina(self) -> "np.ndarray":
        """Moles of SiO2 per mole of Al2O3. Shape (n,)."""
        return _divided(self.column("SiO2")[:, None], self.column("Al2O3"))[:, 0]

    @cached_property
    def loss_on_ignition_percent(self) -> "np.ndarray":
        """Shape (n,). [wt %]."""
        loss = self.parts @ [each.loss_percent for each in self.materials]
        return _divided(loss[:, None], self.parts.sum(axis=1))[:, 0]

    def column(self, oxide: str) -> "np.ndarray":
        """Moles of one oxide in each recipe, 0 where no material brings it. Shape (n,). [mol]."""
        name = ox.read_oxide(oxide)
        if name in self.oxides:
            return self.moles[:, self.oxides.index(name)]
        return 0.0 * self.parts[:, 0]


def _divided(table: "np.ndarray", by: "np.ndarray") -> "np.ndarray":
    import numpy as np

    return table / np.where(by > 0, by, np.nan)[:, None]


def many(
    parts: "ArrayLike", materials: Sequence[str], own: Iterable[Material] = ()
) -> ManyFormulas:
    """Formulas of many recipes over the same materials, at once.

    Parameters
    ----------
    parts : array_like, shape (n_recipes, n_materials)
        Parts by weight, each 0 or more.
    materials : sequence of str, length n_materials
        The material of each column.
    own : iterable of Material
        The user's own materials.

    Returns
    -------
    ManyFormulas

    Raises
    ------
    InvalidValue
        Shapes that do not fit, parts below 0 or no number, a material twice.
    UnknownName
        A name no material goes by.

    Examples
    --------
    >>> found = many([[40, 20], [30, 30]], ["potash feldspar (ideal)", "whiting"])
    >>> found.oxides
    ('SiO2', 'Al2O3', 'K2O', 'CaO')
    >>> found.unity[:, 3].round(3).tolist()
    [0.736, 0.848]
    """
    import numpy as np

    chosen = _columns(materials, own)
    table = np.asarray(parts, dtype=float)
    if table.ndim != 2 or table.shape[1] != len(chosen):
        raise InvalidValue(
            f"Parts of shape {table.shape} do not fit {len(chosen)} materials.",
            "one row per recipe and one column per material.",
        )
    _check_parts(table, chosen)
    brought = {oxide for each in chosen for oxide in each.moles_per_g}
    oxides = tuple(each for each in ox.all_oxides() if each in brought)
    per_g = np.array([[each.moles_per_g.get(oxide, 0.0) for oxide in oxides] for each in chosen])
    return ManyFormulas(oxides, chosen, table, table @ per_g)


def _columns(materials: Sequence[str], own: Iterable[Material]) -> tuple[Material, ...]:
    own = tuple(own)
    chosen = tuple(find(name, own) for name in materials)
    names = [each.name for each in chosen]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice or not names:
        told = f"{twice} stands in two columns." if twice else "No material is named."
        raise InvalidValue(told, "one column per material.", field="materials", value=twice)
    return chosen


def _check_parts(table: "np.ndarray", chosen: tuple[Material, ...]) -> None:
    import numpy as np

    # A sum and a minimum find out in one pass each whether there is anything to report.
    if table.size == 0 or (table.min() >= 0 and np.isfinite(table.sum())):
        return
    row, column = np.argwhere(~((table >= 0) & np.isfinite(table)))[0]
    parts = table[row, column]
    told = f"{parts:g} parts" if np.isfinite(parts) else f"the parts are not a number ({parts:g})"
    raise InvalidValue(
        f"Recipe {row + 1}, {chosen[column].name}: {told}.",
        "parts of 0 or more.",
        field=chosen[column].name,
        value=float(parts),
        row=int(row) + 1,
    )
