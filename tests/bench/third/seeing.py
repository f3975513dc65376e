"""From what happened to what is written down: faults missed, mild ones let pass, names confused."""

import numpy as np

from tests.bench.third.tools import up

CONFUSED = {
    "pinholes": {"blisters": .08}, "blisters": {"pinholes": .14, "bloating": .02},
    "underfired": {"unwanted matt": .16, "colour shift": .03},
    "unwanted matt": {"underfired": .14, "cloudiness": .02},
    "bloating": {"blisters": .22}, "crawling": {"shivering": .03},
    "shivering": {"crawling": .12}, "cloudiness": {"unwanted matt": .05, "pinholes": .02},
    "colour shift": {"underfired": .02}, "specks": {"pinholes": .02},
    "metal marking": {"specks": .03},
}  # fmt: skip
"""Share of a fault that is written down under another name; a potter's estimate."""

_EASY = {"crazing": -.35, "crawling": .5, "running": .4, "underfired": .1, "colour shift": -.1,
         "specks": -.3, "pinholes": -.1, "cloudiness": -.3, "metal marking": -.8}  # fmt: skip
_FALSE = 0.003


def _severities(hazard: np.ndarray) -> np.ndarray:
    """Chance of slight, moderate, severe for a fault that is there, by how hard it was pushed."""
    push = up(np.log(hazard + 1e-9), np.log(0.04), np.log(3.0))
    severe = 0.06 + 0.34 * push
    slight = 0.62 - 0.37 * push
    return np.array([slight, 1 - slight - severe, severe])


def written(rng, room, people, x, happened: dict, hazards: dict):
    """True chance of being noted, and the severity noted (0 where not), for each defect."""
    n = len(x)
    care = room.care_in_looking + people["writes"].to_numpy()[x["person"].to_numpy(int)]
    misses = {d: 1.0 for d in happened}
    severity = {d: np.zeros(n, int) for d in happened}
    for defect, is_there in happened.items():
        shares = _severities(hazards[defect])
        lean = care + _EASY.get(defect, 0.0)
        finds = np.array([1 / (1 + np.exp(-(base + lean))) for base in (0.75, 2.3, 3.6)])
        chance = 1 - np.exp(-hazards[defect])
        found = (shares * finds).sum(axis=0) * chance
        drawn = (rng.random(n) > np.cumsum(shares, axis=0)).sum(axis=0).clip(0, 2)
        is_found = is_there & (rng.random(n) < finds[drawn, np.arange(n)])
        named = np.full(n, defect, dtype=object)
        at, edge = rng.random(n), 0.0
        for other, share in CONFUSED.get(defect, {}).items():
            named[(at >= edge) & (at < edge + share)] = other
            misses[other] = misses[other] * (1 - found * share)
            edge += share
        misses[defect] = misses[defect] * (1 - found * (1 - edge))
        for name, so_far in severity.items():
            here = is_found & (named == name)
            severity[name] = np.where(here, np.maximum(so_far, drawn + 1), so_far)
    for name, so_far in severity.items():
        misses[name] = misses[name] * (1 - _FALSE)
        wrong = (rng.random(n) < _FALSE) & (so_far == 0)
        severity[name] = np.where(wrong, 1, so_far)
    return {d: 1 - misses[d] for d in happened}, severity
