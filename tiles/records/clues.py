"""The controlled list of clues: yes / no facts that diagnosis needs and no other field holds.

The list itself is ``data/clues.toml``; add a clue there and it can be logged, asked and used by
the rule base. A clue that was not recorded is absent, never "no".
"""

from dataclasses import dataclass
from functools import cache

from tiles.errors import InvalidValue, UnknownName, nearest
from tiles.records.words import ANSWERS, read_word


@dataclass(frozen=True)
class Clue:
    """One yes / no fact.

    ``about`` says what it is true of: ``"tile"`` (the whole tile and how it was handled) or
    ``"area"`` (may differ between the areas of one tile). ``group`` is the stage of work it
    belongs to: bisque, application, glaze, body, firing, look (what the fault looks like), use.
    """

    name: str
    question: str
    about: str
    group: str


@cache
def clues() -> dict[str, Clue]:
    """All clues by name, in the order of the file."""
    import tomllib
    from importlib.resources import files

    text = files("tiles.records").joinpath("data/clues.toml").read_text(encoding="utf-8")
    return {name: Clue(name=name, **entry) for name, entry in tomllib.loads(text).items()}


def read_clue(name: str, answer: str) -> tuple[str, str]:
    """The canonical clue name and ``"yes"`` or ``"no"``.

    Raises
    ------
    UnknownName
        No such clue; the nearest is named, or one that holds the word.
    InvalidValue
        The answer is neither yes nor no. "Don't know" is recorded by leaving the clue out.
    """
    canonical = name.strip().casefold().replace("-", "_").replace(" ", "_")
    if canonical not in clues():
        holding = (each for each in clues() if canonical and canonical in each)
        close = nearest(canonical, clues()) or next(holding, None)
        hint = f"{close!r}, or 'tiles clues' for the list." if close else "'tiles clues'."
        raise UnknownName(f"{name!r} is not a known clue.", hint, field="clue", value=name)
    try:
        return canonical, read_word(answer, ANSWERS, "answer")
    except InvalidValue as error:
        raise InvalidValue(
            f"clue {canonical} is {answer!r}, which is neither yes nor no.",
            "yes, no, or leave it out when you do not know.",
            field=canonical,
            value=answer,
        ) from error
