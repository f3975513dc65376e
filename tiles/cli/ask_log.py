"""``tiles log`` as a conversation, with the last tile's answers offered."""

import re
from dataclasses import replace

import typer

from tiles.cli import common
from tiles.cli.ask import GoBack
from tiles.cli.ask_log_answers import Answers, last_tile, like_the_last, offered_again, values
from tiles.cli.ask_log_questions import QUESTIONS
from tiles.cli.ask_names import key
from tiles.errors import DatabaseProblem, TilesError, shell_word

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
            found = _back_to_the_doubted(error, answers)
        if not found.again:
            common.talk("Not stored. Once more, with your answers: Enter keeps each.")
        offered = replace(answers, differs=None, again=None)


_DOUBTED = {"defect": "seen", "defects": "seen", "peak_c": "firing"}
"""The question for a field that is doubted, where it is called otherwise."""
_CONES = (
    (re.compile(r"\bbisque cone"), "bisque"),
    (re.compile(r"\btarget cone|: peak "), "firing"),
    (re.compile(r"\bcone reached|\bwitness"), "cone_reached"),
)
"""Of a cone its words tell which."""
_HANGS_ON = {
    "glaze": ("coats", "batch", "beneath", "colour_on"),
    "firing": ("shelf", "cone_reached", "colour_on", "glazed_on", "inspected_on"),
    "seen": ("other", "beneath", "colour_on", "glazed_on", "inspected_on"),
}
"""What is asked again as well, where the answer is another one than before."""


def _back_to_the_doubted(doubt: TilesError, answers: Answers) -> Answers:
    """The answers up to what was doubted, which is asked next; all the others are kept.

    A clay or glaze that is new may be what is wrong as well as the cone beside it: both are asked,
    and what is new is described anew, as a new firing is. No answer at all where nothing tells what
    was doubted.
    """
    from tiles.records.models import Firing

    said, names = doubt.message, [each.name for each in QUESTIONS]
    of_cone = next((name for words, name in _CONES if words.search(said)), None)
    doubted = of_cone if doubt.field == "cone" else _DOUBTED.get(doubt.field, doubt.field)
    firing = key(Firing, answers.firing or "")
    anew = _new_in(said, answers) | ({firing: "firing"} if doubted == "firing" else {})
    asked = sorted({doubted, *anew.values()}.intersection(names), key=names.index)
    if not asked:
        return Answers()
    common.talk("Not stored. What was doubted is asked once more: Enter keeps it, < goes back.")
    is_on_record = answers.firing and firing not in answers.new
    if is_on_record and ("target" in said or "witness" in said):
        change = f"'tiles firing change {shell_word(answers.firing)}'"
        common.talk(f"Where firing {answers.firing} itself is wrong on record: {change} in another "
                    "window mends it for all its tiles, and your answers stay.")  # fmt: skip
    after = names[names.index(asked[0]) :]
    kept = {each: getattr(answers, each) for each in after if each not in asked}
    new = {each: facts for each, facts in answers.new.items() if each not in anew}
    before = answers.before | {each: answers.new[each] for each in anew if each in answers.new}
    again = {"new": new, "before": before, "kept": kept, "again": asked[0]}
    return replace(answers, **again, **dict.fromkeys(after))


def _new_in(said: str, answers: Answers) -> dict[tuple, str]:
    """The clays and glazes described with this tile that are named, each with its question."""
    from tiles.records.models import ClayBody, Glaze

    questions = {ClayBody: "body", Glaze: "glaze"}
    return {
        each: questions[each[0]]
        for each, facts in answers.new.items()
        if each[0] in questions and repr(facts["name"]) in said
    }


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
    is_again = bool(found.again)
    found = replace(found, again=None)
    while at < len(QUESTIONS):
        question = QUESTIONS[at]
        try:
            if question.is_settled(db, offered, found):
                at += 1
                continue
            answer = question.ask(db, offered, found)
            setattr(found, question.name, answer)
            if is_again and answer != getattr(offered, question.name):
                for each in _HANGS_ON.get(question.name, ()):
                    found.kept.pop(each, None)
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
