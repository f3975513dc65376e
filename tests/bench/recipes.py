"""Invented glaze recipes in plain materials, and what their oxides make of them."""

from dataclasses import dataclass

import numpy as np

from tiles.chemistry.materials import fold, index

# Cubical expansion by weight share, 1e-7 per K and wt %: Winkelmann and Schott 1894 (SiO2, B2O3,
# MgO) and Mayer and Havas 1909-11, as handbooks print them (values from memory). The linear
# expansion is a third of it. Only differences between glazes matter here.
CUBICAL = {
    "SiO2": 0.8, "Al2O3": 5.0, "B2O3": 0.1, "Na2O": 10.0, "K2O": 8.5, "CaO": 5.0, "MgO": 0.1,
    "ZnO": 2.1, "BaO": 3.0, "Li2O": 2.0, "SnO2": 2.0, "ZrO2": 2.1, "TiO2": 4.1, "Fe2O3": 4.0,
    "CuO": 2.2, "CoO": 4.4, "MnO": 2.2, "P2O5": 2.0,
}  # fmt: skip

# Low and high parts of each material in a family of base glazes (invented ranges).
FAMILIES = {
    "low_boron": (
        ("soda borate frit", 15, 55), ("calcium borate frit", 20, 60), ("kaolin", 6, 16),
        ("silica", 0, 16), ("whiting", 0, 8),
    ),
    "low_alkaline": (
        ("high alkali frit", 45, 80), ("kaolin", 4, 14), ("silica", 2, 18), ("whiting", 0, 8),
        ("low expansion frit", 0, 18),
    ),
    "low_matt": (
        ("calcium borate frit", 35, 60), ("kaolin", 14, 38), ("whiting", 4, 18),
        ("soda borate frit", 0, 20), ("light magnesium carbonate", 0, 6),
    ),
    "mid_feldspar": (
        ("potash feldspar", 20, 45), ("whiting", 8, 20), ("silica", 12, 32), ("kaolin", 6, 18),
        ("calcium borate frit", 6, 28), ("zinc oxide", 0, 6),
    ),
    "mid_nepheline": (
        ("nepheline syenite", 30, 60), ("colemanite", 6, 22), ("silica", 8, 28),
        ("ball clay", 5, 24), ("talc", 0, 10), ("zinc oxide", 0, 8),
    ),
    "mid_matt": (
        ("potash feldspar", 25, 45), ("dolomite", 8, 22), ("kaolin", 14, 32), ("silica", 6, 20),
        ("soda borate frit", 4, 18),
    ),
}  # fmt: skip
EXTRAS = (
    ("tin oxide", 3, 9), ("zirconium silicate", 5, 14), ("copper carbonate", 1, 5),
    ("red iron oxide", 1, 9), ("bentonite", 1, 2),
)  # fmt: skip
FLUIDITY = {
    "B2O3": 0.070, "Na2O": 0.075, "K2O": 0.050, "Li2O": 0.18, "CaO": 0.012, "MgO": -0.010,
    "ZnO": 0.030, "Al2O3": -0.085, "SiO2": -0.018, "CuO": 0.06, "Fe2O3": 0.030, "ZrO2": -0.05,
    "SnO2": -0.03,
}  # fmt: skip
"""Rise of the log fluidity per wt % (estimates; the signs are those of glass practice)."""


@dataclass(frozen=True)
class Mix:
    """One recipe and what follows from it."""

    lines: tuple[tuple[str, float, bool], ...]
    expansion: float
    fluidity: float
    clay_pct: float
    loss_pct: float
    haze: float
    opacity: float
    is_matt: bool

    @property
    def text(self) -> str:
        """As the flat form writes it."""
        return "; ".join(f"{'+' if extra else ''}{m}={p:g}" for m, p, extra in self.lines)


def draw(rng: np.random.Generator, is_low: bool) -> Mix:
    """A random recipe of a low-fire or mid-range family."""
    names = [name for name in FAMILIES if name.startswith("low" if is_low else "mid")]
    family = str(rng.choice(names, p=(0.5, 0.25, 0.25) if is_low else (0.45, 0.3, 0.25)))
    parts = {m: float(rng.uniform(low, high)) for m, low, high in FAMILIES[family]}
    whole = sum(parts.values())
    lines = [(m, round(100 * p / whole, 1), False) for m, p in parts.items() if p / whole > 0.01]
    for m, low, high in EXTRAS:
        if rng.random() < 0.22:
            lines.append((m, round(float(rng.uniform(low, high)), 1), True))
    return describe(tuple(lines), family.endswith("matt"))


def describe(lines: tuple[tuple[str, float, bool], ...], is_matt: bool) -> Mix:
    """Expansion [1e-6/K], log fluidity, clay, loss and haze tendency of a recipe."""
    known = index()
    oxide: dict[str, float] = {}
    clay = lost = whole = opacity = 0.0
    for name, parts, _extra in lines:
        material = known[fold(name)]
        whole += parts
        clay += parts * (material.clay == "raw")
        lost += parts * material.loss_percent / 100
        opacity += parts * (name in ("tin oxide", "zirconium silicate"))
        for each, percent in material.analysis.items():
            oxide[each] = oxide.get(each, 0.0) + parts * percent / 100
    fired = sum(oxide.values())
    share = {each: 100 * mass / fired for each, mass in oxide.items()}
    boron, lime, alumina = (share.get(each, 0.0) for each in ("B2O3", "CaO", "Al2O3"))
    return Mix(
        lines=lines,
        expansion=sum(CUBICAL.get(each, 0) * p for each, p in share.items()) / 30,
        fluidity=sum(FLUIDITY.get(each, 0) * p for each, p in share.items()),
        clay_pct=100 * clay / whole,
        loss_pct=100 * lost / whole,
        haze=float(np.tanh(boron * lime / 160) * np.exp(-alumina / 14)),
        opacity=100 * opacity / whole,
        is_matt=is_matt,
    )
