"""Which facts a studio writes down: a fact of a group is known or blank for the whole group."""

from collections.abc import Callable, Hashable

import numpy as np

MOST_BLANK = 0.97


class Notebook:
    """Remembers what has been written, so that a firing's fact is the same on all its tiles."""

    def __init__(self, rng: np.random.Generator, habits: dict):
        self.rng, self.habits = rng, habits
        self._written: dict[Hashable, bool] = {}
        self._readings: dict[Hashable, object] = {}

    def is_written(self, fact: Hashable, chance_blank: float) -> bool:
        """Whether a fact is written; decided when it is first asked for."""
        if fact not in self._written:
            self._written[fact] = self.rng.random() >= chance_blank
        return self._written[fact]

    def once(self, group: Hashable, field: str, value, trouble: float = 1.0):
        """The value, or None where the group's field was left blank."""
        chance_blank = min(MOST_BLANK, self.habits["blank"][field] * trouble)
        return value if self.is_written((group, field), chance_blank) else None

    def per_tile(self, row: dict, field: str, value):
        """The value of one tile, which a careless person leaves blank more often."""
        return self.once(row["mark"], field, value, row["user"]["carelessness"])

    def reading(self, group: Hashable, field: str, measure: Callable[[], object]):
        """A value with an error of its own, measured once for the group."""
        if (group, field) not in self._readings:
            self._readings[group, field] = measure()
        return self.once(group, field, self._readings[group, field])

    def first(self, fact: Hashable, value):
        """The value that was first given for a fact."""
        return self._readings.setdefault(fact, value)

    def answers(self, group: Hashable, answers: dict[str, bool], carelessness: float) -> dict:
        """Clues as yes, no or blank; a yes is written more often than a no."""
        told = {}
        for name, yes in answers.items():
            chance = self.habits["clue"] * (1.9 if yes else 0.8) / carelessness**0.5
            fact = (group, "clue", name)
            if fact not in self._written:
                self._written[fact] = self.rng.random() < min(0.95, chance)
            told[f"clue_{name}"] = ("yes" if yes else "no") if self._written[fact] else None
        return told
