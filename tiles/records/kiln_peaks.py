"""Whether what a kiln's controller shows agrees with the cones that went down in it.

A kiln set in degrees has no target cone. Its peak is held against the peak that brings down the
cone that was read, at the heating rate and hold on record. Source: CONE-CHART-2016 through
`tiles.chemistry.heatwork`; that a thermocouple which reads wrongly does so alike each time is
common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from statistics import median

from tiles.chemistry.cones import CONES, MEDIUM_RATE_C_PER_H, cone_at, step
from tiles.chemistry.heatwork import FASTEST_C_PER_H, SLOWEST_C_PER_H, peak_needed_c
from tiles.records.derived import cone_of_peak
from tiles.records.forms import FiringRecord, TileRecord
from tiles.records.kiln_drift import periods
from tiles.records.kiln_habit import FEWEST_FIRINGS, USUAL_SHARE
from tiles.records.kiln_readings import Reading, readings_against
from tiles.records.words import name_key

ROUNDED_C = 5


@dataclass(frozen=True)
class PeakRead:
    """A firing's peak against its cone.

    ``over_c`` is how much more the controller showed than the cone needs, ``low_c`` to ``high_c``
    its range: a cone is read to half a step, and without a rate on record any published one may
    have been. [C].
    """

    firing: FiringRecord
    cone: str
    over_c: float
    low_c: float
    high_c: float

    @property
    def way(self) -> int:
        """1 where the controller surely showed more than the cone, -1 less, 0 where both agree."""
        return (self.low_c > 0) - (self.high_c < 0)


@dataclass(frozen=True)
class Controller:
    """What a controller shows against the cones, in ``alike`` of the ``read`` firings.

    ``over_c`` is 0 where they agree; ``last`` is the latest firing of those alike.
    """

    over_c: float
    low_c: float
    high_c: float
    alike: int
    read: int
    last: PeakRead
    lacks: tuple[str, ...]

    def said(self) -> str:
        """The same as a person says it, with what to do and how far it is an estimate."""
        of = f"in {self.alike} of {self.read} firings with a peak and a cone read"
        if not self.over_c:
            return f"its controller and the cones agree as near as a cone tells, {of}"
        peak_c, cone = self.last.firing.peak_c, self.last.cone
        more, other = ("more", "hotter") if self.over_c > 0 else ("less", "cooler")
        by, *span = (abs(each) for each in (self.over_c, self.low_c, self.high_c))
        return (
            f"its controller showed about {by:g} C {more} than the cones say, {of} "
            f"({self.last.firing.name}: {peak_c:g} C, cone {cone}, which takes about "
            f"{peak_c - self.last.over_c:.0f} C). An estimate, {min(span):g} to {max(span):g} C"
            f"{self._left_open()}. Correct its reading by {-self.over_c:+g} C, or set it {by:g} C "
            f"{other}, and let a witness cone of the next load decide"
        )

    def _left_open(self) -> str:
        """What would move the figure and is not on record."""
        told = []
        if "rate" in self.lacks:
            told.append(f"where no rate is on record {MEDIUM_RATE_C_PER_H:g} C/h is taken")
        if "hold" in self.lacks:
            moved = "more" if self.over_c > 0 else "less"
            told.append(f"a hold not on record would make it {moved}")
        return f": {'; '.join(told)}" if told else ""


def controller_of(
    kiln: str,
    records: Iterable[TileRecord],
    firings: Iterable[FiringRecord],
    since: date | None = None,
) -> Controller | None:
    """What most firings of a kiln say of its controller; None where they are few or differ.

    Parameters
    ----------
    records, firings : iterables
        All tiles and all firings. Those with a peak and a cone read count, bisque firings too.
    since : date, optional
        Only those from this day on: that of the kiln's last change.
    """
    read = peaks_read(kiln, records, firings)
    read = [each for each in read if since is None or _is_from(each.firing, since)]
    if len(read) < FEWEST_FIRINGS:
        return None
    way = max((1, -1, 0), key=lambda way: sum(each.way == way for each in read))
    alike = [each for each in read if each.way == way]
    if len(alike) < USUAL_SHARE * len(read):
        return None
    spans = zip(*((each.over_c, each.low_c, each.high_c) for each in alike), strict=True)
    over, low, high = (_rounded(median(values)) for values in spans)
    missing = (("rate", "rate_c_per_h"), ("hold", "hold_min"))
    lacks = [
        what for what, field in missing if any(getattr(x.firing, field) is None for x in alike)
    ]
    last = max(alike, key=lambda each: each.firing.fired_on or date.min)
    return Controller(over if way else 0.0, low, high, len(alike), len(read), last, tuple(lacks))


def peaks_read(
    kiln: str, records: Iterable[TileRecord], firings: Iterable[FiringRecord]
) -> list[PeakRead]:
    """Its firings with a peak and a cone read, since they last changed for certain."""
    meant: dict[str, str | None] = {}

    def of_peak(firing: FiringRecord) -> str | None:
        if not firing.peak_c or name_key(firing.kiln or "") != name_key(kiln):
            return None
        if firing.name not in meant:
            meant[firing.name] = cone_of_peak(firing)
        return meant[firing.name]

    found = readings_against(of_peak, records, firings)
    since = periods([reading for _, reading in found])[-1].since
    return [
        _peak_read(firing, reading)
        for firing, reading in found
        if since is None or _is_from(firing, since)
    ]


def _peak_read(firing: FiringRecord, reading: Reading) -> PeakRead:
    cone = cone_at(step(reading.target) + reading.of_kiln)
    rate, hold = firing.rate_c_per_h or MEDIUM_RATE_C_PER_H, firing.hold_min or 0.0
    needed = peak_needed_c(cone, rate, hold)
    slow, fast = (rate, rate) if firing.rate_c_per_h else (SLOWEST_C_PER_H, FASTEST_C_PER_H)
    width = _half_a_step_c(cone, rate, hold)
    less, more = (
        (width**2 + (peak_needed_c(cone, each, hold) - needed) ** 2) ** 0.5 for each in (fast, slow)
    )
    over = firing.peak_c - needed
    return PeakRead(firing, cone, over, over - less, over + more)


def _half_a_step_c(cone: str, rate: float, hold: float) -> float:
    """Half the way from a cone to those beside it, as it is read. [C]."""
    at, last = step(cone), len(CONES) - 1
    beside = [max(0.0, at - 1), min(last, at + 1)]
    low, high = (peak_needed_c(cone_at(each), rate, hold) for each in beside)
    return (high - low) / (beside[1] - beside[0]) / 2


def _rounded(number: float) -> float:
    return float(ROUNDED_C * round(number / ROUNDED_C))


def _is_from(firing: FiringRecord, since: date) -> bool:
    return firing.fired_on is not None and firing.fired_on >= since
