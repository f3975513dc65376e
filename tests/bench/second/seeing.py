"""What people note of what came about: faults overlooked, confused with others, imagined."""

from dataclasses import dataclass

import numpy as np

from tests.bench.second.scale import DEFECTS

SEVERITIES = np.array(["slight", "moderate", "severe"], object)
IMAGINED = 0.004
WITHOUT_SEVERITY = 0.06
CONFUSED = {
    "pinholes": ("blisters", 0.05), "blisters": ("pinholes", 0.12),
    "shivering": ("crawling", 0.15), "crawling": ("shivering", 0.02),
    "underfired": ("unwanted matt", 0.15), "unwanted matt": ("underfired", 0.08),
    "dunting": ("crazing", 0.1), "cloudiness": ("unwanted matt", 0.05),
    "bloating": ("blisters", 0.2), "specks": ("pinholes", 0.03),
}  # fmt: skip
"""For which other defect one is taken, and how often (estimates)."""


@dataclass(frozen=True)
class Seen:
    """For each defect the chance that it is noted, whether it was there, and the word noted."""

    chance: dict[str, np.ndarray]
    real: dict[str, np.ndarray]
    word: dict[str, np.ndarray]


def note(rng: np.random.Generator, chance: dict[str, np.ndarray], eye: float) -> Seen:
    """The exact chance of a note, and one draw of what was noted, for every area."""
    sharp = np.array([0.55 + 0.42 * eye, 0.9 + 0.09 * eye, 0.985])[:, None]
    seen = {}
    real, severity, share = {}, {}, {}
    for defect in DEFECTS:
        sees = sharp * (1 if defect != "metal marking" else 0.8)
        drawn = _draw(rng, chance[defect], sees)
        share[defect], real[defect], severity[defect], seen[defect] = drawn
    moved, taken, kept = _confuse(rng, seen, severity, share)
    likely, words = {}, {}
    for defect in DEFECTS:
        imagined = rng.random(len(chance[defect])) < IMAGINED
        lost = CONFUSED.get(defect, ("", 0.0))[1]
        own = 1 - share[defect] * (1 - lost)
        likely[defect] = 1 - own * kept[defect] * (1 - IMAGINED)
        noted = (seen[defect] & ~moved[defect]) | taken[defect] | imagined
        only_imagined = noted & ~seen[defect] & ~taken[defect]
        level = np.where(only_imagined, 0, severity[defect])
        words[defect] = _word(rng, noted, level)
    return Seen(likely, real, words)


def _draw(rng: np.random.Generator, chance: np.ndarray, sees: np.ndarray):
    """Chance of being seen, whether it is there, how severe, and whether it is seen.

    What is likely is also severe, and what is severe is not overlooked.
    """
    shares = [0.62 - 0.38 * chance, 0.28 + 0.1 * chance, 0.10 + 0.28 * chance]
    severities = np.array(shares)
    share = chance * (severities * sees).sum(axis=0)
    is_there = rng.random(len(chance)) < chance
    steps = severities.cumsum(axis=0)
    level = (rng.random(len(chance))[None] > steps).sum(axis=0).clip(0, 2)
    return share, is_there, level, is_there & (rng.random(len(chance)) < sees[level, 0])


def _confuse(rng: np.random.Generator, seen: dict, severity: dict, share: dict):
    """Which notes go to another defect, which come from one, the chance that none comes."""
    count = len(seen["crazing"])
    moved = {defect: np.zeros(count, bool) for defect in DEFECTS}
    taken = {defect: np.zeros(count, bool) for defect in DEFECTS}
    kept = {defect: np.ones(count) for defect in DEFECTS}
    for defect, (other, how_often) in CONFUSED.items():
        moves = seen[defect] & (rng.random(count) < how_often)
        moved[defect] |= moves
        taken[other] |= moves
        kept[other] *= 1 - share[defect] * how_often
        fresh = moves & ~seen[other]
        severity[other] = np.where(fresh, severity[defect], severity[other])
    return moved, taken, kept


def _word(rng: np.random.Generator, noted: np.ndarray, level: np.ndarray) -> np.ndarray:
    word = np.where(rng.random(len(level)) < WITHOUT_SEVERITY, "seen", SEVERITIES[level])
    return np.where(noted, word, "none")
