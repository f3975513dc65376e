"""What a glaze does in one company and not in another, on the studio's own tiles.

A glaze that crazes on the white clay and never on the red, crawls with three coats or over the
underglaze, blisters where the kiln went too hot, or is matt only where that cooled slowly: each is
an effect of the glaze together with what it met, beside what glaze, clay and coat do everywhere. It
is believed to be 0 until own tiles show it, the more firmly the less the glazes of the studio
differ at all; but heavy-tailed (Student's t), so that one that stands out is not held back for the
sake of the many that do not.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from diagnose.learning.newton import chance
from diagnose.view import NOTHING, spoken_coats
from tiles.records.derived import bisque_cone

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.table import Table
    from diagnose.view import View

COMPANY = (
    "body", "coat", "beneath", "layer", "coats beneath", "cone", "batch", "kiln", "bisque",
    "cooling",
)  # fmt: skip
"""What a glaze may meet; `group` names its column in the table."""
COOLED = {"yes": "slowly", "no": "as usual"}
MANY_COATS = 4
THIN_MM, THICK_MM = 0.5, 1.0
"""Ends of the usual dry coat, where nobody counted the coats (common practice, no source)."""
PASSES = 3
FREEDOM = 0.3
"""Degrees of freedom of the belief: most pairs do nothing of their own, a few decide all."""
BETWEEN = "\x1f"
"""No name can hold it."""


@dataclass(frozen=True)
class Known:
    """The pairs that were met, sorted by name, and on how many areas each."""

    names: list[str] = field(default_factory=list)
    areas: list[int] = field(default_factory=list)

    def places(self, names: "np.ndarray") -> "np.ndarray":
        """Place of each pair, -1 for one that was not met. shape as ``names``."""
        return _looked_up({name: at for at, name in enumerate(self.names)}, names)

    @cached_property
    def _members(self) -> dict[str, list[int]]:
        """Places of the pairs of each glaze and kind, by the name that leaves open what was met."""
        found: dict[str, list[int]] = {}
        for at, name in enumerate(self.names):
            found.setdefault(_opened(name), []).append(at)
        return found

    def has_contrast(self, name: str) -> bool:
        """Whether the glaze of a pair has met something else of the kind: only that sets it off."""
        return len(self._members.get(_opened(name), ())) > 1

    def opened(self, names: "np.ndarray") -> "Opened":
        """What rows that leave something open may have met, by how often their glaze met it."""
        import numpy as np

        members, areas = self._members, np.array([*self.areas, 0], float)
        most = max(map(len, members.values()), default=0)
        pairs = np.array([each + [-1] * (most - len(each)) for each in members.values()], int)
        share = areas[pairs] / areas[pairs].sum(axis=-1, keepdims=True)
        place = _looked_up({name: at for at, name in enumerate(members)}, names)
        return Opened(place, pairs, share)


@dataclass(frozen=True)
class Opened:
    """For rows that leave open what their glaze met: the pairs it may be, and their shares.

    ``place`` : row of ``pairs`` and ``share``, -1 where nothing is open, shape (kinds, n);
    ``pairs`` : places in `Known`, -1 beyond the last, ``share`` : 0 there, shape (groups, most).
    """

    place: "np.ndarray"
    pairs: "np.ndarray"
    share: "np.ndarray"


def _looked_up(place: dict[str, int], names: "np.ndarray") -> "np.ndarray":
    import numpy as np

    return np.array([[place.get(name, -1) for name in row] for row in names], int)


@dataclass
class Effects:
    """One effect in log-odds for each pair that was met, and the curvature there.

    ``u``, ``curvature`` : shape (pairs,).
    """

    u: "np.ndarray"
    curvature: "np.ndarray"

    def added(self, place: "np.ndarray") -> "np.ndarray":
        """What the pairs of each row add to its log-odds. shape (n,)."""
        import numpy as np

        return np.append(self.u, 0.0)[place].sum(axis=0)

    def averaged(self, z: "np.ndarray", opened: Opened) -> "np.ndarray":
        """Log-odds of the mean chance over what rows leave open, kind after kind. shape (n,)."""
        import numpy as np

        z, effects = z.copy(), np.append(self.u, 0.0)
        for row in opened.place:
            here = np.flatnonzero(row >= 0)
            of = row[here]
            each = chance(z[here, None] + effects[opened.pairs[of]])
            p = (opened.share[of] * each).sum(axis=1)
            z[here] = np.log(p) - np.log1p(-p)
        return z

    def variance(self, place: "np.ndarray", sd: float) -> "np.ndarray":
        """Variance of what is added: of a pair that was never met the whole of what is believed."""
        import numpy as np

        return np.append(1 / self.curvature, sd**2)[place].sum(axis=0)


def company(view: "View") -> dict[str, str | None]:
    """What the topmost glaze of an area meets, by the words of COMPANY; None: not recorded."""
    firing, bisque = view.record.firing, bisque_cone(view.record)
    return {
        "body": view.record.body.name,
        "coat": _coat(view),
        "beneath": view.beneath,
        "layer": view.layer_beneath,
        "coats beneath": _coats_beneath(view),
        "cone": view.cone,
        "batch": view.batch,
        "kiln": firing.kiln if firing else None,
        "bisque": bisque.cone if bisque else None,
        "cooling": COOLED.get(view.clues.get("cooled_slowly")),
    }


def group(kind: str) -> str:
    """The column of what a glaze met; the body and the kiln have others for what they do to all."""
    return f"with {kind}"


def _coat(view: "View") -> str | None:
    coats, thickness = (view.top.coats, view.top.thickness_mm) if view.top else (None, None)
    if coats:
        return _counted(coats)
    if thickness is None:
        return None
    how = "thin" if thickness < THIN_MM else "thick" if thickness > THICK_MM else "usual"
    return f"a {how} coat"


def _coats_beneath(view: "View") -> str | None:
    """The layer beneath with its coats: one coat of a colour may be sound and three may not."""
    layer = view.layer_beneath
    if layer in (None, NOTHING):
        return layer
    coats = view.coats_beneath
    return f"{_counted(coats)} of {layer}" if coats else None


def _counted(coats: int) -> str:
    return spoken_coats(coats) if coats < MANY_COATS else f"{MANY_COATS} coats or more"


def said(kind: str, met: str) -> str:
    """A company in words.

    Examples
    --------
    >>> said("coat", "3 coats"), said("beneath", "underglaze"), said("cone", "05")
    ('with 3 coats', 'over an underglaze', 'at cone 05')
    """
    if met == NOTHING and kind in ("beneath", "layer", "coats beneath"):
        return "with nothing beneath"
    if kind == "beneath":
        return f"over {'an' if met[0] in 'aeiou' else 'a'} {met}"
    return {
        "body": "on {}",
        "coat": "with {}",
        "layer": "over {}",
        "coats beneath": "over {}",
        "cone": "at cone {}",
        "batch": "from batch {}",
        "kiln": "in {}",
        "bisque": "on bisque of cone {}",
        "cooling": "where it cooled {}",
    }[kind].format(met)


def names(table: "Table") -> "np.ndarray":
    """The pairs of each row, "" where no glaze is recorded.

    Returns
    -------
    ndarray of object
        shape (len(COMPANY), n); "coat", "pond green" and "3 coats" with BETWEEN between them;
        nothing after the last one where what the glaze met is left open.
    """
    import numpy as np

    glazes = table.groups["glaze"]
    found = np.full((len(COMPANY), table.n), "", dtype=object)
    for at, kind in enumerate(COMPANY):
        for row, (glaze, met) in enumerate(zip(glazes, table.groups[group(kind)], strict=True)):
            if glaze:
                found[at, row] = BETWEEN.join((kind, glaze, met))
    return found


def known(names: "np.ndarray") -> "Known":
    """The pairs among some rows, those that leave open what was met left out."""
    import numpy as np

    found, areas = np.unique(names[names != ""].astype(str), return_counts=True)
    pairs = {
        name: count
        for name, count in zip(found.tolist(), areas.tolist(), strict=True)
        if not _is_open(name)
    }
    return Known(list(pairs), list(pairs.values()))


def _opened(name: str) -> str:
    """The pair with what was met left open."""
    return f"{name.rpartition(BETWEEN)[0]}{BETWEEN}"


def _is_open(name: str) -> bool:
    return name.endswith(BETWEEN)


def fit(
    z: "np.ndarray",
    y: "np.ndarray",
    weight: "np.ndarray",
    place: "np.ndarray",
    sd: float,
    begin: "np.ndarray",
) -> Effects:
    """The effects of pairs beside all else as it is: one kind after the other, by Newton steps.

    The t distribution is a normal one of unknown width: each step takes for each pair the width
    that its effect, as far as it is known, calls for (variational steps).

    Parameters
    ----------
    z, y, weight : ndarray
        Log-odds without the pairs, outcomes 0 or 1, and what each row counts. shape (n,).
    place : ndarray of int
        From `Known.places`. shape (kinds, n).
    sd : float
        How much pairs are believed to differ [log-odds]; the scale of the t distribution.
    begin : ndarray
        Where to start. shape (pairs,).
    """
    import numpy as np

    u, curvature = np.append(begin, 0.0), np.full(begin.size + 1, sd**-2.0)
    met = [np.unique(row[row >= 0]) for row in place]
    z = z + u[place].sum(axis=0)
    for _ in range(PASSES):
        for row, own in zip(place, met, strict=True):
            p = chance(z)
            pull, curve = (
                np.bincount(row + 1, each, u.size)[own + 1]
                for each in (weight * (p - y), weight * p * (1 - p))
            )
            size = u[own] ** 2 + 1 / curvature[own]
            precision = (FREEDOM + 1) / (FREEDOM * sd**2 + size)
            curvature[own] = precision + curve
            step = np.zeros(u.size)
            step[own] = -(pull + precision * u[own]) / curvature[own]
            u, z = u + step, z + step[row]
    return Effects(u[:-1], curvature[:-1])
