"""``tiles log`` as a conversation, with the last tile's answers offered."""

from dataclasses import replace

import typer

from tiles.cli import common
from tiles.cli.ask import GoBack
from tiles.cli.ask_log_answers import Answers, last_tile, like_the_last, offered_again, values
from tiles.cli.ask_log_questions import QUESTIONS
from tiles.errors import DatabaseProblem, TilesError

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
    while True:
        answers = _ask_all(db, offered)
        try:
            _store(db, answers)
            return
        except common.Declined:
            pass
        except TilesError as error:
            common.talk(str(error))
        common.talk("Not stored. Once more, with your answers: Enter keeps each.")
        offered = replace(answers, differs=None)


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


def _ask_all(db: str | None, offered: Answers) -> Answers:
    """One question after the other, those that do not arise left out, and back again on "<"."""
    found, asked, at = Answers(), [], 0
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
            offered = offered_again(offered, found, QUESTIONS[at].name)
            for each in QUESTIONS[at:]:  # what was taken over after it as well
                setattr(found, each.name, None)
        else:
            asked.append(at)
            at += 1
    return found
