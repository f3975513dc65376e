"""What a count of own tiles is worth for the causes that it bears on."""

import math

DRAWN_BY = 8.0
"""A count of so many tiles is believed by half (estimate)."""
TRUST, MOST_LIFT = 0.5, 0.75
"""How much of a count is weighed, and the most it moves a cause by. [log-odds], estimates."""
VERY_CLEAR = 0.01
TRUST_CLEAR, MOST_CLEAR = 1.0, 1.5
"""The same of a count that chance gives no oftener than this, all cuts allowed for. Estimates."""


def lift_of_count(here: tuple[int, int], there: tuple[int, int], chance: float) -> float:
    """What a count adds to the causes that it bears on. [log-odds].

    How many times more often this side failed, as a logarithm, drawn to nothing by few tiles.

    Parameters
    ----------
    here, there : tuple of int
        Failed and all tiles on the side of the failed tile, and on the other.
    chance : float
        How often luck alone would part them so, all cuts of the fact allowed for.
    """
    trust, most = (TRUST_CLEAR, MOST_CLEAR) if chance <= VERY_CLEAR else (TRUST, MOST_LIFT)
    rates = [(failed + 0.5) / (size + 1) for failed, size in (here, there)]
    fewest = 2 * min(here[1], there[1])
    believed = trust * fewest / (fewest + DRAWN_BY)
    return max(0.0, min(most, believed * math.log(rates[0] / rates[1])))
