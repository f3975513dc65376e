"""What a body, glaze, kiln or firing was called before, so that nobody adds it a second time."""

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import Questioned, shell_word
from tiles.records import models
from tiles.records.words import same_name


def remember(session: Session, noun: str, name: str, called: str) -> None:
    """Note that what was called ``name`` is called otherwise from today on."""
    for each in session.scalars(_of(noun)):
        if same_name(each.called, name):
            each.called = called
        if same_name(each.name, name) or same_name(each.name, called):
            session.delete(each)  # it is the name of something again, or told anew below
    if not same_name(name, called):
        new = models.FormerName(noun=noun, name=name, called=called, since=date.today())
        session.add(new)
    session.flush()


def forget(session: Session, noun: str, name: str) -> None:
    """Nothing is called ``name`` any more, so nothing has another name instead."""
    for each in session.scalars(_of(noun)):
        if same_name(each.called, name):
            session.delete(each)


def called_now(session: Session, noun: str, name: str) -> models.FormerName | None:
    """How that is called now which once had this name; the newest where several had."""
    newest = _of(noun).order_by(models.FormerName.former_name_id.desc())
    return next((each for each in session.scalars(newest) if same_name(each.name, name)), None)


def spoken(former: models.FormerName) -> str:
    """In words: glaze 'sky' has been called 'sky blue' since 2026-11-30."""
    return f"{former.noun} {former.name!r} has been called {former.called!r} since {former.since}."


def ask_if_renamed(session: Session, noun: str, name: str) -> None:
    """Ask about a new name that something on record had before.

    Raises
    ------
    Questioned
        With the name that it has now.
    """
    former = called_now(session, noun, name)
    if former:
        raise Questioned(
            f"The {spoken(former)}",
            f"{shell_word(former.called)}, or --yes if {name!r} is another one.",
            field=noun,
            value=name,
        )


def _of(noun: str):
    return select(models.FormerName).where(models.FormerName.noun == noun)
