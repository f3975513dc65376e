"""What people see: true defects, missed, taken for another, or imagined; and how severe."""

import numpy as np

from tests.bench.hazards import Hazards
from tests.bench.studio import Studio, Table
from tiles.exchange.flat_columns import NONE, SEEN
from tiles.records.words import SEVERITIES

# Chance that the first is written down as the second (estimates; pairs from trade look-alikes).
TAKEN_FOR = {
    ("pinholes", "blisters"): 0.06,
    ("blisters", "pinholes"): 0.12,
    ("shivering", "crawling"): 0.20,
    ("underfired", "unwanted matt"): 0.15,
    ("unwanted matt", "underfired"): 0.10,
    ("specks", "pinholes"): 0.05,
    ("pinholes", "specks"): 0.03,
}
IMAGINED = 0.006


def happen(rng: np.random.Generator, chance: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Which defects really came about."""
    return {defect: rng.random(p.size) < p for defect, p in chance.items()}


def note(studio: Studio, area: Table, real: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Which defects get written down."""
    rng = studio.rng
    misses = studio.person["misses"][area["person"]]
    noted = {defect: rng.random(is_.size) < IMAGINED for defect, is_ in real.items()}
    for defect, is_ in real.items():
        seen = is_ & (rng.random(is_.size) >= misses)
        for (true, taken), rate in TAKEN_FOR.items():
            if true == defect:
                wrong = seen & (rng.random(is_.size) < rate)
                noted[taken] |= wrong
                seen &= ~wrong
        noted[defect] |= seen
    return noted


def chance_noted(
    studio: Studio, area: Table, chance: dict[str, np.ndarray]
) -> dict[str, np.ndarray]:
    """The chance that each defect gets written down: what a forecast of the record can know."""
    kept = 1 - studio.person["misses"][area["person"]]
    free = {defect: np.full(p.size, 1 - IMAGINED) for defect, p in chance.items()}
    for defect, p in chance.items():
        left = p * kept
        for (true, taken), rate in TAKEN_FOR.items():
            if true == defect:
                free[taken] = free[taken] * (1 - left * rate)
                left = left * (1 - rate)
        free[defect] = free[defect] * (1 - left)
    return {defect: 1 - each for defect, each in free.items()}


def main_cause(hazards: Hazards) -> tuple[np.ndarray, np.ndarray]:
    """The cause with the greatest hazard on each area, and its share of the whole."""
    names = np.array(list(hazards))
    stacked = np.array([hazards[name] for name in names])
    first = stacked.argmax(axis=0)
    return names[first], stacked.max(axis=0) / stacked.sum(axis=0)


def severity(studio: Studio, hazard: np.ndarray, noted: np.ndarray) -> np.ndarray:
    """The words in a defect column: stronger where the hazard is stronger."""
    rng, n = studio.rng, hazard.size
    strength = np.log(hazard + 1e-6) + rng.normal(0, 0.8, n)
    level = np.digitize(strength, (-1.1, 0.0))
    told = np.where(rng.random(n) < 0.12, SEEN, np.array(SEVERITIES)[level])
    return np.where(noted, told, NONE)


def look_clues(
    studio: Studio, noted: dict[str, np.ndarray], causes: dict[str, np.ndarray]
) -> dict[str, np.ndarray]:
    """Answers about how a fault looks: only where it is seen, and only by some people."""
    asked = {
        "worst_where_thick": ("coat_too_thick", ("crazing", "crawling", "pinholes", "blisters")),
        "came_later": ("moisture_expansion", ("crazing",)),
        "bare_spots_like_fingers": ("greasy_bisque", ("crawling",)),
        "only_over_colour": ("colour_beneath", ("crawling", "cloudiness")),
        "only_in_overlaps": ("overlap", ("running",)),
        "one_shelf_only": ("cold_shelf", ("underfired",)),
        "specks_on_bare_clay": ("iron_in_body", ("specks",)),
    }
    rng, told = studio.rng, {}
    rate = float(rng.uniform(0.1, 0.45))
    for clue, (cause, defects) in asked.items():
        seen = np.any([noted[defect] for defect in defects], axis=0)
        fits = np.any([noted[d] & (causes[d] == cause) for d in defects], axis=0)
        right = fits ^ (rng.random(seen.size) < 0.12)
        answered = seen & (rng.random(seen.size) < rate)
        told[clue] = np.where(answered, np.where(right, "yes", "no"), None)
    return told
