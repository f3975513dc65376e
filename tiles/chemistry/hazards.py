"""The material screen: which usual cautions a recipe, an analysis or a jar's label calls for.

Words are read in the languages of `_hazard_words`, hazard codes of the GHS as what they say. It
finds what is named or listed, no more: a jar that names nothing may still hold it. It says how to
handle a material, never that fired ware is safe.
"""

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from tiles.chemistry import oxides as ox
from tiles.chemistry._denied import denial, denials
from tiles.chemistry._hazard_words import Named, Vocabulary, english, in_name, in_text, plain
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

_FUSED = re.compile(
    r"\b(?:frits?|cullet|fritas?|frytt?[aeiy]?|\w*fritt(?:e[nrs]?|a|i)?|\w+frits?)\b", re.IGNORECASE
)
"""Melted and ground: its silica is glass, no quartz."""

MOST_LOSS_OF_A_FRIT_PERCENT = 3.0
"""A melted powder has little left to lose: more loss means raw. [wt %], estimate."""

_SILICATE, _PURE_PERCENT, _BOUND = ("SiO2", "CaO", "MgO"), 95.0, 1.05
"""A silicate of lime or magnesia alone [wt %], and the most SiO2 per base that is bound (estimate:
one for one in wollastonite and diopside, with some room for the analysis)."""

_ALIKE = 0.82
"""How alike a word must be to count as a misspelt one (estimate): "nickle" is, "aluminium" is no
"minium"."""

_NOT_MISSPELT = {"cerise", "magnesie"}
"""Words of the trade that are a letter or two away from a hazard."""

_FORMULA = re.compile(r"\b(?:[A-Z][a-z]?(?:[1-9]\d?)?){2,}(?![A-Za-z0-9])")
_SYMBOL = re.compile(r"[A-Z][a-z]?")
_LONE_SYMBOLS = {"Pb", "Cd", "Sb", "Mn"}
"""Symbols that are no word or abbreviation of another thing where they stand alone."""
_ELEMENTS = frozenset(
    "H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se "
    "Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs Ba La Ce Pr Nd Pm Sm Eu Gd Tb "
    "Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Th U".split()
)
_SYMBOLS = re.compile(r"\b[A-Z][a-z]?(?:\s*[,/+&]\s*[A-Z][a-z]?)+\b")
_CHARGED = re.compile(r"\b([A-Z][a-z])(?:\s?\([IV]+\)|[1-7]?\+|\s*\d+(?:[.,]\d+)?\s*%)")
"""Several symbols in a row, "Cr/Ni/Co", or with a valency or a share, "Cr(VI)", "Co 1 %": surely
elements, but for a single letter."""


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
    is_poison: bool
    says: str
    caution: str
    status: str
    source: str


@cache
def _hazards() -> tuple[_Hazard, ...]:
    return tuple(
        _Hazard(
            name=row["hazard"],
            element=row["element"],
            is_poison=bool(row["poison"]),
            says=row["says"],
            caution=row["caution"],
            status=row["status"],
            source=row["source"],
        )
        for row in read_table("hazards")
    )


def every_hazard() -> list[str]:
    """The hazards that the screen knows, the gravest first."""
    return [each.name for each in _hazards()]


@cache
def poisons() -> frozenset[str]:
    """Hazards for the sake of which no glaze is mixed or fired where a harmless one tells as well.

    What poisons by dust, fume or solution in the weights of a glaze (common practice, no source),
    and the codes of a label that say as much.
    """
    return frozenset(each.name for each in _hazards() if each.is_poison)


def in_words(hazard: str) -> str:
    """A hazard as it is told: a code of a label with what it says.

    Examples
    --------
    >>> in_words("lead"), in_words("H301")
    ('lead', 'H301 (toxic if swallowed)')
    """
    says = {each.name: each.says for each in _hazards()}.get(hazard)
    return f"{hazard} ({says})" if says else hazard


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
    told = _named(in_name(), name)
    if fold(name) in index():
        return told
    bare, known = plain(name).casefold(), [each.span for each in in_name().named(name)]
    for word in re.finditer(r"[a-z]{5,}", bare):
        is_known = any(start < word.end() and word.start() < end for start, end in known)
        if is_known or word[0] in _NOT_MISSPELT or denial(bare, *word.span()):
            continue
        if meant := difflib.get_close_matches(word[0], _by_word(), n=1, cutoff=_ALIKE):
            told.add(_by_word()[meant[0]])
    return told | _in_text(name)


@cache
def _by_word() -> dict[str, str]:
    """The hazard each word long enough to be misspelt tells of."""
    return {word: hazard for word, hazard in english().items() if len(word) >= 5 and word.isalpha()}


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
    return _not_denied(_all_named(text), text)


def _all_named(text: str) -> list[Named]:
    """What a text names in words, codes, formulas and symbols."""
    bare = plain(text)
    spans = [each.span() for each in _FORMULA.finditer(bare) if _is_formula(each[0])]
    found = [*in_text().named(text)]
    for span in (*spans, *_symbols(bare)):
        elements = _SYMBOL.findall(bare[slice(*span)])
        found += [Named(hazard, span) for hazard in _with_elements(elements)]
    return found


def _is_formula(text: str) -> bool:
    """Whether it is one and no word or code: SNOW and GHS are no compounds of S, N, O, W."""
    symbols = _SYMBOL.findall(text)
    is_told_apart = any(len(each) == 2 for each in symbols) or "O" in symbols
    is_word = text.isalpha() and text.isupper()
    return is_told_apart and not is_word and _ELEMENTS.issuperset(symbols)


def _symbols(text: str) -> Iterable[tuple[int, int]]:
    """Where symbols of elements stand that are surely meant as such."""
    for each in re.finditer(r"\b[A-Z][a-z]\b", text):
        if each[0] in _LONE_SYMBOLS:
            yield each.span()
    for each in _CHARGED.finditer(text):
        yield each.span(1)
    for row in _SYMBOLS.finditer(text):
        if _ELEMENTS.issuperset(_SYMBOL.findall(row[0])):
            for each in re.finditer("[A-Z][a-z]", row[0]):
                yield row.start() + each.start(), row.start() + each.end()


def _named(words: Vocabulary, text: str) -> set[str]:
    """The hazards that a text names and does not say that it is free of."""
    return _not_denied([*words.named(text)], text)


def _not_denied(found: list[Named], text: str) -> set[str]:
    denied = denials(plain(text), (each.span for each in found))
    return {each.hazard for each in found if each.span not in denied}


def without_denied(text: str) -> str:
    """A text, as `plain` has it, less what it says not to be there.

    Examples
    --------
    >>> without_denied("sans plomb ni cadmium; brillant").split()
    [';', 'brillant']
    """
    bare = plain(text)
    return _without(bare, denials(bare, (each.span for each in _all_named(text))).values())


def without_named(text: str) -> str:
    """A text, as `plain` has it, less every word and code that names a hazard.

    Examples
    --------
    >>> without_named("GHS08 H360Df, matt").split()
    [',', 'matt']
    """
    return _without(plain(text), (each.span for each in in_text().named(text)))


def _without(text: str, spans: Iterable[tuple[int, int]]) -> str:
    gone = {at for span in spans for at in range(*span)}
    return "".join(" " if at in gone else each for at, each in enumerate(text))


def is_named(words: "re.Pattern[str]", text: str) -> bool:
    """Whether a text names one of the words and does not say that it is free of it."""
    return any(not denial(text, each.start(), each.end()) for each in words.finditer(text))


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
