"""How measures and clues are named to a reader, and how a missing one can be got."""

from dataclasses import dataclass
from functools import cache

from tiles.records.clues import clues


@dataclass(frozen=True)
class MeasureWords:
    """A measure's unit, its plain name, and how to get it when it was not recorded."""

    unit: str
    label: str
    how: str


@cache
def _table() -> dict:
    import tomllib
    from importlib.resources import files

    text = files("diagnose").joinpath("vocabulary.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def measure_words() -> dict[str, MeasureWords]:
    """Every measure a rule may use, by name."""
    return {name: MeasureWords(**entry) for name, entry in _table()["measure"].items()}


def clue_said(name: str, answer: str) -> str:
    """The clue as a statement: what is so when the answer is yes, or no."""
    return _table()["clue"][name][answer]


def how_to_get(name: str) -> str:
    """What to look at, measure or answer, for a measure or clue that was not recorded."""
    if name in clues():
        return clues()[name].question
    words = measure_words()[name]
    return f"{words.label}: {words.how}"
