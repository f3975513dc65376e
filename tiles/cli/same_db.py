"""Commands that are told reach the database of the command that tells them.

Who types ``--db`` for one command, and copies the next one from the screen, means the same records.
"""

import os
import re
from collections.abc import Sequence

from tiles.cli.app import MODULES
from tiles.errors import shell_word
from tiles.settings import DB_VARIABLE, has_password

_WITHOUT = {"demo", "rules", "cone", "slip", "words", "clues"}
"""Commands that read no records, or others."""
_NAMES = "|".join(name for names in MODULES.values() for name in names if name not in _WITHOUT)
_TOLD = re.compile(
    r"(?:^|(?<=['\n])|(?<=[:?] )|(?<=then )|(?<=  ))"
    rf"tiles (?=(?:{_NAMES})\b)(?![^'\n]* --db\b)(?!\w+(?: \w+)? --help)"
)
"""At the start of a line, in quotes, or after what leads up to a command."""
_typed: list[str] = []
"""What stood after ``--db``; nothing where it was not typed."""


def remember(arguments: Sequence[str]) -> None:
    """Keep the ``--db`` of a command line, but not one that the variable says as well."""
    _typed.clear()
    words = iter(arguments)
    for word in words:
        name, sign, value = word.partition("=")
        if name == "--db":
            _typed[:] = [value] if sign else [next(words, "")]
    if _typed in ([""], [os.environ.get(DB_VARIABLE)]):
        _typed.clear()


def typed() -> str | None:
    """The database that was typed; None where the variable says it, or nothing."""
    return _typed[0] if _typed else None


def is_secret() -> bool:
    """Whether the database was typed with its password, so that no command names it."""
    return bool(_typed and has_password(_typed[0]))


def with_db(text: str) -> str:
    """A text with each command in it on the database that was typed."""
    if not _typed or is_secret():
        return text
    option = f"tiles --db {shell_word(_typed[0])} "
    return _TOLD.sub(lambda _found: option, text)
