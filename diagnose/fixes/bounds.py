"""What a recipe change must reach, and what it must leave near where it was.

All widths are estimates of what a potter would still call the same glaze, set down here alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from diagnose.fixes.glass import Figures

MOST_PARTS = 15.0
"""A small change: no more than so many parts per 100 go out or come in."""

SAME_GLASS = 0.5
"""A change that exchanges no more of the glass than this leaves it as it was. [mol %], estimate;
what two analyses of one material differ by."""

SAME_GLASS_PARTS = 40.0
"""Of what leaves the glass as it was more may move: only the batch changes. [parts], estimate."""

VISCOSITY_BAND = 0.25
"""Melt viscosity at the cone stays within this. [log10 Pa.s]; about one cone: between neighbouring
cones the estimate moves 0.1 to 0.25 (computed on low-fire and mid-range glazes)."""

EXPANSION_BAND = 0.3
"""Expansion, where it is not the aim, stays within this. [1e-6/K]; a third of a sure misfit."""

RATIO_BAND = 0.25
"""SiO2:Al2O3 (with B2O3 at low fire) stays within this share of what it was: gloss stays gloss."""

SILICA_BAND, ALUMINA_BAND = 0.35, 0.40
"""SiO2 and Al2O3 of the Seger formula, as a share of what they were."""

BORON_BAND = 0.15
"""B2O3 of the Seger formula, or a quarter of it where that is more. [mol per mol flux]."""

CLAY_LOW, CLAY_HIGH = 8.0, 20.0
"""Raw clay that keeps a slop afloat without shrinking too much. [wt %]; 10 to 15 is usual."""

CLAY_ROOM = 1.0
"""Where there is more, its share may still grow by this as the batch shrinks. [wt %], estimate."""

LOSS_BAND = 2.5
"""Gas given off grows by no more than this. [wt % of the dry batch]."""

NEW_FLUX_LIMITS = {"MgO": 0.30, "ZnO": 0.30, "Li2O": 0.20}
"""Highest share of these fluxes. [mol per mol flux]; H. McWhinnie 2000, potters.org/subject31225
(read). A glaze that already holds more keeps what it has."""

LARGE_FLUX_ROOM = 0.05
"""What they may go beyond it in another glaze: the share of a flux also grows where others go."""

HAIR = 1e-9


@dataclass(frozen=True)
class Aim:
    """The one quantity that must move.

    ``word`` is one of the words of ``for`` in ``swaps.toml``; ``quantity`` an attribute of
    `Figures`; ``wanted`` is what it must reach, in its own unit. ``moves_too`` is a quantity that
    is meant to move with it, and what it may reach by that beyond its usual room.
    """

    word: str
    quantity: str
    now: float
    wanted: float
    moves_too: tuple[str, float] | None = None

    @property
    def goes_up(self) -> bool:
        """Whether the quantity must rise."""
        return self.wanted > self.now

    def shortfall(self, value: float) -> float:
        """How much is still missing, as a share of the whole way; 0 when it is reached."""
        way = self.wanted - self.now
        return max(0.0, (self.wanted - value) / way - HAIR) if way else 0.0


@dataclass(frozen=True)
class Band:
    """A quantity with the limits it must stay within, and the value it had."""

    quantity: str
    was: float
    low: float
    high: float

    def holds(self, figures: Figures) -> bool:
        """Whether the quantity is within its limits."""
        value = getattr(figures, self.quantity)
        return (self.low - HAIR <= value) & (value <= self.high + HAIR)

    def strain(self, figures: Figures) -> float:
        """How much of the room has been used, squared."""
        room = max(self.high - self.was, self.was - self.low)
        return ((getattr(figures, self.quantity) - self.was) / room) ** 2 if room else 0.0


def bands(before: Figures, aim: Aim) -> list[Band]:
    """Limits for all that is not the aim, those that are quick to work out first."""
    found = [
        _share("ratio", before.ratio, RATIO_BAND),
        _share("silica", before.silica, SILICA_BAND),
        _share("alumina", before.alumina, ALUMINA_BAND),
        _around("boron", before.boron, max(BORON_BAND, before.boron / 4)),
        Band("loss", before.loss, 0.0, before.loss + LOSS_BAND),
        _clay(before),
        _around("expansion", before.expansion, EXPANSION_BAND),
    ]
    if before.viscosity is not None:
        found.append(_around("viscosity", before.viscosity, VISCOSITY_BAND))
    return [opened(band, aim) for band in found if band.was != float("inf")]


def _around(quantity: str, was: float, by: float) -> Band:
    return Band(quantity, was, max(0.0, was - by), was + by)


def _share(quantity: str, was: float, by: float) -> Band:
    return Band(quantity, was, was * (1 - by), was * (1 + by))


def _clay(before: Figures) -> Band:
    clay = before.raw_clay
    return Band("raw_clay", clay, min(clay, CLAY_LOW), max(clay + CLAY_ROOM, CLAY_HIGH))


def opened(band: Band, aim: Aim) -> Band:
    """The aim itself may go where it must, and no more than its usual room beyond."""
    room = band.high - band.was
    if aim.moves_too and band.quantity == aim.moves_too[0]:
        reach = aim.moves_too[1]
        return Band(band.quantity, band.was, min(band.low, reach), max(band.high, reach + room))
    if band.quantity != aim.quantity:
        return band
    if aim.goes_up:
        return Band(band.quantity, band.was, band.was, aim.wanted + room)
    return Band(band.quantity, band.was, aim.wanted - room, band.was)


def keeps_new_fluxes(
    before: Mapping[str, float], after: Mapping[str, float], room: float = 0.0
) -> bool:
    """Whether magnesia, zinc and lithia stay within what is usual."""
    kept = True
    for oxide, limit in NEW_FLUX_LIMITS.items():
        most = max(limit, before.get(oxide, 0.0)) + room + HAIR
        kept = kept & (after.get(oxide, 0.0) <= most)
    return kept
