"""The material screen: which usual cautions a recipe, an analysis or a jar's label calls for.

It finds what is named or listed, no more: a jar that names nothing may still hold it. It says how
to handle a material, never that fired ware is safe.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from tiles.chemistry._tables import read_table
from tiles.chemistry.materials import Material, find, fold
from tiles.chemistry.recipes import Recipe, read_recipe
from tiles.errors import UnknownName

REMINDER = (
    "A calculation never shows that a glaze is safe for food: leach tests by an accredited "
    "laboratory and local rules decide. Follow the safety data sheet of each material."
)

DUST = "free silica dust"

_FORMULA = re.compile(r"\b(?:[A-Z][a-z]?\d*){2,}(?![A-Za-z0-9])")
_SYMBOL = re.compile(r"[A-Z][a-z]?")
_LONE_SYMBOLS = {"Pb", "Cd"}
_DENIED_AFTER = re.compile(r"^(?:\s*(?:&|/|\band\b|\bor\b)\s*\w+)?\s*-?\s*free\b", re.IGNORECASE)
_DENIED_BEFORE = re.compile(
    r"\b(?:no|not contain(?: any)?|without|free of)(?:\s+\w+\s+n?or)?\s*$", re.IGNORECASE
)


@dataclass(frozen=True)
class Caution:
    """One hazard with where it was found and its usual handling.

    ``status`` is ``read`` or ``memory``: common knowledge of the trade, as remembered.
    """

    hazard: str
    found_in: tuple[str, ...]
    handling: str
    status: str
    source: str


@dataclass(frozen=True)
class _Hazard:
    name: str
    element: str
    words: "re.Pattern[str]"
    name_words: "re.Pattern[str]"
    materials: frozenset[str]
    caution: str
    status: str
    source: str


@cache
def _hazards() -> tuple[_Hazard, ...]:
    return tuple(
        _Hazard(
            name=row["hazard"],
            element=row["element"],
            words=_pattern(_listed(row["words"])),
            name_words=_pattern(_listed(row["words"]) + _listed(row["name_words"])),
            materials=frozenset(_listed(row["materials"])),
            caution=row["caution"],
            status=row["status"],
            source=row["source"],
        )
        for row in read_table("hazards")
    )


def _listed(text: str) -> list[str]:
    return [each.strip() for each in text.split(";") if each.strip()]


def _pattern(words: Iterable[str]) -> "re.Pattern[str]":
    return re.compile(r"\b(?:" + "|".join(map(re.escape, words)) + r")\b", re.IGNORECASE)


def screen_recipe(
    recipe: Recipe, *, extras: Recipe = (), own: Iterable[Material] = ()
) -> list[Caution]:
    """Cautions for the raw materials of a recipe, known or not.

    Parameters
    ----------
    recipe, extras, own
        As `recipes.read_recipe`. A material that is not known is judged by the words of its name.

    Returns
    -------
    list of Caution
        Each hazard once, in a fixed order; show `REMINDER` with it, even when it is empty.

    Examples
    --------
    >>> found = screen_recipe({"whiting": 20, "lithium carbonate": 4}, extras={"copper oxide": 2})
    >>> [(each.hazard, each.found_in) for each in found]
    [('lithium', ('lithium carbonate',)), ('copper', ('copper oxide',))]
    """
    lines = read_recipe(recipe, extras=extras, own=own)
    return _gathered((line.name, _in_material(line.name, line.material)) for line in lines)


def screen_material(name: str, own: Iterable[Material] = ()) -> list[Caution]:
    """Cautions for one raw material, by its analysis or, when not known, by its name.

    Examples
    --------
    >>> [each.hazard for each in screen_material("flint")]
    ['free silica dust']
    """
    try:
        material = find(name, own)
    except UnknownName:
        material = None
    return _gathered([(name, _in_material(name, material))])


def screen_oxides(oxides: Mapping[str, float]) -> list[Caution]:
    """Cautions for an oxide analysis, in any unit: every oxide above 0 counts.

    Examples
    --------
    >>> [each.hazard for each in screen_oxides({"SiO2": 60, "BaO": 10, "MnO": 0})]
    ['barium']
    """
    present = [oxide for oxide, amount in oxides.items() if amount > 0]
    return _gathered((oxide, _with_elements(_SYMBOL.findall(oxide))) for oxide in present)


def screen_text(text: str) -> list[Caution]:
    """Cautions for words on a jar or in a note: materials, elements, chemical formulas.

    A hazard the text denies, such as "lead free", is not shown.

    Examples
    --------
    >>> [each.hazard for each in screen_text("Lead-free clear, with MnO2 speckle")]
    ['manganese']
    """
    return _gathered([(text.strip(), _in_text(text))])


def _in_material(name: str, material: Material | None) -> set[str]:
    named = {each.name for each in _hazards() if _is_named(each.name_words, name)}
    if material is None:
        return named | _in_text(name)
    elements = [
        symbol
        for oxide, percent in material.analysis.items()
        if percent > 0
        for symbol in _SYMBOL.findall(oxide)
    ]
    listed = {each.name for each in _hazards() if fold(material.name) in each.materials}
    # The name counts too: a user's analysis of "copper red base" may leave out what it tells.
    return _with_elements(elements) | listed | {each for each in named if each != DUST}


def _with_elements(elements: Iterable[str]) -> set[str]:
    present = set(elements)
    return {each.name for each in _hazards() if each.element and each.element in present}


def _in_text(text: str) -> set[str]:
    found = {each.name for each in _hazards() if _is_named(each.words, text)}
    for formula in _FORMULA.finditer(text):
        is_word = formula[0].isalpha() and formula[0].isupper()  # SNOW is no compound of S, N, O, W
        if not is_word and not _is_denied(text, formula.start(), formula.end()):
            found |= _with_elements(_SYMBOL.findall(formula[0]))
    for symbol in re.finditer(r"\b[A-Z][a-z]\b", text):
        if symbol[0] in _LONE_SYMBOLS and not _is_denied(text, symbol.start(), symbol.end()):
            found |= _with_elements([symbol[0]])
    return found


def _is_named(words: "re.Pattern[str]", text: str) -> bool:
    return any(not _is_denied(text, each.start(), each.end()) for each in words.finditer(text))


def _is_denied(text: str, start: int, end: int) -> bool:
    return bool(_DENIED_AFTER.match(text[end:]) or _DENIED_BEFORE.search(text[:start]))


def _gathered(found: Iterable[tuple[str, set[str]]]) -> list[Caution]:
    places: dict[str, list[str]] = {}
    for place, names in found:
        for name in names:
            places.setdefault(name, []).append(place)
    return [
        Caution(each.name, tuple(places[each.name]), each.caution, each.status, each.source)
        for each in _hazards()
        if each.name in places
    ]
