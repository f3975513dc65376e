"""The expansion at which a body starts to craze, or to shiver, from its own fired tiles.

The limit is told on the scale of the computed expansions, so that it can be held against the next
computed glaze. Two or more tiles of one glaze share that glaze's error: five tiles of one glaze
say less than one tile each of five.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from diagnose.body_limit.words import AGAINST, RISES, missing, spoken
from diagnose.learning.model import NINETY_PERCENT
from tiles.records.words import same_name

if TYPE_CHECKING:
    import numpy as np

SLIP = 0.02
"""Share of tiles that are noted wrong, or crazed or sound for another reason (estimate)."""
WIDTHS_PPM = (0.03, 0.06, 0.1, 0.17, 0.28, 0.45)
WIDTH_WEIGHTS = (0.10, 0.17, 0.23, 0.23, 0.17, 0.10)
"""How softly a body goes from sound to crazed: logistic scale. [1e-6/K], estimates. Thickness,
bisque and damp differ from tile to tile and blur the edge."""
STEP_PPM, REACH_PPM, NODES = 0.04, 2.5, 25

# Centre and standard deviation of what is believed before a tile was seen. [1e-6/K]. With the
# body's expansion measured: crazing at once needs the glaze at least 0.5 above it, late crazing
# begins 0.5 below, edges flake from 2 below and freely from 3. Without it: bodies run from 5.5
# to 9.5. Estimates; a computed glaze value itself is off by 0.7.
FROM_BODY = {"crazing": (0.0, 1.0), "shivering": (-2.4, 1.1)}
UNMEASURED = {"crazing": (7.0, 1.5), "shivering": (4.7, 1.5)}


@dataclass(frozen=True)
class Seen:
    """One fired tile: its glaze, the computed expansion with its 90 % range, and what came of it.

    Expansions in 1e-6/K. ``happened`` is whether any look, early or late, saw the defect.
    """

    glaze: str
    value: float
    low: float
    high: float
    happened: bool


@dataclass(frozen=True)
class BodyLimit:
    """What the tiles of one body say about one defect of fit.

    ``value`` with its 90 % range ``low`` to ``high`` [1e-6/K, as computed] is None where the tiles
    do not tell; ``say`` then names what is missing. ``failed`` and ``sound`` count tiles.
    """

    defect: str
    failed: int
    sound: int
    glazes: int
    value: float | None = None
    low: float | None = None
    high: float | None = None
    say: str = ""

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        return asdict(self) | {"unit": "1e-6/K"}

    @property
    def safe_ppm_per_k(self) -> float | None:
        """The end of the range on the sound side: what a new glaze should not pass. [1e-6/K]."""
        return self.low if RISES[self.defect] > 0 else self.high


@dataclass(frozen=True)
class Belief:
    """Chances of the limit lying at each of ``limit``, for each width. shape (limits, widths).

    ``seen`` are the tiles behind it.
    """

    limit: "np.ndarray"
    chance: "np.ndarray"
    seen: tuple[Seen, ...] = ()

    def quantile(self, share: float) -> float:
        """The limit below which the share of the belief lies. [1e-6/K]."""
        import numpy as np

        rising = np.cumsum(self.chance.sum(axis=1))
        return float(np.interp(share, rising, self.limit + STEP_PPM / 2))


def fit(
    seen: Sequence[Seen],
    defect: str = "crazing",
    body_expansion_ppm_per_k: float | None = None,
    early: int = 0,
) -> BodyLimit:
    """The computed glaze expansion from which a body crazes (or below which it shivers).

    Parameters
    ----------
    seen : sequence of Seen
        One for each tile of the body; tiles of the same ``glaze`` share its error.
    defect : str
        ``"crazing"`` or ``"shivering"``.
    body_expansion_ppm_per_k : float, optional
        Measured expansion of the body. [1e-6/K]; it only says where to look first.
    early : int
        Tiles of known recipe that were looked at too early to be among those.

    Returns
    -------
    BodyLimit
        Half of like tiles fail at ``value``; ``low`` to ``high`` is the 90 % range. No number with
        fewer than 6 tiles or 3 glazes, or when fewer than 2 failed or came out sound.

    Notes
    -----
    Chance of failing = logistic((expansion - limit) / width), 2 % slips apart. The error of each
    computed expansion is integrated out once for each glaze, as a normal with a half for each side
    of its range; limit and width are summed over a grid, with the priors given in this file. What
    error all computed expansions have in common does not matter: it moves limit and glaze alike.

    Examples
    --------
    >>> tiles = [Seen(f"glaze {x}", x, x - 0.5, x + 0.5, x > 6.9) for x in (6, 6.4, 6.8, 7, 7.4, 8)]
    >>> found = fit(tiles)
    >>> found.low < 6.9 < found.high
    True
    """
    failed = sum(each.happened for each in seen)
    counts = (defect, failed, len(seen) - failed, len({each.glaze for each in seen}))
    lacking = missing(*counts, early)
    if lacking:
        return BodyLimit(*counts, say=lacking)
    belief = believe(seen, defect, body_expansion_ppm_per_k)
    value, low, high = (round(belief.quantile(share), 2) for share in (0.5, 0.05, 0.95))
    said = spoken(*counts, value, low, high)
    said += AGAINST[defect] if is_against(seen, defect) else ""
    return BodyLimit(*counts, value, low, high, said)


def is_against(seen: Sequence[Seen], defect: str) -> bool:
    """Whether failed tiles mostly lie on the sound side of sound ones, by computed expansion."""
    failed = Counter((each.glaze, each.value) for each in seen if each.happened)
    sound = Counter((each.glaze, each.value) for each in seen if not each.happened)
    pairs = {True: 0, False: 0}  # by whether the failed one lies on the sound side
    for (glaze, value), many in failed.items():
        for (other, beside), others in sound.items():
            if glaze != other and value != beside:
                pairs[RISES[defect] * (value - beside) < 0] += many * others
    return pairs[True] > pairs[False]


def believe(
    seen: Sequence[Seen], defect: str, body_expansion_ppm_per_k: float | None = None
) -> Belief:
    """Prior and tiles put together; with no tiles the prior alone."""
    import numpy as np

    centre, spread = _prior(defect, body_expansion_ppm_per_k)
    ends = [each.value for each in seen] + [centre - spread, centre + spread]
    limit = np.arange(min(ends) - REACH_PPM, max(ends) + REACH_PPM, STEP_PPM)
    log_chance = -0.5 * ((limit - centre) / spread)[:, None] ** 2 + np.log(WIDTH_WEIGHTS)
    for glaze in {each.glaze: None for each in seen}:
        log_chance += _of_glaze([each for each in seen if each.glaze == glaze], defect, limit)
    chance = np.exp(log_chance - log_chance.max())
    return Belief(limit, chance / chance.sum(), tuple(seen))


def _prior(defect: str, body_expansion: float | None) -> tuple[float, float]:
    if body_expansion is None:
        return UNMEASURED[defect]
    beyond, spread = FROM_BODY[defect]
    return body_expansion + beyond, spread


def _of_glaze(tiles: Sequence[Seen], defect: str, limit: "np.ndarray") -> "np.ndarray":
    """Log likelihood of one glaze's tiles, its error integrated out. shape (limits, widths)."""
    import numpy as np

    total = _by_error(tiles, defect, limit)
    top = total.max(axis=2, keepdims=True)
    return np.log(np.exp(total - top).mean(axis=2)) + top[:, :, 0]


def _by_error(tiles: Sequence[Seen], defect: str, limit: "np.ndarray") -> "np.ndarray":
    """Log likelihood of one glaze's tiles for each error. shape (limits, widths, nodes)."""
    import numpy as np

    total = np.zeros((limit.size, len(WIDTHS_PPM), NODES))
    # Recipe versions of one glaze lie apart but err together: one error for all of them.
    for value, low, high in {(each.value, each.low, each.high): None for each in tiles}:
        same = [each for each in tiles if (each.value, each.low, each.high) == (value, low, high)]
        failed = sum(each.happened for each in same)
        chance = chance_of_failing(errors(value, low, high), defect, limit)
        total += failed * np.log(chance) + (len(same) - failed) * np.log1p(-chance)
    return total


def errors(value: float, low: float, high: float) -> "np.ndarray":
    """Where the expansion may really lie, equally likely each. shape (nodes,)."""
    import numpy as np

    z = _nodes()
    side = np.where(z < 0, value - low, high - value)
    return value + z * side / NINETY_PERCENT


def _nodes() -> "np.ndarray":
    """The middles of equal shares of a standard normal distribution."""
    from statistics import NormalDist

    import numpy as np

    normal = NormalDist()
    return np.array([normal.inv_cdf((place + 0.5) / NODES) for place in range(NODES)])


def chance_of_failing(expansion: "np.ndarray", defect: str, limit: "np.ndarray") -> "np.ndarray":
    """Chance for each limit, width and expansion, slips included. shape (limits, widths, n)."""
    import numpy as np

    width = np.array(WIDTHS_PPM)[None, :, None]
    beyond = RISES[defect] * (expansion[None, None, :] - limit[:, None, None]) / width
    return SLIP + (1 - 2 * SLIP) / (1 + np.exp(np.clip(-beyond, -40, 40)))


def chance_and_worth(
    belief: Belief, defect: str, value: float, low: float, high: float, glaze: str = ""
) -> tuple[float, float]:
    """Chance that the next tile of such a glaze fails, and the bits it would tell of the limit.

    Parameters
    ----------
    value, low, high : float
        Its computed expansion with the 90 % range. [1e-6/K]
    glaze : str, optional
        Its name: what its tiles on this body showed tells where in that range it really lies.

    Returns
    -------
    tuple[float, float]
        Chance, and expected information on limit and width. [bit]
    """
    import numpy as np

    by_error = chance_of_failing(errors(value, low, high), defect, belief.limit)
    own = [each for each in belief.seen if same_name(each.glaze, glaze)]
    likely = _by_error(own, defect, belief.limit)
    worth = np.exp(likely - likely.max(axis=2, keepdims=True))
    by_limit = (by_error * worth).sum(axis=2) / worth.sum(axis=2)
    chance = float((belief.chance * by_limit).sum())
    mean_of = float((belief.chance * _entropy(by_limit)).sum())
    return chance, max(0.0, float(_entropy(chance)) - mean_of)


def _entropy(chance):
    import numpy as np

    return -chance * np.log2(chance) - (1 - chance) * np.log2(1 - chance)
