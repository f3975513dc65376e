"""Whether a text says of something it names that it is not there: "lead free", "sans plomb".

In the languages that labels are read in, as `_hazard_words`; general vocabulary, no source. In
doubt it does not: a caution too many does less harm than one too few. Texts are without accents,
as `_hazard_words.plain` makes them.
"""

import re
from collections.abc import Iterable
from itertools import pairwise

_AND = (
    r"and|or|&|/|und|oder|et|ou|ni|en|of|noch|y|o|e|ne|nem|og|och|eller|heller|ja|tai|i|lub|ani|a"
    r"|nebo"
)
_OR = r"n?or|oder|noch|ou|ni|of|o|ne|eller|heller|tai|eika|lub|ani|nebo|nem"
_WITHOUT = (
    r"without|free (?:of|from)|ohne|frei von|sans|exempte?s? de|depourvue?s? de|zonder|vrij van"
    r"|sin|(?:libres?|exent[oa]s?) de|senza|(?:priv[oaie]|prive) di|esent[ei] da"
    r"|sem|(?:livres?|isent[oa]s?) de|uden|uten|utan|fri(?:tt|t|a|e)? (?:for|fran|fra)|ilman"
    r"|bez|woln[eya] od"
)
_NONE = (
    r"no|not contain(?: any)?|kein(?:e|en|em|er|es)?|pas (?:de|d')|ne contient (?:pas|ni)|aucune?"
    r"|geen|no (?:contienen?|lleva)(?: ni)?|non (?:contiene|contengono)(?: ne)?"
    r"|nao (?:contem|tem)|(?:indeholder|inneholder|innehaller) (?:ikke|inte|ej)|ingen|inga|inget"
    r"|ei sisalla|eivat sisalla|nie zawiera|neobsahuje"
)
_ADDED = (
    r"(?:\s+(?:added|any|zusatz von|(?:ajout|adjonction) de|toegevoegd|toevoeging van"
    r"|(?:contenido|adicion|adicao) de|aggiunta di|tilsat|tilsatt|tillsatt"
    r"|zawartosci|dodatku|obsahu|de|di|da|aucun))?\s*"
)
_BEFORE = re.compile(
    rf"(?:\b(?P<without>(?:{_WITHOUT}){_ADDED}(?:\s*\w+-?\s+(?:{_AND}))?)"
    rf"|\b(?:{_NONE}){_ADDED}(?:\s*\w+\s+(?:{_OR}))?)\s*$"
    r"|\bnon?-$",
    re.IGNORECASE,
)
_LISTED, _LAST = re.compile(r"\s*,\s*"), rf"\s*,?\s*\b(?:{_OR})\s+"
_ENDS_LIST = {
    True: re.compile(rf"{_LAST}|\s*,?\s*(?:{_AND})\s+", re.IGNORECASE),
    False: re.compile(_LAST, re.IGNORECASE),
}
"""What stands before the last of a list: "without lead, cadmium and barium", but in "no lead and
barium" the barium may well be there."""
_FREE = r"(?:free|frei(?:e[mnrs]?)?|vrije?|fri(?:tt|a|e)?)"
_IS_FREE = rf"(?:[-–]{_FREE}\b|(?:-?\s*|\s+-?){_FREE}\b(?!\s+(?:of|from|von|van|fra|fran)\b))"
"""With a hyphen; not "red lead, free of barium" nor "lead - free delivery"."""
COMPOUND = r"(?:[\s-](?:(?:mon|di|tri|pent)?oxides?|carbonates?|compounds?)\b)"
"""What is said of the whole metal: who is free of a sulphate may hold a carbonate."""
_TO_COMPOUND = re.compile(rf"{COMPOUND}?", re.IGNORECASE)
_AFTER = re.compile(
    rf"(?:{COMPOUND}?(?:\s*(?:&|/|\band\b|\bor\b)\s*\w+{COMPOUND}?)?{_IS_FREE}"
    rf"|-(?:\s*,\s*\w+-)*\s*(?:{_AND})\s*\w+?-?\s*{_FREE}\b)",
    re.IGNORECASE,
)
_ALL_FREE = re.compile(r"\s*,?\s*(?:&|\band\b|\bor\b)\s*", re.IGNORECASE)
_CLAUSE = re.compile(r"(?:^|[.;!(])\s*$")
"""Where "lead, cadmium and barium free" is said of all: "with lead, cadmium and barium free"
holds lead."""
# "bleifrei", "loodvrij", "lyijyton"; a "Kobaltton" is clay, and a "loodfrit" a frit.
_FREE_WORD = re.compile(
    r"(?:free|frei(?:e[mnrs]?)?|vrije?|fri(?:tt|a|e)?|(?<=bly)frit|(?<=[iy])ton"
    r"|ttom(?:an|at|ia|ien|alla|aksi))$"
)
_HOLDING = re.compile(
    r"\w+(?:halti\w*|houdend\w*|holdig\w*|haltigt?|fer[eoa]s?|pitoi\w*)", re.IGNORECASE
)
"""An adjective that "not" denies."""
_NOT = (
    r"not|no longer|never|isn't|hardly|nicht|nie|niemals|kein(?:e[mnrs]?)?|kaum|pas|jamais|niet"
    r"|nooit|no|nunca|non|mai|nao|ikke|ikkje|inte|ej|aldri[g]?|ei|eivat|neni|ne"
)
_NOT_HARMFUL = r"(?!tox|toss|toks|giftig|gifti|nocivo|nocif|trujac|schadlich|schadelijk|jedovat)"
_NOT_SO = re.compile(rf"\b(?:{_NOT})(?:\s+{_NOT_HARMFUL}\w+)?[\s-]*$", re.IGNORECASE)
"""Before a denial: "not lead free", "non-lead-free", "no longer quite lead free"."""
_NOT_HOLDING = re.compile(
    r"\b(?:nicht|niet|ikke|inte|ej|non|pas|no|nao|ei|kein(?:e[mnrs]?)?|ohne|geen|zonder|ingen|uden"
    r"|uten|utan|sans|sin|senza|sem|bez)\s*$",
    re.IGNORECASE,
)


def denial(text: str, start: int, end: int, since: int = 0) -> tuple[int, int] | None:
    """From where to where a text says that what it names there is absent; None where it is not.

    A "no" before ``since`` was said of another thing: "no lead no manganese".

    Examples
    --------
    >>> denial("lead-free clear", 0, 4), denial("ohne Blei", 5, 9), denial("with lead", 5, 9)
    ((0, 9), (0, 9), None)
    """
    word, before = text[start:end], " " * since + text[since:start]
    if _HOLDING.fullmatch(word):
        found = _NOT_HOLDING.search(before)
        return (found.start(), end) if found else None
    after = _AFTER.match(text, end)
    if after or _FREE_WORD.search(word.casefold()):
        last = after.end() if after else end
        return None if _NOT_SO.search(before) else (start, last)
    found = _BEFORE.search(before)
    if found is None:
        return None
    if _NOT_SO.search((text if found["without"] else before)[: found.start()]):
        return None
    return found.start(), _TO_COMPOUND.match(text, end).end()


def denials(text: str, spans: Iterable[tuple[int, int]]) -> dict[tuple[int, int], tuple[int, int]]:
    """What a text names and says not to be there, each with from where to where it says so.

    Parameters
    ----------
    text : str
        Without accents.
    spans : iterable of (int, int)
        From where to where something is named.
    """
    spans, since, found = sorted(set(spans)), 0, {}
    for each in spans:
        if told := denial(text, *each, since):
            found[each], since = told, each[1]
    for first, told in list(found.items()):
        if begun := _BEFORE.fullmatch(text, told[0], first[0]):
            rest = spans[spans.index(first) :]
            for each in _list_of(text, rest, with_and=bool(begun["without"])):
                found[each] = (told[0], _TO_COMPOUND.match(text, each[1]).end())
        elif _AFTER.match(text, first[1]):
            for each in _list_up_to(text, spans[: spans.index(first) + 1]):
                found[each] = (each[0], told[1])
    return found


def _list_of(text: str, spans: list[tuple[int, int]], *, with_and: bool) -> list[tuple[int, int]]:
    """Those that stand in a list with the first; none where no "and" or "or" ends the list."""
    for at, (one, other) in enumerate(pairwise(spans), start=1):
        gap = text[_TO_COMPOUND.match(text, one[1]).end() : other[0]]
        if _ENDS_LIST[with_and].fullmatch(gap):
            return spans[1 : at + 1]
        if not _LISTED.fullmatch(gap):
            break
    return []


def _list_up_to(text: str, spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Those that stand in a list with the last, which is all there is before it in its clause."""
    pairs = [*pairwise(spans)]
    if not pairs or not _ALL_FREE.fullmatch(text, pairs[-1][0][1], pairs[-1][1][0]):
        return []
    for at in range(len(pairs) - 1, -1, -1):
        if _CLAUSE.search(text[: spans[at][0]]):
            return spans[at:-1]
        if at and not _LISTED.fullmatch(text, pairs[at - 1][0][1], pairs[at - 1][1][0]):
            break
    return []
