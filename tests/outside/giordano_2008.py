"""Viscosity of dry and wet silicate melts by Giordano, Russell and Dingwell 2008.

Earth Planet. Sci. Lett. 271, 123-134; coefficients and worked input read in an open implementation.
It has no boron, zinc, lithium, barium or strontium: a rough second opinion only.
"""

import numpy as np

A = -4.55
B = np.array([159.56, -173.34, 72.13, 75.69, -38.98, -84.08, 141.54, -2.43, -0.91, 17.62])
C = np.array([2.75, 15.72, 8.32, 10.20, -12.29, -99.54, 0.30])
OXIDES = ("SiO2", "TiO2", "Al2O3", "FeO", "MnO", "P2O5", "MgO", "CaO", "Na2O", "K2O", "H2O")


def log10_viscosity(mol_percent, temperature_c):
    """Rows of mol % in the order of `OXIDES`, summing to 100. [log10 Pa.s]."""
    si, ti, al, fe, mn, p, mg, ca, na, k, h = np.asarray(mol_percent, float).T
    water, iron = np.log1p(h), fe + mn
    b = B @ np.array(
        [
            *(si + ti, al, iron + p, mg, ca, na + h, h + water),
            *((si + ti) * (iron + mg), (si + ti + al + p) * (na + k + h), al * (na + k)),
        ]
    )
    c = C @ np.array(
        [
            *(si, ti + al, iron + mg, ca, na + k, water),
            (al + iron + mg + ca - p) * (na + k + h),
        ]
    )
    return A + b / (np.asarray(temperature_c) + 273.15 - c)
