"""Logistic regression with a normal prior on every coefficient, one group effect solved apart.

Minimised is::

    sum_i weight_i * (log(1 + exp(z_i)) - y_i z_i)
      + sum_j (b_j - mean_j)^2 / (2 sd_j^2) + sum_g u_g^2 / (2 sd_u^2)

with ``z = x b + share u[group] + offset``. The group effects have a diagonal block of their own, so
that hundreds of glazes cost little more than none (Schur complement).
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.learning.threads import on_one_thread

if TYPE_CHECKING:
    import numpy as np

STEPS, ENOUGH = 12, 1e-3
"""Newton steps at most; a step that moves no coefficient by more than this ends the search."""
CLOSE = 1e-9
"""An intercept is found to so many log-odds."""


@dataclass
class Fitted:
    """The mode and the curvature there.

    ``b`` : shape (p,); ``u`` : shape (groups,); ``cov`` : covariance of b, shape (p, p), with the
    group effects averaged over; ``coupling`` : shape (p, groups) and ``curvature`` : shape
    (groups,), the blocks that tie the group effects to b; ``log_evidence`` : how well the prior
    foretold the outcomes (Laplace's approximation), to weigh one set of widths against another.
    ``cov`` and ``coupling`` may go on beyond b with columns that no new row has (`severity`).
    """

    b: "np.ndarray"
    u: "np.ndarray"
    cov: "np.ndarray"
    coupling: "np.ndarray"
    curvature: "np.ndarray"
    log_evidence: float = 0.0

    def effect(self, group: "np.ndarray") -> "np.ndarray":
        """The effect of each row's group, 0 where it is -1. shape (n,)."""
        import numpy as np

        return np.append(self.u, 0.0)[group]


@on_one_thread
def fit(
    x: "np.ndarray",
    y: "np.ndarray",
    weight: "np.ndarray",
    mean: "np.ndarray",
    sd: "np.ndarray",
    group: "np.ndarray | None" = None,
    groups: int = 0,
    sd_group: float = 1.0,
    start: "tuple[np.ndarray, np.ndarray] | None" = None,
    offset: "np.ndarray | float" = 0.0,
    share: "np.ndarray | float" = 1.0,
) -> Fitted:
    """Find the mode by Newton steps, halved where they overshoot.

    Parameters
    ----------
    x : ndarray
        Columns of the model, the intercept among them. shape (n, p).
    y, weight : ndarray
        Outcomes 0 or 1, and what each row counts. shape (n,).
    mean, sd : ndarray
        Prior of each coefficient. shape (p,), sd > 0.
    group : ndarray of int, optional
        Group of each row. shape (n,), below ``groups``; -1 for none.
    start : (b, u), optional
        Where to begin; the prior means without it.
    offset : ndarray or float
        What is added to z and stays as it is. shape (n,).
    share : ndarray or float
        How much of the effect of its group each row takes. shape (n,).

    Returns
    -------
    Fitted
    """
    import numpy as np
    from scipy.linalg import cho_factor, cho_solve

    precision, precision_u = sd**-2.0, sd_group**-2.0
    b, u = (mean.copy(), np.zeros(groups)) if start is None else (start[0].copy(), start[1].copy())
    group = np.full(y.size, -1) if group is None else group
    which = np.where(group < 0, groups, group)  # rows of no group meet a slot that stays 0
    share = np.zeros(y.size) + share
    of_group = _of_group(which, share, groups)

    def log_odds(b, u) -> "np.ndarray":
        return x @ b + share * np.append(u, 0.0)[which] + offset

    def loss_at(b, u) -> float:
        z = log_odds(b, u)
        fit_ = weight @ (np.logaddexp(0.0, z) - y * z)
        return float(fit_ + 0.5 * precision @ (b - mean) ** 2 + 0.5 * precision_u * u @ u)

    loss = loss_at(b, u)
    for _ in range(STEPS):
        p = chance(log_odds(b, u))
        pull, curve = weight * (p - y), weight * p * (1 - p)
        down = x.T @ pull + precision * (b - mean)
        down_u = np.bincount(which, share * pull, groups + 1)[:groups] + precision_u * u
        curvature = np.bincount(which, share**2 * curve, groups + 1)[:groups] + precision_u
        root = np.sqrt(curve)[:, None]
        halves = x * root  # a product with itself costs half of one with another matrix
        coupling = (of_group @ (halves * root)).T
        met = coupling / np.sqrt(curvature)
        reduced = halves.T @ halves + np.diag(precision) - met @ met.T
        factor = cho_factor(reduced, lower=True, check_finite=False)
        step = cho_solve(factor, down - coupling @ (down_u / curvature), check_finite=False)
        step_u = (down_u - coupling.T @ step) / curvature
        scale = 1.0
        while True:
            new_b, new_u = b - scale * step, u - scale * step_u
            new = loss_at(new_b, new_u)
            if new <= loss + 1e-9 or scale < 1e-3:
                break
            scale /= 2
        b, u, loss = new_b, new_u, new
        if scale * max(np.abs(step).max(initial=0), np.abs(step_u).max(initial=0)) < ENOUGH:
            break
    cov = cho_solve(factor, np.eye(b.size), check_finite=False)
    log_volume = 2 * np.log(np.diag(factor[0])).sum() + np.log(curvature).sum()
    log_prior = np.log(precision).sum() + groups * np.log(precision_u)
    return Fitted(b, u, cov, coupling, curvature, float(-loss + 0.5 * (log_prior - log_volume)))


def variance(fitted: Fitted, x: "np.ndarray", group: "np.ndarray", sd_group: float) -> "np.ndarray":
    """Variance of z on new rows: a group that was never met adds its whole prior variance.

    Parameters
    ----------
    x : ndarray
        shape (m, p).
    group : ndarray of int
        shape (m,); -1 where the group is new or not known.
    """
    import numpy as np

    x = np.pad(x, ((0, 0), (0, fitted.cov.shape[0] - x.shape[1])))
    rest, own = x, np.full(x.shape[0], sd_group**2)
    if fitted.u.size:
        met = group >= 0
        at = np.where(met, group, 0)
        rest = x - np.where(met[:, None], (fitted.coupling / fitted.curvature).T[at], 0.0)
        own = np.where(met, 1 / fitted.curvature[at], own)
    return np.einsum("ij,ij->i", rest @ fitted.cov, rest) + own


def _of_group(which: "np.ndarray", share: "np.ndarray", groups: int):
    """Sums over the rows of each group, by their shares, as a sparse matrix (groups, n)."""
    from scipy.sparse import csr_matrix

    n = which.size
    return csr_matrix((share, (which, range(n))), shape=(groups + 1, n))[:groups]


def averaged(z: "np.ndarray", spread: "np.ndarray", usual: float) -> "np.ndarray":
    """Log-odds drawn towards the usual chance as far as z is uncertain.

    MacKay's approximation to the mean chance, taken about the usual log-odds and not about even
    odds: what is not known of a tile must not make a rare defect likelier than it is.

    Parameters
    ----------
    z, spread : ndarray
        Mean and variance of the log-odds. shape (n,) each.
    usual : float
        The usual chance, between 0 and 1; 0.5 gives MacKay's own formula.

    Source
    ------
    D. J. C. MacKay, The evidence framework applied to classification networks, Neural
    Computation 4 (1992) 720-736 (from memory).
    """
    import numpy as np

    middle = np.log(usual / (1 - usual))
    return middle + (z - middle) / np.sqrt(1 + np.pi * spread / 8)


def chance(z: "np.ndarray") -> "np.ndarray":
    """Log-odds to chance, without overflow.

    Examples
    --------
    >>> float(chance(0.0))
    0.5
    """
    import numpy as np

    return 0.5 * (1 + np.tanh(0.5 * z))


def start_at(z: "np.ndarray", prevalence: float, weight: "np.ndarray | None" = None) -> float:
    """The intercept at which the mean chance over the rows is the usual prevalence.

    A row of twice the ``weight`` counts as two; without it all count alike.

    Examples
    --------
    >>> import numpy as np
    >>> round(start_at(np.array([1.0, 1.0]), 0.5), 6)
    -1.0
    """
    import numpy as np
    from scipy.optimize import brentq

    if weight is not None and (weight > 0).any():
        z, weight = z[weight > 0], weight[weight > 0]
    else:
        z, weight = (z if z.size else np.zeros(1)), None
    alone = np.log(prevalence / (1 - prevalence))  # it lies where one row alone would have it
    low, high = alone - z.max() - CLOSE, alone - z.min() + CLOSE

    def off(a: float) -> float:
        return np.average(chance(a + z), weights=weight) - prevalence

    return brentq(off, low, high, xtol=CLOSE)
