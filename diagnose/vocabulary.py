"""How measures and clues are named to a reader, and how a missing one can be got."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from tiles.records.clues import clues

if TYPE_CHECKING:
    from diagnose.measures.of_area import Measure


@dataclass(frozen=True)
class MeasureWords:
    """A measure's unit, its plain name, and how to get it when it was not recorded.

    Measures of one ``kind`` tell the same thing: one of them is enough. ``is_test`` marks what
    only a new firing can tell; it is a confirming test, not a gap in the record. ``yes`` and
    ``no``: of a measure that is either, what is so then. ``of_label`` marks what the cone range on
    the label of a jar is needed for: that is still worth asking where the other cones are known.
    """

    unit: str
    label: str
    how: str
    kind: str = ""
    is_test: bool = False
    yes: str = ""
    no: str = ""
    of_label: bool = False


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


@cache
def recipe_measures() -> frozenset[str]:
    """Names of the measures that are read from a recipe."""
    found = {name for name, words in measure_words().items() if words.kind == "recipe"}
    return frozenset(found | {"expansion_gap_ppm_per_k"})


def holds_word(value: "float | str | None", words: Sequence[str]) -> bool:
    """Whether a text is, or holds, one of the words: "fire engine red" is a red."""
    return isinstance(value, str) and any(word == value or word in value.split() for word in words)


def clue_said(name: str, answer: str) -> str:
    """The clue as a statement: what is so when the answer is yes, or no."""
    return _table()["clue"][name][answer]


def is_yes_or_no(name: str) -> bool:
    """Whether a measure or clue is answered yes or no."""
    return name in clues() or (name in measure_words() and bool(measure_words()[name].yes))


def answer_said(name: str, answer: str) -> str:
    """What is so when a clue or a measure is answered yes, or no."""
    return clue_said(name, answer) if name in clues() else getattr(measure_words()[name], answer)


def how_to_get(name: str) -> str:
    """What to look at, measure or answer, for a measure or clue that was not recorded."""
    if name in clues():
        return clues()[name].question
    words = measure_words()[name]
    return f"{words.label}: {words.how}"


def is_asked(name: str, known: "Mapping[str, Measure]") -> bool:
    """Whether what is not recorded may be asked of this tile.

    Some clues are of one form only, and of a bought jar nobody knows the recipe.
    """
    if name in recipe_measures() and "glaze_kind" in known:
        return known["glaze_kind"].value != "jar"
    form = _table()["clue"].get(name, {}).get("asked_of")
    return form is None or ("form" in known and known["form"].value == form)


def one_of_each_kind(names: list[str], known: "Mapping[str, Measure]") -> list[str]:
    """The names still worth asking for: one per kind, none whose kind is known, no tests.

    Of a jar without a range on its label that is asked for, once, where its cones are known.
    """
    recorded = {kind_of(name) for name in known} - {""}
    kinds, wanted = set(recorded), []
    has_label = any(map(_is_of_label, known)) or not _is_of_jar(known)
    for name in names:
        is_of_label = _is_of_label(name) and kind_of(name) in recorded and not has_label
        if is_test(name) or (kind_of(name) in kinds and not is_of_label):
            continue
        has_label |= _is_of_label(name)
        kinds |= {kind_of(name)} - {""}
        wanted.append(name)
    return wanted


def _is_of_label(name: str) -> bool:
    return name in measure_words() and measure_words()[name].of_label


def _is_of_jar(known: "Mapping[str, Measure]") -> bool:
    return "glaze_kind" in known and known["glaze_kind"].value == "jar"


def label_of(name: str) -> str:
    """The plain name of a measure, or of a thing that goes by its own name, such as a kiln."""
    return measure_words()[name].label if name in measure_words() else name.replace("_", " ")


def unit_of(name: str) -> str:
    """The unit of a measure; empty where it has none."""
    return measure_words()[name].unit if name in measure_words() else ""


def is_test(name: str) -> bool:
    """Whether it is a confirming test, such as a comparison of areas, and no gap in the record."""
    return name in measure_words() and measure_words()[name].is_test


def effort_of(name: str) -> int:
    """How hard it is to find out afterwards: 1 where the piece must be broken for it, else 0."""
    return int(name in ("thickness_mm", "fired_thickness_mm"))


def kind_of(name: str) -> str:
    """What a measure or clue tells, where several tell the same."""
    if name in clues():
        return _table()["clue"][name].get("kind", "")
    return measure_words()[name].kind
