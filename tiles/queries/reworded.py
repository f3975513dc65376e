"""Names that tell perhaps the same in other words: in another order, or shorter."""

import re
from collections.abc import Iterable

_WORDS = re.compile(r"[\W_]+")
NUMBERS = re.compile(r"\d+")
_ZEROS = re.compile(r"(?<!\d)0+(?=\d)")
_IDLE = frozenset("own our ours my the no nr".split())
"""Words that tell no clay or glaze from another."""
_ORDERED = frozenset("over under on".split())
"""Beside these the order of the words tells something: white over red."""


def words_in(name: str) -> tuple[str, ...]:
    """The words of a name, whatever stands between them."""
    return tuple(word for word in _WORDS.split(name.casefold()) if word)


def reworded(new: set[str], tiles: dict[str, int]) -> list[tuple[str, str]]:
    """Each new name with the commonest of the same words in any order, and with other zeros."""
    by_key: dict[tuple, list[str]] = {}
    for name in sorted(tiles, key=lambda each: (-tiles[each], each)):
        by_key.setdefault(_key(name), []).append(name)
    return [
        (name, commonest)
        for commonest, *others in by_key.values()
        for name in others
        if name in new or commonest in new
    ]


def _key(name: str) -> tuple:
    """The numbers of a name without zeros before them, and its words in the order of letters."""
    bare = _ZEROS.sub("", name)
    words = words_in(bare)
    if _ORDERED.isdisjoint(words):
        words = sorted(set(words) - _IDLE) or words
    return tuple(NUMBERS.findall(bare)), tuple(words)


def begun(new: set[str], tiles: dict[str, int]) -> list[tuple[str, str]]:
    """Each new name with the one that has its words and more, or that it goes on from."""
    by_words = {words_in(name): name for name in tiles}
    after: dict[str, list[str]] = {}
    for words, name in by_words.items():
        for end in range(1, len(words)):
            if short := by_words.get(words[:end]):
                after.setdefault(short, []).append(name)
    pairs = []
    for short, names in after.items():
        name, like = sorted((short, names[0]), key=lambda each: (each not in new, tiles[each]))
        is_series = NUMBERS.findall(name) != NUMBERS.findall(like)
        if len(names) == 1 and name in new and not is_series:
            pairs.append((name, like))
    return sorted(pairs)


def within(just_added: set[str], tiles: dict[str, int]) -> list[tuple[str, str]]:
    """Each name just added whose words one other name has, and more: "clear" beside "bag clear"."""
    having: dict[str, set[str]] = {}
    for name in tiles:
        for word in words_in(name):
            having.setdefault(word, set()).add(name)
    pairs = []
    for name in sorted(just_added):
        longer = {*tiles}.intersection(*(having[word] for word in words_in(name))) - {name}
        is_series = any(NUMBERS.findall(each) != NUMBERS.findall(name) for each in longer)
        if words_in(name) and len(longer) == 1 and not is_series:
            pairs.append((name, *longer))
    return pairs


def same_words(name: str, known: Iterable[str]) -> str | None:
    """The known name of the same words in another order, or with other zeros.

    Examples
    --------
    >>> same_words("green pond", ["sky blue", "pond green"]), same_words("pond", ["pond green"])
    ('pond green', None)
    """
    return next((each for each in known if _key(each) == _key(name)), None)
