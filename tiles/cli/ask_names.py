"""The names that ``tiles log`` asks for: as they are on record, or added as new."""

import re
from datetime import date

from tiles.cli import common
from tiles.cli.ask import BACK, CLEAR, GoBack, LeaveOut, ask_or_back
from tiles.errors import InvalidValue, Questioned, TilesError, meant_by

_SAID = {"ClayBody": "body", "Glaze": "glaze"}


def names(db: str | None, model, *which) -> list[str]:
    """The names on record of what is in use; ``which`` are further conditions."""
    from sqlalchemy import select

    from tiles.records.mark_looks import natural_key

    with common.looking_up(db) as session:
        wanted = select(model.name).where(*which)
        if hasattr(model, "is_retired"):
            wanted = wanted.where(model.is_retired.is_(False))
        return sorted(session.scalars(wanted), key=natural_key)


def known_or_new(
    db: str | None, model, name: str, new: dict[tuple, dict], before: dict[tuple, dict]
) -> str:
    """The name as it is on record; one that the person says is new is described in ``new``.

    One that was described ``before``, and was doubted, is described anew: each answer is offered.
    """
    if key(model, name) in new:
        return new[key(model, name)]["name"]
    was = before.get(key(model, name))
    known = None if was else _known_or_yes(db, model, name)
    if known is not None:
        return known
    try:
        described = _describe(db, model, was["name"] if was else name, was or {})
    except GoBack:  # to the question for the name itself
        raise common.AskAgain from None
    new[key(model, name)] = described
    return described["name"]


def _known_or_yes(db: str | None, model, name: str) -> str | None:
    """The name as it is on record; None where a person says that it is new."""
    try:
        return _known_or_asked(db, model, name)
    except GoBack:
        raise common.AskAgain from None


def _known_or_asked(db: str | None, model, name: str) -> str | None:
    from tiles.queries.reworded import same_words
    from tiles.records.words import refuse_dash, refuse_no_name

    known = _known(db, model, name)
    if known is not None:
        return known
    refuse_no_name(name, _SAID.get(model.__name__, "name"))
    refuse_dash(name)
    if model.__name__ == "Glaze":
        _ask_if_one(db, name)
    called = _called_now(db, model, name)
    if called is None:
        common.talk(f"{name!r} is not on record.")
    on_record = names(db, model)
    close = called or same_words(name, on_record) or meant_by(name, on_record)
    is_slip = called or close and not _is_next_in_series(name, close)
    is_plain = bool(close) and not called and _is_short_for(name, close, on_record)
    answer = is_slip and _yes_or_known(db, model, f"Did you mean {close!r}?", default=is_plain)
    if answer:
        return close if answer is True else answer
    answer = _yes_or_known(db, model, f"Add {name!r} as new?")
    if not answer:
        raise common.AskAgain
    return None if answer is True else answer


def _ask_if_one(db: str | None, name: str) -> None:
    """A name that reads as several layers is asked about where it is typed, not after all else."""
    from tiles.records.layered import ask_if_one
    from tiles.records.store.belongings import names_of_glazes

    with common.looking_up(db) as session:
        known = names_of_glazes(session)
    try:
        ask_if_one(name, known)
    except Questioned as question:
        common.talk(question.message)
        common.require_yes("Is it the name of one glaze?")


def _called_now(db: str | None, model, name: str) -> str | None:
    """The name that something has now which had this one before; that is told."""
    from tiles.records.store.belongings import noun
    from tiles.records.store.former import called_now, spoken

    with common.looking_up(db) as session:
        found = called_now(session, noun(model), name)
        if found:
            common.talk(f"The {spoken(found)}")
        return found[0].called if found else None


def _is_next_in_series(name: str, known: str) -> bool:
    """Whether a name has another number, as F13 after F12: a quick yes would take the wrong one."""
    numbers, others = (list(map(int, re.findall(r"\d+", each))) for each in (name, known))
    return bool(numbers) and numbers != others


def _is_short_for(name: str, close: str, known: list[str]) -> bool:
    """Whether it is a word or words of this name alone, as "red" of "red earthenware".

    Not where a number stands in it: F1 may be another firing than "F1 again".
    """
    said = set(name.casefold().split())
    has = [each for each in known if said <= set(each.casefold().split())]
    return has == [close] and not re.search(r"\d", name)


def _known(db: str | None, model, name: str) -> str | None:
    from tiles.records import store

    with common.looking_up(db) as session:
        known = store.look_up(session, model, name)
        return known and known.name


def _yes_or_known(db: str | None, model, question: str, default: bool = False) -> bool | str:
    """Yes or no; or the right name, where a person types that instead.

    Raises
    ------
    LeaveOut
        A person types "-": the name is not known.
    GoBack
        A person types "<".
    """

    def read(typed: str) -> str:
        if typed == CLEAR:
            raise LeaveOut
        if typed == BACK:  # to the question for the name
            raise GoBack
        if typed == "?":  # shown, and asked again
            raise TilesError(", ".join(names(db, model)) or "none yet")
        known = _known(db, model, typed)
        if known is None:
            raise TilesError(f"{typed!r} is not on record.", "y, n or the right name.")
        return known

    return common.yes_or_no(question, default=default, what_else="the right name", read=read)


def key(model, name: str) -> tuple:
    """What a name is described under: its table, and the name whatever its capitals."""
    from tiles.records.words import name_key

    return model, name_key(name)


def _describe(db: str | None, model, name: str, was: dict) -> dict:
    """A new body, glaze or firing with the few facts that matter most, checked.

    ``was`` holds those given before, which are offered.
    """
    from tiles.records import forms, models

    def read(text: str) -> dict:  # refused here, and not when its name is long answered
        found = common.cone_range(text)
        forms.read(form, {"name": name} | found)
        return found

    if model is models.Firing:
        form, facts = forms.FiringRecord, _ask_firing(db, name, was)
    else:
        form = forms.BodyRecord if model is models.ClayBody else forms.GlazeRecord
        facts = {} if model is models.ClayBody else _ask_use(was)
        ends = [each for each in (was.get("cone_low"), was.get("cone_high")) if each]
        label = "-".join(dict.fromkeys(ends)) or None
        facts |= ask_or_back("Cone range on its label (06-04)", label, check=read) or {}
    return forms.read(form, {"name": name} | facts).model_dump(exclude_none=True)


_USES = {
    "g": {"role": "glaze"},
    "c": {"role": "glaze", "finish": "clear"},
    "u": {"role": "underglaze"},
    "s": {"role": "slip"},
}


def _ask_use(was: dict) -> dict:
    """What a new glaze is for: a colour under a glaze is not to pass for a second glaze."""
    from tiles.records.words import GLAZE_ROLES, read_word

    def read(text: str) -> dict:
        short = "c" if text.casefold() == "clear" else text.casefold()
        return _USES.get(short) or {"role": read_word(text, GLAZE_ROLES, "role")}

    said = was.get("finish") or was.get("role")
    asked = "What is it: g glaze, c clear glaze, u underglaze, s slip"
    asked += "" if said else " (Enter: glaze)"
    return ask_or_back(asked, said, check=read, choices=lambda: ["clear", *GLAZE_ROLES]) or {}


def _ask_firing(db: str | None, name: str, was: dict) -> dict:
    """What is known of a new firing: its kiln tells its habit, its day how late a look was."""
    from tiles.chemistry.cones import read_cone
    from tiles.records import forms, models

    def read(text: str) -> str:
        day = read_day(text)
        forms.read(forms.FiringRecord, {"name": name, "fired_on": day})
        return str(day)

    day = str(was["fired_on"]) if "fired_on" in was else None
    return {
        "target_cone": ask_or_back("Its target cone", was.get("target_cone"), check=read_cone),
        "kiln": ask_or_back(
            "Its kiln",
            was.get("kiln"),
            check=lambda text: _known_or_yes(db, models.Kiln, text) or text,
            choices=lambda: names(db, models.Kiln) or ["none yet"],
        ),
        "fired_on": ask_or_back("The day it was fired, YYYY-MM-DD", day, check=read),
    }


def read_day(text: str) -> date:
    """A day as it is typed; what is none is told without the words of a file.

    Raises
    ------
    InvalidValue
        With how a day is written.
    """
    from tiles.records import forms

    try:
        day = common.iso_day(text) or text
        return forms.read(forms.InspectionRecord, {"inspected_on": day}).inspected_on
    except InvalidValue as error:
        hint = "year-month-day, such as 2026-03-01."
        raise InvalidValue(f"{text!r} is no day.", hint) from error
