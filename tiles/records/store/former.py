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
        is_told_anew = same_name(each.name, name) and same_name(each.called, called)
        if is_told_anew or same_name(each.name, called):  # then the name of something again
            session.delete(each)
    if not same_name(name, called):
        new = models.FormerName(noun=noun, name=name, called=called, since=date.today())
        session.add(new)
    session.flush()


def forget(session: Session, noun: str, name: str) -> None:
    """Nothing is called ``name`` any more, so nothing has another name instead."""
    for each in session.scalars(_of(noun)):
        if same_name(each.called, name):
            session.delete(each)


def take_back(session: Session, noun: str, name: str, called: str) -> None:
    """What was called ``name`` until it was made one with ``called`` bears that name again."""
    for each in called_now(session, noun, name):
        if same_name(each.called, called):
            session.delete(each)
    session.flush()


def called_now(session: Session, noun: str, name: str) -> list[models.FormerName]:
    """How that is called now which once had this name; of several the newest first."""
    when = models.FormerName.since.desc(), models.FormerName.former_name_id.desc()
    newest = _of(noun).order_by(*when)
    return [each for each in session.scalars(newest) if same_name(each.name, name)]


def spoken(found: list[models.FormerName]) -> str:
    """In words: glaze 'sky' has been called 'sky blue' since 2026-11-30."""
    newest, *older = found
    told = f"{newest.noun} {newest.name!r} has been called {newest.called!r} since {newest.since}"
    return (
        "; ".join([told, *(f"another of that name {x.called!r} since {x.since}" for x in older)])
        + "."
    )


def names_now(found: list[models.FormerName]) -> str:
    """The names to type now: "sky blue" or fern."""
    return " or ".join(shell_word(each.called) for each in found)


def ask_if_renamed(session: Session, noun: str, name: str) -> None:
    """Ask about a new name that something on record had before.

    Raises
    ------
    Questioned
        With the name that it has now.
    """
    found = called_now(session, noun, name)
    if found:
        raise Questioned(
            f"The {spoken(found)}",
            f"{names_now(found)}, or --yes if {name!r} is another one.",
            field=noun,
            value=name,
        )


def of_noun(session: Session, noun: str) -> list[models.FormerName]:
    """Every former name of a kind of thing, the oldest first."""
    return list(session.scalars(_of(noun).order_by(models.FormerName.former_name_id)))


def _of(noun: str):
    return select(models.FormerName).where(models.FormerName.noun == noun)
