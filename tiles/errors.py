"""Every error raised on purpose.

::

    TilesError
    ├── InvalidValue        a value that cannot be right (also a ValueError)
    │   └── UnknownCone     text that is not a pyrometric cone
    ├── UnknownName         a body, glaze, material ... not on record (also a LookupError)
    ├── AlreadyOnRecord     a mark or name that is taken
    ├── Questioned          possible, but so unlikely that a person must confirm it
    ├── OutOfRange          outside what a published table or a fit covers (also a ValueError)
    └── DatabaseProblem     the database cannot be opened, is newer, or is locked
        └── NoRecordsYet    there is none at this place, or an empty one

An error carries one plain sentence and, as ``hint``, the one thing to try. Only ``tiles.cli`` turns
it into text on the screen.
"""

import difflib
import os
import re
from collections.abc import Iterable
from dataclasses import dataclass


class TilesError(Exception):
    """Something a user can put right.

    Parameters
    ----------
    message : str
        What is wrong, with the value given and where it stands.
    hint : str, optional
        What to do about it: one command, option or value.
    field, value, row : optional
        Where it stands, for machine-readable output.
    """

    code = "error"

    def __init__(self, message: str, hint: str = "", *, field=None, value=None, row=None):
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.field = field
        self.value = value
        self.row = row

    def __str__(self) -> str:
        return f"{self.message} Try: {self.hint}" if self.hint else self.message


class InvalidValue(TilesError, ValueError):
    """A value that cannot be right."""

    code = "invalid_value"


class UnknownCone(InvalidValue):
    """Text that does not name a pyrometric cone."""

    code = "unknown_cone"


class UnknownName(TilesError, LookupError):
    """A name that is not on record or not in a table."""

    code = "unknown_name"


class AlreadyOnRecord(TilesError):
    """A mark or name that is already taken."""

    code = "already_on_record"


@dataclass(frozen=True)
class OtherZero:
    """A cone as it stands, and with the 0 that it lacks or has too many."""

    what: str
    cone: str
    meant: str


class Questioned(TilesError):
    """Possible, but so unlikely that a person must confirm it first.

    ``zeros``: the cones that, written otherwise, would raise no question at all.
    """

    code = "questioned"
    zeros: tuple[OtherZero, ...] = ()

    @property
    def way_out(self) -> str:
        """What to try after a no: the hint without what a yes is for."""
        return re.split(r"[,;]?( or)? --yes|^--yes", self.hint)[0]


class OutOfRange(TilesError, ValueError):
    """Asked for outside what a published table or a fit covers."""

    code = "out_of_range"


class DatabaseProblem(TilesError):
    """The database cannot be opened or used."""

    code = "database_problem"


class NoRecordsYet(DatabaseProblem):
    """There is no database at a place that is only read, or one without any table."""


def nearest(name: str, known: Iterable[str], cutoff: float = 0.6) -> str | None:
    """The known name most like ``name``, or None when nothing is close.

    ``cutoff`` is how like it must be: 0 anything, 1 the same.
    """
    by_folded = {each.casefold(): each for each in known}
    found = difflib.get_close_matches(name.casefold(), list(by_folded), n=1, cutoff=cutoff)
    return by_folded[found[0]] if found else None


def meant_by(name: str, known: Iterable[str]) -> str | None:
    """The one known name that begins with ``name`` or has it as a word, else the nearest.

    Examples
    --------
    >>> meant_by("oat", ["oat stoneware", "brick red"]), meant_by("red", ["oat", "brick red"])
    ('oat stoneware', 'brick red')
    """
    names, part = list(known), name.casefold()
    longer = [
        each for each in names
        if each.casefold().startswith(part) or part in each.casefold().split()
    ]  # fmt: skip
    return longer[0] if part and len(longer) == 1 else nearest(name, names)


_OPTION = re.compile(r"--([a-z].*)?|-[a-zA-Z]", re.DOTALL)
_PLAIN = re.compile(r"[\w@%+:,./-][\w@%+=:,./-]*")
_WITHIN_QUOTES = frozenset('"$`\\!')
"""What a shell reads otherwise even there."""
_PLAIN_ON_WINDOWS = re.compile(r"[\w%+=:./\\-][\w@%+=:./\\-]*")
"""A comma makes a list in PowerShell, and an @ at the beginning spreads one."""
_WITHIN_QUOTES_ON_WINDOWS = frozenset("$`\u201c\u201d\u201e")
IS_WINDOWS = os.name == "nt"
"""Whether commands are typed in PowerShell or the command prompt; nobody can tell in which."""


def shell_word(text: str) -> str:
    """A name as it must be typed in a shell: in double quotes where they will do.

    Hints stand in single quotes, so that these can stand within them. A dash at its beginning would
    make it an option; with a blank before it, which no name keeps, it is none.

    Examples
    --------
    >>> shell_word("M-41"), shell_word("röt"), shell_word("Y 2"), shell_word("Y $2")
    ('M-41', 'röt', '"Y 2"', "'Y $2'")
    >>> shell_word("-2")
    '" -2"'
    """
    return _quoted(f" {text}" if text.startswith("-") else text)


def _quoted(text: str) -> str:
    if IS_WINDOWS:
        return _quoted_on_windows(text)
    import shlex

    if _PLAIN.fullmatch(text):
        return text
    return shlex.quote(text) if set(text) & _WITHIN_QUOTES else f'"{text}"'


def _quoted_on_windows(text: str) -> str:
    """For PowerShell and the command prompt alike, which both know double quotes.

    Only what PowerShell would read even there stands in single ones, which it alone knows.
    """
    if _PLAIN_ON_WINDOWS.fullmatch(text):
        return text
    if set(text) & _WITHIN_QUOTES_ON_WINDOWS:
        return _in_single_quotes(text)
    # A backslash before a quote would be no path's, but the quote's.
    return '"' + re.sub(r'(\\*)("|\Z)', r"\1\1\2\2", text) + '"'


def _in_single_quotes(text: str) -> str:
    """As PowerShell reads them, to which the curly ones are the same."""
    return "'" + re.sub("['\u2018\u2019]", r"\g<0>\g<0>", text) + "'"


def shell_line(words: Iterable[str]) -> str:
    """A command as it must be typed in a shell, each word as `shell_word` has it.

    Options stand as they are, and what follows one is its value, dash or not.

    Examples
    --------
    >>> shell_line(["tiles", "change", "-2", "--note", "-", "--yes"])
    'tiles change " -2" --note - --yes'
    """
    typed, before = [], ""
    for word in words:
        is_told = _OPTION.fullmatch(word) or before.startswith("--")
        if IS_WINDOWS and not word and is_told:  # older PowerShells leave an empty word out
            typed[-1] += "="
        else:
            typed.append(_quoted(word) if is_told else shell_word(word))
        before = word
    return " ".join(typed)


def shell_setting(name: str, value: str) -> str:
    """What sets a variable in a shell; on Windows a line for each of its two.

    Examples
    --------
    >>> shell_setting("TILES_DB", "/home/ann/my tiles.db")
    'export TILES_DB="/home/ann/my tiles.db"'
    """
    if not IS_WINDOWS:
        return f"export {name}={shell_word(value)}"
    return (
        f"in PowerShell:          $env:{name} = {_in_single_quotes(value)}\n"
        f'in the command prompt:  set "{name}={value}"'
    )
