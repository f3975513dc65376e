"""``split``: one body, glaze or kiln that was two under one name, parted by a day or by marks."""

from typing import Annotated

import typer

from tiles.cli import common, stretch
from tiles.cli.marks import expand, runs
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, Questioned, shell_line


def add_to(sub: typer.Typer, table: str) -> None:
    """Add the command."""
    what, of = _WORDS[table]

    def split(
        name: str,
        to: Annotated[str, typer.Option(help="The new name.")],
        wanted: Annotated[
            list[str] | None,
            typer.Argument(metavar=what.upper(), help=f"Only these of its {what}."),
        ] = None,
        since: Annotated[str | None, typer.Option(help=f"{of} on this day or later.")] = None,
        until: Annotated[str | None, typer.Option(help=f"{of} on this day or before.")] = None,
        yes: common.Yes = False,
        db: common.Db = None,
    ) -> None:
        how = {"since": since, "until": until, "wanted": wanted or [], "yes": yes, "db": db}
        _split(table, name, to, **how)

    split.__doc__ = (
        f"Give its {what} of a time, or those named, a new name: it was two things under one.\n\n"
        f"{of} since a day, a month or a year. The new one is described alike, but for its remark."
    )
    sub.command("split")(split)


_WORDS = {
    "ClayBody": ("tiles", "Made (where that is unknown: fired, looked at, glazed)"),
    "Glaze": ("tiles", "Glazed (where that is unknown: fired, looked at, made)"),
    "Kiln": ("firings", "Fired"),
}
"""What it has, and which day of these counts."""


def _split(
    table: str,
    name: str,
    to: str,
    *,
    since: str | None,
    until: str | None,
    wanted: list[str],
    yes: bool,
    db: str | None,
) -> None:
    from tiles.records import models, store, words
    from tiles.records.mark_looks import natural_key
    from tiles.records.spoken import some
    from tiles.records.store.belongings import command

    what = _WORDS[table][0]
    words.refuse_no_name(to, "new name")
    model, time = getattr(models, table), stretch.read(since, until)

    def write(confirmed: bool) -> tuple:
        with common.writing(db, create=False) as session:
            store.find(session, model, name)  # first: without its quotes it reads as marks, too
            if bool(wanted) is bool(since or until):
                raise InvalidValue(
                    f"which of its {what} is {'said twice' if wanted else 'missing'}.",
                    "--since 2024-03 (or --until), or some of them by name.",
                )
            chosen, undated = expand(wanted), ""
            if not wanted:
                chosen, undated = _of_time(session, model, name, what, **time)
            try:
                return store.split(session, model, name, to, chosen, confirmed=confirmed), undated
            except Questioned as question:
                question.message += undated
                raise

    done, undated = common.confirmed(write, yes=yes)
    moved, left = (runs(sorted(each, key=natural_key)) for each in (done.moved, done.left))
    parted, are = counted(len(done.moved), what.removesuffix("s")), _are(done.moved)
    print(f"{parted} of {done.name} {are} now of {done.to}: {some(moved)}.")
    common.talk(
        f"{len(done.left)} {_are(done.left)} still of {done.name}: {some(left) or 'none'}.{undated}"
    )
    back = shell_line([*command(model).split(), "merge", done.to, done.name])
    common.talk(f"To make them one again: {back}")


def _are(several: list) -> str:
    return "is" if len(several) == 1 else "are"


def _of_time(session, model, name: str, what: str, since, until) -> tuple[list[str], str]:
    """The tiles or firings of a time, and in words those of no day; not none, and not all."""
    from tiles.queries.days import days_of
    from tiles.records.spoken import some
    from tiles.records.store.belongings import command

    days = days_of(session, model, name)
    chosen = [
        each
        for each, on in days.items()
        if on and (since is None or since <= on) and (until is None or on <= until)
    ]
    bare = [each for each, on in days.items() if on is None]
    undated = f" Of {len(bare)} that stay no day is on record: {some(bare)}." if bare else ""
    if not chosen:
        raise InvalidValue(
            f"none of the {counted(len(days), what.removesuffix('s'))} of {name!r} is of that "
            f"time.{undated}",
            "another day, or some of them by name.",
        )
    if len(chosen) == len(days):
        raise InvalidValue(
            f"all {what} of {name!r} are of that time, so there is nothing to part.",
            f"another day, or '{command(model)} rename'.",
        )
    return chosen, undated
