"""How bad a fault was, as further evidence of what brings it on.

What pushes a fault hard brings it more often and makes it worse. So where the severity was written
down a faulty area gives a second answer beside "seen": was it worse than slight? Its log-odds are
``c + HALF z``, with ``z`` the log-odds of the fault itself and ``c`` the defect's own, wide open:
who calls everything severe says nothing by it. A severity tells less of the next tile than whether
the fault came at all (it also hangs on the eye of who looks), hence half of z.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagnose.learning import newton

if TYPE_CHECKING:
    import numpy as np

HALF = 0.5
WORSE_MEAN, WORSE_SD = -0.2, 2.0
"""Belief of ``c`` [log-odds]: not quite half of all faults are worse than slight (estimates)."""
ONE = 1.0
"""Faults that a first guess at ``c`` takes for half slight, half worse."""


@dataclass(frozen=True)
class Answers:
    """What the inspected areas of one studio say of one defect: seen or not, and how bad.

    ``x`` : the columns of each answer, that of ``c`` last, shape (n + told, p + 1), where ``told``
    are the places of the areas of which a severity is told, beneath the n areas; ``y``,
    ``weight``, ``group``, ``share`` : as in `newton.fit`, a line each.
    """

    x: "np.ndarray"
    y: "np.ndarray"
    weight: "np.ndarray"
    group: "np.ndarray"
    share: "np.ndarray"
    told: "np.ndarray"

    @property
    def seen(self) -> "np.ndarray":
        """The columns of the areas without ``c``. shape (n, p)."""
        return self.x[: self.y.size - self.told.size, :-1]

    def fit(
        self,
        mean: "np.ndarray",
        sd: "np.ndarray",
        groups: int,
        sd_group: float,
        start: "tuple[np.ndarray, np.ndarray] | None" = None,
        offset: "np.ndarray | float" = 0.0,
    ) -> newton.Fitted:
        """As `newton.fit`, with ``offset`` for each area.

        Returns
        -------
        Fitted
            Of the fault itself; its ``cov`` and ``coupling`` have ``c`` as their last line.
        """
        import numpy as np

        offset = np.zeros(self.y.size - self.told.size) + offset
        b, u = start or (mean, np.zeros(groups))
        fitted = newton.fit(
            self.x,
            self.y,
            self.weight,
            np.append(mean, WORSE_MEAN),
            np.append(sd, WORSE_SD),
            self.group,
            groups,
            sd_group,
            (np.append(b, self._start_of_c(b, u, offset)), u),
            np.append(offset, HALF * offset[self.told]),
            self.share,
        )
        return replace(fitted, b=fitted.b[:-1])

    def _start_of_c(self, b: "np.ndarray", u: "np.ndarray", offset: "np.ndarray") -> float:
        """Where ``c`` about is, given the rest: a near start saves a Newton step."""
        import numpy as np

        if not self.told.size:
            return WORSE_MEAN
        effect = np.append(u, 0.0)[self.group[self.told]]
        z = self.seen[self.told] @ b + effect + offset[self.told]
        worse = self.y[self.seen.shape[0] :]
        return newton.start_at(HALF * z, (worse.sum() + ONE / 2) / (worse.size + ONE))


def answers(
    x: "np.ndarray", y: "np.ndarray", worse: "np.ndarray", weight: "np.ndarray", group: "np.ndarray"
) -> Answers:
    """The answers of inspected areas, severities beneath.

    Parameters
    ----------
    x, y, weight, group : ndarray
        As for `newton.fit`. shape (n, p), and (n,) each.
    worse : ndarray
        Of each faulty area whether it was worse than slight, 1 or 0; NaN where nobody said, and
        where there was no fault. shape (n,).
    """
    import numpy as np

    told = np.flatnonzero(np.isfinite(worse))
    n, p = x.shape
    both = np.zeros((n + told.size, p + 1))
    both[:n, :-1], both[n:, :-1], both[n:, -1] = x, HALF * x[told], 1.0
    return Answers(
        both,
        np.append(y, worse[told]),
        np.append(weight, weight[told]),
        np.append(group, group[told]),
        np.append(np.ones(n), np.full(told.size, HALF)),
        told,
    )
