"""``tiles log`` as a conversation, with the last tile's answers offered."""

import re
from dataclasses import replace

import typer

from tiles.cli import common
from tiles.cli.ask import GoBack
from tiles.cli.ask_log_answers import Answers, last_tile, like_the_last, offered_again, values
from tiles.cli.ask_log_questions import QUESTIONS
from tiles.cli.ask_names import key
from tiles.errors import DatabaseProblem, Questioned, TilesError, shell_word

HELP = (
    "Enter takes the answer in [brackets], - leaves it unrecorded, ? lists what is on record, "
    "< goes back one question.\n"
    "Ctrl-C stops without storing anything."
)


def ask_and_store(db: str | None) -> None:
    """Ask for one tile and put it on record; after a no, or what cannot be, it asks once more."""
    common.talk(HELP)
    last, is_of_today = last_tile(db)
    offered = like_the_last(last, is_of_today)
    if last and is_of_today:
        common.talk(f"Offered is what {last.mark} has, the tile written down last.")
    elif last and last.firing:
        common.talk(
            f"{last.mark} was not written down today: of it only body and glaze are offered, not "
            f"its firing {last.firing.name} and what belongs to that."
        )
    found = Answers()
    while True:
        answers = _ask_all(db, offered, found)
        try:
            _store(db, answers)
            return
        except common.Declined as no:
            found = _back_to_the_doubted(no.__cause__, answers)
        except TilesError as error:
            common.talk(str(error))
            found = Answers()
        if not found.again:
            common.talk("Not stored. Once more, with your answers: Enter keeps each.")
        offered = replace(answers, differs=None, again=None)


_DOUBTED = {"thickness_mm": "thickness_mm", "inspected_on": "inspected_on", "defects": "seen"}
"""The question for a field that is doubted; of a cone its words tell which."""
_CONES = (
    (re.compile(r"\bbisque cone"), "bisque"),
    (re.compile(r"\btarget cone"), "firing"),
    (re.compile(r"\bcone reached|\bwitness"), "cone_reached"),
)
_HANGS_ON = {
    "firing": ("shelf", "cone_reached", "colour_on", "glazed_on", "inspected_on"),
    "seen": ("other", "beneath", "colour_on", "glazed_on", "inspected_on"),
}
"""What is asked again as well."""


def _back_to_the_doubted(doubt: Questioned, answers: Answers) -> Answers:
    """The answers up to what was doubted, which is asked next; all but what hangs on it is kept.

    No answer at all where a clay or glaze is new: its description may be what is wrong. A new
    firing that is doubted is described anew.
    """
    from tiles.records.models import Firing

    said = doubt.message
    of_cone = next((name for words, name in _CONES if words.search(said)), None)
    name = _DOUBTED.get(doubt.field) or (of_cone if doubt.field == "cone" else None)
    if name is None or any(repr(new["name"]) in said for new in answers.new.values()):
        return Answers()
    common.talk("Not stored. What was doubted is asked once more: Enter keeps it, < goes back.")
    firing = key(Firing, answers.firing or "")
    is_on_record = answers.firing and firing not in answers.new
    if is_on_record and ("target" in said or "witness" in said):
        change = f"'tiles firing change {shell_word(answers.firing)}'"
        common.talk(f"Where firing {answers.firing} itself is wrong on record: {change} in another "
                    "window mends it for all its tiles, and your answers stay.")  # fmt: skip
    names = [each.name for each in QUESTIONS]
    after = names[names.index(name) :]
    kept = answers.kept | {each: getattr(answers, each) for each in after}
    for each in (name, *_HANGS_ON.get(name, ())):
        kept.pop(each, None)
    new = {each: facts for each, facts in answers.new.items() if (name, each) != ("firing", firing)}
    return replace(answers, new=new, kept=kept, again=name, **dict.fromkeys(after))


def _store(db: str | None, answers: Answers) -> None:
    """Put the answers on record; where the database cannot take them, once more when it can."""
    from tiles.cli.log import store_new

    while True:
        try:
            how = {"add_missing": bool(answers.new), "yes": False, "asked_names": True}
            store_new(values(answers), db=db, **how)
            return
        except DatabaseProblem as error:
            _wait_for_database(error, f"{answers.mark} is NOT stored yet. ")


def _wait_for_database(error: DatabaseProblem, said: str = "") -> None:
    """Tell what is wrong with it, and wait until the person has seen to that."""
    common.talk(str(error))
    if not common.yes_or_no(f"{said}Your answers are kept. Try again?", default=True):
        raise typer.Abort


def _ask_all(db: str | None, offered: Answers, found: Answers) -> Answers:
    """One question after the other, those that do not arise left out, and back again on "<".

    It begins with the one to be asked ``again``, where ``found`` says so.
    """
    names = [each.name for each in QUESTIONS]
    at = first = names.index(found.again) if found.again else 0
    asked = [place for place, name in enumerate(names[:at])
             if getattr(found, name) is not None and name not in found.kept]  # fmt: skip
    found = replace(found, again=None)
    while at < len(QUESTIONS):
        question = QUESTIONS[at]
        try:
            if question.is_settled(db, offered, found):
                at += 1
                continue
            setattr(found, question.name, question.ask(db, offered, found))
        except DatabaseProblem as error:
            _wait_for_database(error)
        except GoBack:
            if not asked:
                common.talk("This is the first question.")
                continue
            at = asked.pop()
            if at < first:  # what follows may hang on it, and is asked again
                found.kept = {}
            offered = offered_again(offered, found, QUESTIONS[at].name)
            for each in QUESTIONS[at:]:  # what was taken over after it as well
                setattr(found, each.name, None)
        else:
            asked.append(at)
            at += 1
    return found
