"""A name that reads as several layers, or as a glaze and its coats: "clear over leaf blue x3"."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from tiles.errors import InvalidValue, Questioned, shell_word
from tiles.records.words import name_key

_UPPER_FIRST = re.compile(r"\s+(?:over|o/|on top of|on|atop|above)\s+", re.IGNORECASE)
_LOWER_FIRST = re.compile(r"\s+(?:under|underneath|beneath|below|then)\s+|\s*->\s*", re.IGNORECASE)
_BESIDE = re.compile(r"\s+[+/]\s+")
_PERHAPS = re.compile(r"\s+(?:and|with|w/)\s+|\s*[+/,&;]\s*", re.IGNORECASE)
"""Signs that many a name of one glaze has too: what stands between them must be a glaze itself."""
_COATS_BEHIND = re.compile(
    r"(?P<name>.*[^\W_].*?)[\s,]*[\s(,](?:[x×]\s*(?P<one>\d{1,2})|"
    r"(?P<two>\d{1,2})\s*(?:[x×]|coats?))\)?",
    re.IGNORECASE,
)
_COATS_TYPED = re.compile(r"(?P<name>[^=]*[^\W_][^=]*?)\s*=\s*(?P<one>\d{1,2})\s*x?", re.IGNORECASE)
"""As 'tiles log' takes them: "clear=2"."""
_COATS_AHEAD = re.compile(
    r"(?P<one>\d{1,2})\s*(?:[x×]|coats?(?: of)?)\s+(?P<name>.*[^\W_].*)", re.IGNORECASE
)
_ADDITION = re.compile(r"\s*\d+(?:[.,]\d+)?\s*(?:%|\s[^\W\d_])")
"""What is added to a recipe, as in "clear + 5% tin oxide", is no layer."""
_SHARE = re.compile(r".*[^\W\d_].*?\s(?P<share>\d{1,2}(?:[.,]\d+)?)\s*%?")
"""A part of a blend: "leaf base 75"."""
_REMARK = re.compile(
    r"(?:batch|jar|bucket|mix|no|nr|number|version|cone|test|new|old|light|dark|very)\b",
    re.IGNORECASE,
)
"""Behind a comma it tells more of one glaze: "blue, batch 2"."""


@dataclass(frozen=True)
class Layered:
    """What a name reads as: each layer and its coats, the uppermost first where that is told."""

    layers: tuple[tuple[str, int | None], ...]
    is_ordered: bool = True


def layers_in(name: str, known: Collection[str] | None = ()) -> Layered | None:
    """The layers that a name reads as; None where it may well be the name of one glaze.

    Parameters
    ----------
    name : str
        As it stands where the name of one glaze should.
    known : collection of str, optional
        Names of glazes, as `name_key` has them; None for any that there may be.

    Examples
    --------
    >>> layers_in("matt over leaf blue x3").layers, layers_in("leaf under clear").layers
    ((('matt', None), ('leaf blue', 3)), (('clear', None), ('leaf', None)))
    >>> layers_in("clear x2").layers, layers_in("clear + 5% tin"), layers_in("salt and pepper")
    ((('clear', 2),), None, None)
    """
    for sign, is_turned in ((_UPPER_FIRST, False), (_LOWER_FIRST, True)):
        parts = _parts(sign, name)
        if len(parts) > 1:
            layers = tuple(map(_with_coats, parts[::-1] if is_turned else parts))
            return Layered(layers, is_ordered=not any(layers_in(part) for part, _ in layers))
    for sign in (_BESIDE, _PERHAPS):
        parts = _parts(sign, name)
        layers = tuple(map(_with_coats, reversed(parts)))  # written from the clay up, most often
        if len(parts) < 2 or any(map(_ADDITION.match, parts)) or _is_blend(parts):
            continue
        if sign is _PERHAPS and any(map(_REMARK.match, parts[1:])):
            continue
        names = [each for each, _coats in layers]
        is_there = known is None or any(name_key(each) in known for each in names)
        if sign is _BESIDE or is_there or all(len(each.split()) > 1 for each in names):
            return Layered(layers, is_ordered=False)
    alone, coats = _with_coats(name)
    return Layered(((alone, coats),)) if coats else None


def are_layers(name: str) -> bool:
    """Whether 'tiles log' takes a name for two layers: a + stands between them.

    Not in the mix of a blend, nor in a recipe and what is added to it ("clear + 5% tin oxide").
    """
    found = layers_in(name) if " + " in name else None
    return found is not None and len(found.layers) > 1


def refuse_layers(name: str) -> None:
    """Refuse a new name that 'tiles log' would read as layers, or as a glaze and its coats.

    Raises
    ------
    InvalidValue
        With the same name otherwise.
    """
    if typed := coats_typed(name):
        raise InvalidValue(
            f"a glaze cannot be called {name!r}: ={typed[1]} are the coats of a layer.",
            f"{shell_word(typed[0])}; its coats belong to a tile.",
            field="name",
            value=name,
        )
    if are_layers(name):
        raise InvalidValue(
            f"a glaze cannot be called {name!r}: a + stands between two layers of a tile.",
            f"{shell_word(name.replace(' + ', '-'))}, or another name; where it is two glazes, one "
            "over the other, add each under its own name.",
            field="name",
            value=name,
        )


def ask_if_one(name: str, known: Collection[str]) -> None:
    """Ask about the name of a new glaze that reads as layers, or holds its coats.

    ``known`` are the names of glazes that there are, as in `layers_in`.

    Raises
    ------
    Questioned
        With each layer as it is typed, from the clay up.
    """
    if said := question_of(name, known):
        raise Questioned(
            said,
            "each layer by itself, from the clay up, or --yes if it is the name of one glaze.",
            field="glaze",
            value=name,
        )


def question_of(
    name: str, known: Collection[str] | None = None, *, has_recipe: bool = False
) -> str:
    """What is asked of the name of a new glaze; "" where it reads as one, or is a mix of a recipe.

    Examples
    --------
    >>> question_of("red + blue"), question_of("red + blue", has_recipe=True)
    ("glaze 'red + blue' reads as 2 layers: red + blue.", '')
    >>> question_of("red/blue", {"red"}), question_of("red/blue", {"moss"})
    ("glaze 'red/blue' reads as 2 layers: red + blue.", '')
    """
    found = layers_in(name, known)
    if found is None or has_recipe and is_plain(found):
        return ""
    said = [f"{each}={coats}" if coats else each for each, coats in reversed(found.layers)]
    what = "a glaze and its coats" if len(said) == 1 else f"{len(said)} layers"
    order = "from the clay up " if len(said) > 1 and found.is_ordered else ""
    return f"glaze {name!r} reads as {what}: {order}{' + '.join(said)}."


def is_plain(found: Layered) -> bool:
    """Whether neither an order nor coats are told: with one recipe for all it is one glaze."""
    return not found.is_ordered and not any(coats for _name, coats in found.layers)


def coats_typed(text: str) -> tuple[str, int] | None:
    """A glaze and its coats as 'tiles log' takes them, "clear=2"; None of any other text."""
    told = _COATS_TYPED.fullmatch(text.strip())
    return (told["name"].strip(), int(told["one"])) if told else None


def _parts(sign: re.Pattern, name: str) -> list[str]:
    """What stands between the signs; nothing where one of them has no word on one side."""
    parts = [part.strip() for part in sign.split(name)]
    return parts if all(re.search(r"[^\W\d_]", part) for part in parts) else []


def _is_blend(parts: list[str]) -> bool:
    """Whether each part ends in its share of a hundred, as the mixes of a blend are named."""
    told = [_SHARE.fullmatch(part) for part in parts]
    if not all(told):
        return False
    return abs(sum(float(each["share"].replace(",", ".")) for each in told) - 100) < 1


def _with_coats(part: str) -> tuple[str, int | None]:
    if typed := coats_typed(part):
        return typed
    told = _COATS_BEHIND.fullmatch(part.strip()) or _COATS_AHEAD.fullmatch(part.strip())
    if not told:
        return part.strip(), None
    found = told.groupdict()
    return found["name"].strip(), int(found["one"] or found["two"])
