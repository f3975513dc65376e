"""The material screen: which usual cautions a recipe, an analysis or a jar's label calls for.

It finds what is named or listed, no more: a jar that names nothing may still hold it. It says how
to handle a material, never that fired ware is safe.
"""

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from tiles.chemistry import oxides as ox
from tiles.chemistry._tables import read_table
from tiles.chemistry.materials import Material, fold, index
from tiles.chemistry.recipes import Recipe, read_recipe

REMINDER = (
    "A calculation never shows that a glaze is safe for food: leach tests by an accredited "
    "laboratory and local rules decide. Follow the safety data sheet of each material."
)

DUST, BORATE = "free silica dust", "soluble borate"
DUSTS = frozenset((DUST, "talc dust"))
"""Hazards of the powder, whatever metal is in it."""

LEAST_SILICA_PERCENT = 0.1
"""Silica from which a raw powder may hold quartz enough to warn of: the share from which US rules
have a carcinogen told on the label of a mixture. [wt %], from memory, to be confirmed."""

_FUSED = re.compile(r"\b(?:frits?|cullet)\b", re.IGNORECASE)
"""Melted and ground: its silica is glass, no quartz."""

MOST_LOSS_OF_A_FRIT_PERCENT = 3.0
"""A melted powder has little left to lose: more loss means raw. [wt %], estimate."""

_SILICATE, _PURE_PERCENT, _BOUND = ("SiO2", "CaO", "MgO"), 95.0, 1.05
"""A silicate of lime or magnesia alone [wt %], and the most SiO2 per base that is bound (estimate:
one for one in wollastonite and diopside, with some room for the analysis)."""

_ALIKE = 0.82
"""How alike a word must be to count as a misspelt one (estimate): "nickle" is, "aluminium" is no
"minium"."""

_NOT_MISSPELT = {"cerise"}
"""Words of the trade that are a letter away from a hazard."""

_FORMULA = re.compile(r"\b(?:[A-Z][a-z]?\d*){2,}(?![A-Za-z0-9])")
_SYMBOL = re.compile(r"[A-Z][a-z]?")
_LONE_SYMBOLS = {"Pb", "Cd"}
_DENIED_AFTER = re.compile(r"^(?:\s*(?:&|/|\band\b|\bor\b)\s*\w+)?\s*-?\s*free\b", re.IGNORECASE)
_DENIED_BEFORE = re.compile(
    r"\b(?:no|not contain(?: any)?|without|free of)(?:\s+\w+\s+n?or)?\s*$", re.IGNORECASE
)
_DENIAL_DENIED = re.compile(r"\b(?:not|no longer|never|isn't|hardly)(?:\s+\w+)?\s*$", re.IGNORECASE)
"""Before a denial: "not lead free", "no longer quite lead free", "not without lead"."""


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
    every_word: tuple[str, ...]
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
            every_word=tuple(_listed(row["words"]) + _listed(row["name_words"])),
            caution=row["caution"],
            status=row["status"],
            source=row["source"],
        )
        for row in read_table("hazards")
    )


def every_hazard() -> list[str]:
    """The hazards that the screen knows, the gravest first."""
    return [each.name for each in _hazards()]


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
        As `recipes.read_recipe`. A material is judged by its names, its analysis and the shipped
        material it stands for; one that is not known by the words of its name.

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
    """Cautions for one raw material, by its names and its analysis if that is known.

    Examples
    --------
    >>> [each.hazard for each in screen_material("flint")]
    ['free silica dust']
    """
    return _gathered([(name, _in_material(name, index(own).get(fold(name))))])


def screen_text(text: str) -> list[Caution]:
    """Cautions for words on a jar or in a note: materials, elements, chemical formulas.

    A hazard the text denies, such as "lead free", is not shown.

    Examples
    --------
    >>> [each.hazard for each in screen_text("Lead-free clear, with MnO2 speckle")]
    ['manganese']
    """
    return _gathered([(text.strip(), _in_text(text))])


def named_hazards(name: str) -> set[str]:
    """The hazards of a raw material but for its dust, by name and, where known, by analysis."""
    return {each.hazard for each in screen_material(name)} - DUSTS


def _in_material(name: str, material: Material | None) -> set[str]:
    """Hazards by every name, every analysis and the shipped material it stands for.

    A user's own analysis only ever adds: a sheet that leaves something out takes no caution away.
    """
    names = {fold(each): each for each in (name, *(material.names if material else ()))}
    stood_for = {each: index()[each] for each in names if each in index()}
    names |= {fold(each): each for twin in stood_for.values() for each in twin.names}
    known = [each for each in (material, *stood_for.values()) if each]
    found = set().union(*map(_in_name, names.values()))
    found |= _with_elements(symbol for each in known for symbol in _elements_of(each.analysis))
    is_frit = any(_FUSED.search(each) for each in names.values())
    is_frit &= all(each.loss_on_ignition_percent <= MOST_LOSS_OF_A_FRIT_PERCENT for each in known)
    if is_frit:  # a borax frit holds no borax
        return found - {BORATE}
    if any(_may_hold_quartz(each.analysis) for each in known):
        found.add(DUST)
    return found


def _in_name(name: str) -> set[str]:
    """Hazards a material's name tells, one that is misspelt included."""
    told = {each.name for each in _hazards() if is_named(each.name_words, name)}
    if fold(name) in index():
        return told
    for word in re.findall(r"[a-z]{5,}", name.casefold()):
        meant = difflib.get_close_matches(word, _by_word(), n=1, cutoff=_ALIKE)
        if meant and word not in _NOT_MISSPELT and not _is_denied_in(name, word):
            told.add(_by_word()[meant[0]])
    return told | _in_text(name)


@cache
def _by_word() -> dict[str, str]:
    """The hazard each word long enough to be misspelt tells of."""
    return {
        word: each.name
        for each in reversed(_hazards())
        for word in each.every_word
        if len(word) >= 5 and word.isalpha()
    }


def _is_denied_in(text: str, word: str) -> bool:
    start = text.casefold().index(word)
    return _is_denied(text, start, start + len(word))


def _elements_of(analysis: Mapping[str, float]) -> Iterable[str]:
    present = (oxide for oxide, percent in analysis.items() if percent > 0)
    return [symbol for oxide in present for symbol in _SYMBOL.findall(oxide)]


def _may_hold_quartz(analysis: Mapping[str, float]) -> bool:
    """Whether some of the silica of a raw powder may be quartz: when in doubt, yes.

    Only a calcium or magnesium silicate without loss, such as wollastonite, is let off.
    """
    if analysis.get("SiO2", 0.0) < LEAST_SILICA_PERCENT:
        return False
    moles = ox.moles({oxide: each for oxide, each in analysis.items() if oxide in _SILICATE})
    bases = moles.get("CaO", 0.0) + moles.get("MgO", 0.0)
    is_nothing_else = sum(analysis.get(oxide, 0.0) for oxide in _SILICATE) >= _PURE_PERCENT
    return not (is_nothing_else and moles["SiO2"] <= _BOUND * bases)


def _with_elements(elements: Iterable[str]) -> set[str]:
    present = set(elements)
    return {each.name for each in _hazards() if each.element and each.element in present}


def _in_text(text: str) -> set[str]:
    found = {each.name for each in _hazards() if is_named(each.words, text)}
    for formula in _FORMULA.finditer(text):
        is_word = formula[0].isalpha() and formula[0].isupper()  # SNOW is no compound of S, N, O, W
        if not is_word and not _is_denied(text, formula.start(), formula.end()):
            found |= _with_elements(_SYMBOL.findall(formula[0]))
    for symbol in re.finditer(r"\b[A-Z][a-z]\b", text):
        if symbol[0] in _LONE_SYMBOLS and not _is_denied(text, symbol.start(), symbol.end()):
            found |= _with_elements([symbol[0]])
    return found


def is_named(words: "re.Pattern[str]", text: str) -> bool:
    """Whether a text names one of the words and does not say that it is free of it."""
    return any(not _is_denied(text, each.start(), each.end()) for each in words.finditer(text))


def _is_denied(text: str, start: int, end: int) -> bool:
    """Whether the text says that the hazard is not there; when in doubt, no."""
    if _DENIED_AFTER.match(text[end:]):
        return not _DENIAL_DENIED.search(text[:start])
    before = _DENIED_BEFORE.search(text[:start])
    return bool(before) and not _DENIAL_DENIED.search(text[: before.start()])


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
