"""The true state of all areas as arrays: what the mechanisms of the second studio work on."""

from dataclasses import dataclass

import numpy as np

from tests.bench.second.scale import PLACE, ramp

THICKNESS = "thickness_mm, coats"
HEAT = "cone_reached, witness_cones, target_cone, glaze_cone_low"


@dataclass(frozen=True)
class Mechanism:
    """One way a defect comes about: how strongly, and how far it is at work in each area."""

    cause: str
    deciding: str
    strength: float
    activation: np.ndarray


@dataclass(frozen=True)
class Account:
    """All mechanisms of a defect.

    ``adds`` tells that they add up in log-odds; otherwise each is a chance of its own and any one
    is enough. ``rest`` is the chance with none at work, ``gate`` a factor on the whole.
    """

    rest: float
    mechanisms: list[Mechanism]
    adds: bool = False
    gate: np.ndarray | float = 1.0


class State:
    """Facts of the areas, one entry a row; heat in cone places."""

    def __init__(self, rows: list[dict]):
        self.rows = rows
        self.low = self.each(lambda r: r["body"]["band"] == "low")
        self.reached, self.thickness_mm = self.row("reached"), self.row("thickness_mm")
        self._read_heat()
        self._read_firing()
        self._read_glaze()
        self._read_handling()

    def each(self, of) -> np.ndarray:
        """A number of each row."""
        return np.array([float(of(row)) for row in self.rows])

    def row(self, name: str) -> np.ndarray:
        """A fact of the area itself."""
        return self.each(lambda row: row[name])

    def of(self, thing: str, name: str) -> np.ndarray:
        """A fact of its ``glaze``, ``body``, ``bisque`` or ``firing``."""
        return self.each(lambda row: row[thing][name])

    def computed(self, name: str) -> np.ndarray:
        """What the recipe tells by calculation."""
        return self.each(lambda row: row["glaze"]["chemistry"][name])

    def parts(self, material: str) -> np.ndarray:
        """Parts of a material in the recipe."""
        return self.each(lambda row: row["glaze"]["parts"].get(material, 0))

    def finish(self, name: str) -> np.ndarray:
        """1 where the glaze has this finish."""
        return self.each(lambda row: row["glaze"]["finish"] == name)

    def _read_heat(self) -> None:
        matures = self.of("glaze", "matures_at")
        self.over, self.short = self.reached - matures, matures - self.reached
        lowest = self.each(lambda r: PLACE[r["body"]["cone_low"]])
        self.body_over = self.reached - self.each(lambda r: PLACE[r["body"]["cone_high"]])
        self.bisque = self.of("bisque", "reached")
        hottest = np.maximum(self.reached, self.bisque)
        self.body_short = np.maximum(0, lowest + 0.5 - hottest)
        absorption = self.of("body", "absorption") * (1 + 0.1 * self.body_short)
        self.porous = ramp(np.clip(absorption, 0, 25), 3, 12)
        self.bisque_over_glaze = self.bisque - self.reached
        bisque_fast, airless = self.of("bisque", "is_fast"), self.of("bisque", "is_airless")
        self.bisque_fast_or_airless = np.maximum(bisque_fast, airless)

    def _read_firing(self) -> None:
        self.rate, self.hold = self.of("firing", "rate"), self.of("firing", "hold")
        self.opened, self.debris = self.of("firing", "opened"), self.of("firing", "debris")
        self.slow, self.fast = self.of("firing", "is_slow"), self.of("firing", "is_fast")
        self.unvented = self.of("firing", "is_unvented")

    def _read_glaze(self) -> None:
        limit = self.of("body", "expansion") + self.of("body", "limit_shift")
        self.gap = self.of("glaze", "expansion") - limit
        stiffness = self.of("glaze", "stiffness")
        self.fluid, self.stiff = ramp(-stiffness, -0.6, 1.6), ramp(stiffness, -0.3, 1.8)
        self.clay, self.loss = self.of("glaze", "clay"), self.of("glaze", "loss")
        colours = self.computed("copper carbonate") + self.computed("cobalt carbonate")
        self.carbonates = ramp(colours + self.computed("manganese dioxide"), 1.5, 5)
        self.opacity = self.of("glaze", "opacity")
        self.gas = self.of("body", "gas")

    def _read_handling(self) -> None:
        upright = {"upright": 1, "sloped": 0.5, "flat": 0.08}
        self.upright = self.each(lambda r: upright[r["stood"]])
        self.angled = self.each(lambda r: r["form"] in ("angle", "vessel"))
        self.dust = self.row("is_dusty") * (1 - 0.7 * self.row("is_wiped"))
        self.colour_coats = self.row("under_coats") * self.row("is_over_colour")
        self.unstirred = 1 - self.row("is_stirred")
