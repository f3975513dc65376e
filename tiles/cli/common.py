"""What every command shares: options, the open database, asking a person."""

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer

from tiles.errors import DatabaseProblem, InvalidValue, Questioned, TilesError

Db = Annotated[
    str | None,
    typer.Option(
        "--db",
        envvar="TILES_DB",
        show_envvar=False,
        help="The database: a file path or a URL. Default: TILES_DB, else your data folder.",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print CSV.")]
Limit = Annotated[int | None, typer.Option("--limit", min=1, help="At most so many rows.")]
Yes = Annotated[bool, typer.Option("--yes", "-y", help="Do not ask; it really is so.")]


def subject(app: typer.Typer, name: str, what: str) -> typer.Typer:
    """Add a subject that has commands of its own, such as ``tiles glaze``; they go into it."""
    sub = typer.Typer(rich_markup_mode=None, no_args_is_help=True, help=what)
    app.add_typer(sub, name=name)
    return sub


def number(text: str, unit: str = ""):
    """An option that takes a number: with a point, or a comma that can only be a decimal one.

    ``unit`` may stand behind it: one of `tiles.records.number_text`.
    """

    def read(typed: str | float) -> float:
        from tiles.cli.amounts import read_number

        try:
            return read_number(str(typed), "a number", "such as 7.5", unit)
        except InvalidValue as error:
            raise _no_plain_number(str(typed), error.hint) from error

    return typer.Option(parser=read, help=text)


def number_or_blank(text: str, unit: str):
    """The same where an empty text clears the field; what it is, the form of the record checks."""

    def read(typed: str) -> str:
        from tiles.records.number_text import two_readings, without_unit

        plain = without_unit(typed, unit)
        if "," in plain and (either := two_readings(plain)):
            raise _no_plain_number(typed, either)
        return plain

    return typer.Option(parser=read, help=text)


def day(text: str):
    """An option that takes a day; one that is not year-month-day is read where it can be, and told.

    An empty text, or what is no day, goes on to the form of the record.
    """

    def read(typed: str) -> str:
        return iso_day(typed) or typed

    return typer.Option(parser=read, help=text)


def iso_day(typed: str) -> str | None:
    """The day of "05.11.2026" or "5 Nov 2026" as year-month-day, told; None for any other text."""
    from tiles.records.day_text import spoken_day, told_day

    found = told_day(typed)
    if found:
        talk(f"{typed.strip()} is read as {spoken_day(found)}.")
    return found and str(found)


def _no_plain_number(typed: str, hint: str) -> typer.BadParameter:
    return typer.BadParameter(f"{typed!r} is not a plain number ({hint.rstrip('.')}).")


def fields(names: Iterable[str], options: Mapping) -> dict:
    """The options of a command that are fields of its record, which calls them the same."""
    return {name: options[name] for name in names}


def _print_version(wanted: bool) -> None:
    if wanted:
        from tiles import __version__

        print(__version__)
        raise typer.Exit


def version_option(
    version: Annotated[
        bool,
        typer.Option(
            "--version", is_eager=True, callback=_print_version, help="Print the version."
        ),
    ] = False,
    db: Db = None,
    debug: Annotated[
        bool, typer.Option("--debug", hidden=True, help="Show where an error comes from.")
    ] = False,
) -> None:
    """Options that stand before the command."""
    if db:
        os.environ["TILES_DB"] = db


def open_db(db: str | None, *, create: bool = False):
    """The chosen database, open."""
    from tiles.records.database import open_database
    from tiles.settings import database_url

    return open_database(database_url(db), create=create, waiting=_tell_waiting)


def _tell_waiting() -> None:
    talk("Somebody else is storing to the same database (a long import, perhaps): waiting.")


@contextmanager
def writing(db: str | None, *, create: bool = True) -> Iterator:
    """One transaction on the chosen database, made if it is not there."""
    with open_db(db, create=create).transaction() as session:
        yield session


@contextmanager
def importing(db: str | None) -> Iterator:
    """As `writing`; a file that is not there yet is put there once all is stored, and not else."""
    from tiles.records.database import open_database
    from tiles.settings import database_url, sqlite_file

    file = sqlite_file(database_url(db))
    if file is None or file.exists():
        with writing(db) as session:
            yield session
        return
    made = file.with_name(f"{file.name}.new-{os.getpid()}")
    try:
        with open_database(f"sqlite:///{made}", create=True).transaction() as session:
            yield session
        _put_in_place(made, file)
    finally:
        made.unlink(missing_ok=True)


def _put_in_place(made: Path, file: Path) -> None:
    """Never over a file that another command has made meanwhile."""
    try:
        os.link(made, file)
    except FileExistsError as error:
        raise DatabaseProblem(
            f"{file} was just made by another command.", "the import once more."
        ) from error
    except OSError:  # not every disk knows links
        made.rename(file)


@contextmanager
def reading(db: str | None) -> Iterator:
    """One transaction for looking only: nothing can be written in it, and nobody waits for it."""
    with open_db(db).transaction(looking=True) as session:
        yield session


@contextmanager
def looking_up(db: str | None) -> Iterator:
    """As `reading`; a database that is not there yet is made: a tile is about to be stored."""
    with open_db(db, create=True).transaction(looking=True) as session:
        yield session


def is_interactive() -> bool:
    """Whether a person is at the keyboard."""
    if os.name == "nt":  # where NUL, from which nobody answers, calls itself a terminal as well
        raw = getattr(getattr(sys.stdin, "buffer", None), "raw", None)
        return type(raw).__name__ == "_WindowsConsoleIO"
    return sys.stdin.isatty()


def is_screen() -> bool:
    """Whether what is printed is read by a person and not by a file or another command."""
    return sys.stdout.isatty()


class Declined(typer.Abort):
    """A person said no: it was not really so, and nothing was stored."""


class AskAgain(TilesError):
    """What was typed is not meant: it is asked for once more, without a further word."""

    def __init__(self):
        super().__init__("")


def require_yes(question: str) -> None:
    """Have an answer that is being checked typed once more, unless a person says yes.

    Raises
    ------
    AskAgain
        The person said no.
    """
    if not yes_or_no(question):
        raise AskAgain


def confirmed(write, *, yes: bool):
    """Run ``write(confirmed)``; when it is questioned, ask the person and run it again.

    Parameters
    ----------
    write : callable
        Takes one bool. Opens its own transaction, so that a refused try leaves nothing.
    yes : bool
        The person has said so beforehand.

    Raises
    ------
    Declined
        The person said no.
    """
    try:
        return write(yes)
    except Questioned as question:
        if not is_interactive():
            raise
        talk(question.message)
        if not yes_or_no("Is that really so?"):
            raise Declined from question
        return write(True)


def ask_to_plan(what: str, *, yes: bool) -> None:
    """Ask a person at the keyboard whether planned tiles are to be put on record."""
    asks = not yes and is_interactive()
    if asks and not yes_or_no(f"Put {what} on record?", default=True):
        raise typer.Abort


def yes_or_no(
    question: str,
    *,
    default: bool = False,
    what_else: str = "",
    read: Callable[[str], str] | None = None,
) -> bool | str:
    """Ask a person at the keyboard: y, n or Enter for the default.

    Anything else is read as an answer of another kind, where there is one, or asked about again
    after a line that says what to type.

    Parameters
    ----------
    what_else : str
        What ``read`` takes beside y and n, in a few words.
    read : callable, optional
        Gives such an answer; its TilesError is shown.
    """
    keys = ("Y/n" if default else "y/N") + (f" or {what_else}" if what_else else "")
    while True:
        try:
            typed = typer.prompt(f"{question} [{keys}]", default="", show_default=False, err=True)
        except typer.Abort:
            talk()
            raise
        typed = typed.strip()
        if typed.casefold() in ("y", "yes", "n", "no", ""):
            return typed.casefold().startswith("y") if typed else default
        try:
            if read:
                return read(typed)
            talk(f"{typed!r} is neither y nor n: type y for yes or n for no.")
        except TilesError as error:
            talk(str(error))


def talk(line: str = "") -> None:
    """Something said to the person; data alone goes to standard output."""
    from tiles.cli.prose import between_words
    from tiles.cli.same_db import with_db

    line = with_db(line)
    lines = [line]
    if sys.stderr.isatty():
        lines = [part for each in line.split("\n") for part in between_words(each)]
    print("\n".join(lines), file=sys.stderr)


def cone_range(text: str | None) -> dict[str, str]:
    """``--cones 06-04`` as the two ends; one cone alone stands for both.

    Labels print ``05/06`` as well: with that stroke the order of the two tells nothing, and
    ``05/6`` may be short for it.

    Raises
    ------
    InvalidValue
        Not one or two cones, or not clear which.
    """
    if text is None:
        return {}
    import re

    from tiles.chemistry.cones import read_cone, refuse_temperatures, step

    ends = re.split(r"\s*(?:-|–|/|\bto\b|\.\.)\s*", text.strip())
    if len(ends) not in (1, 2) or not all(ends):
        raise InvalidValue(f"{text!r} is not a cone range.", "06-04, or one cone such as 05.")
    if len(ends) == 2:
        refuse_temperatures(*ends)
    cones = [read_cone(each) for each in ends]
    if "/" in text:
        cones.sort(key=step)
        if cones[0].startswith("0") != cones[-1].startswith("0"):
            raise InvalidValue(
                f"{text!r} may be two low-fire cones, or one of them and a hotter one.",
                f"each with its zero, or {cones[0]}-{cones[-1]} if it reaches into mid fire.",
            )
    return {"cone_low": cones[0], "cone_high": cones[-1]}
