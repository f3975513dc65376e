"""How bad a fault was, as further evidence of what brings it on.

What pushes a fault hard brings it more often and makes it worse. So where the severity was written
down a faulty area gives a second answer beside "seen": was it worse than slight? Its log-odds are
``c + HALF z``, with ``z`` the log-odds of the fault itself and ``c`` the defect's own, wide open:
who calls everything severe says nothing by it. A severity tells less of the next tile than whether
the fault came at all (it also hangs on the eye of who looks), hence half of z.
"""

from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.learning import newton

if TYPE_CHECKING:
    import numpy as np

HALF = 0.5
WORSE_MEAN, WORSE_SD = -0.2, 2.0
"""Belief of ``c`` [log-odds]: not quite half of all faults are worse than slight (estimates)."""


def fit(
    x: "np.ndarray",
    y: "np.ndarray",
    worse: "np.ndarray",
    weight: "np.ndarray",
    mean: "np.ndarray",
    sd: "np.ndarray",
    group: "np.ndarray",
    groups: int,
    sd_group: float,
    start: "tuple[np.ndarray, np.ndarray] | None" = None,
    offset: "np.ndarray | float" = 0.0,
) -> newton.Fitted:
    """As `newton.fit`, with the severities as further rows.

    Parameters
    ----------
    worse : ndarray
        Of each faulty area whether it was worse than slight, 1 or 0; NaN where nobody said, and
        where there was no fault. shape (n,).

    Returns
    -------
    Fitted
        Of the fault itself; its ``cov`` and ``coupling`` have ``c`` as their last line.
    """
    import numpy as np

    told = np.flatnonzero(np.isfinite(worse))
    offset = np.zeros(y.size) + offset
    column = np.zeros((y.size + told.size, 1))
    column[y.size :] = 1.0
    fitted = newton.fit(
        np.hstack([np.vstack([x, HALF * x[told]]), column]),
        np.append(y, worse[told]),
        np.append(weight, weight[told]),
        np.append(mean, WORSE_MEAN),
        np.append(sd, WORSE_SD),
        np.append(group, group[told]),
        groups,
        sd_group,
        start and (np.append(start[0], WORSE_MEAN), start[1]),
        np.append(offset, HALF * offset[told]),
        np.append(np.ones(y.size), np.full(told.size, HALF)),
    )
    return replace(fitted, b=fitted.b[:-1])
