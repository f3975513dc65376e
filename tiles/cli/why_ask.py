"""``tiles why --ask``: up to three answers, each asked for by the question that tells most then.

One that is not known is followed by the next, six in all at most.
"""

import typer

from tiles.cli import common, output
from tiles.cli.ask import ask
from tiles.cli.prose import percent
from tiles.errors import InvalidValue, TilesError

MOST_ANSWERS, MOST_QUESTIONS = 3, 6
_NAMED = 3
_UNKNOWN = ("?", "don't know", "dont know", "do not know", "unknown", "not sure", "d")
_STOP = ("q", "quit", "stop", "exit")


class _StopAsking(Exception):
    """The person wants the answer now."""


def ask_and_tell(
    mark: str, defect: str | None, *, show_all: bool, yes: bool, as_json: bool, db: str | None
) -> None:
    """Ask, show how the field moves, answer, and keep the answers if wished."""
    from diagnose.comparing.of_glaze import with_pairs
    from diagnose.report import why as explain
    from tiles.cli.next_of import with_akin
    from tiles.cli.record import fetch
    from tiles.cli.studio import failures_only, others, over_all, why_beside_all

    record = fetch(mark, db)
    own = others(record, db)
    count_of = over_all(db)
    case = explain(record, defect, own, count_of)[0].case
    if as_json:
        output.print_json(_questions_shape(record, case, own))
        return
    from tiles.cli import why_screen

    given, not_known = _ask_all(case, own)
    told = _with_answers(case.record, case.area_number, given) if given else record
    how = {"show_all": show_all, "not_known": not_known, "note": failures_only([record, *own], db)}
    found = with_pairs(why_beside_all(told, defect, own, count_of), own)
    found = with_akin(told, found, own, db)
    answer = why_screen.lines(told, found, **how)
    print("\n".join(["", *answer]))
    if given:
        _offer_to_keep(case, given, yes=yes, db=db)


def _ask_all(case, own: list) -> tuple[dict[str, object], list[str]]:
    """Name to answer, in the order asked; and the names of those answered "don't know"."""
    print(f"{case.defect.upper()} on {case.record.mark}.")
    _say("Enter alone: don't know. q: no more questions.")
    _say(f"Now: {_field(case.rows)}.")
    given: dict[str, object] = {}
    not_known: list[str] = []
    for number in range(1, MOST_QUESTIONS + 1):
        if len(given) == MOST_ANSWERS:
            break
        question = _best(case, {*given, *not_known}, own)
        if question is None:
            _say("No further question would narrow it much.")
            break
        try:
            answer = _answer_to(number, question)
        except _StopAsking:
            break
        if answer is None:
            not_known.append(question.name)
            _say("Not known: nothing changes.")
            continue
        given[question.name] = answer
        after = _weighed_again(case, question.name, answer, own)
        _say(f"{_moved(case.rows, after.rows)}.")
        case = after
    return given, not_known


def _best(case, asked: set[str], own: list):
    """The question that tells most, if it tells enough to trouble a person with it."""
    from diagnose.asking import WORTH_ASKING, questions

    best = next(iter(questions(case, asked, own)), None)
    return best if best and best.gain >= WORTH_ASKING else None


def _say(text: str) -> None:
    from tiles.cli.why_text import hanging

    print("\n".join(hanging("   ", text)))


def _answer_to(number: int, question):
    choices = [choice.said for choice in question.choices]
    hint = " (yes/no)" if choices == ["yes", "no"] else ""
    try:
        return ask(
            _prompt(f"{number}. {question.text}{hint}"),
            check=lambda typed: _read(question.name, typed, choices),
            choices=lambda: [*_answers(question), "or Enter: don't know", "q: no more questions"],
        )
    except typer.Abort as no_more:
        if common.is_interactive():
            raise
        raise _StopAsking from no_more


def _answers(question) -> list[str]:
    """What may be answered: the words, or that it is any number, and not one of those tried."""
    from diagnose.asking_fields import is_number

    if is_number(question.name):
        return [f"a number in the unit asked for, such as {question.choices[0].said}"]
    return [choice.said for choice in question.choices]


def _prompt(text: str) -> str:
    """The question on as many lines as it takes, none broken in a word by the screen."""
    from tiles.cli import prose, why_text

    return "\n".join(prose.wrap(text, "   ", why_text.width() - len(": yes")))


def _read(name: str, typed: str, choices: list[str]):
    """The answer typed; None where it is not known."""
    from diagnose.asking_fields import read_answer

    said = typed.casefold()
    if said in _STOP:
        raise _StopAsking
    if said in _UNKNOWN:
        return None
    try:
        return read_answer(name, typed, choices)
    except TilesError as error:
        hint = f"{error.hint.rstrip('.')}, or q for no more questions."
        raise InvalidValue(error.message, hint) from error


def _weighed_again(case, name: str, answer: object, own: list):
    from diagnose.asking import answered
    from diagnose.report import why as explain

    record = answered(case, name, answer)
    return explain(record, case.defect, own, case.count_of)[0].case


def _with_answers(record, area_number: int, given: dict[str, object]):
    from diagnose.fields import filled

    for name, answer in given.items():
        record = filled(record, area_number, name, answer) or record
    return record


def _named(rows) -> list:
    """The first causes in question: what is in no list tells nobody anything."""
    return [row for row in rows if row.cause and row.is_in_question][:_NAMED]


def _field(rows) -> str:
    told = "; ".join(f"{row.title} {percent(row.share)}" for row in _named(rows))
    return told or "nothing recorded speaks for any cause"


def _moved(before, after) -> str:
    was = {row.title: row.share for row in before}
    told = "; ".join(
        f"{row.title} {percent(was[row.title])} -> {percent(row.share)}" for row in _named(after)
    )
    return told or "nothing changes"


def _offer_to_keep(case, given: dict[str, object], *, yes: bool, db: str | None) -> None:
    from diagnose.fields import is_shared

    own = {name: answer for name, answer in given.items() if not is_shared(name)}
    for name in given.keys() - own.keys():
        common.talk(
            f"Not kept, for it belongs to a firing, batch or body of more tiles: "
            f"{_in_words(name, given[name])}."
        )
    if not own or not (yes or _wishes_to_keep(case.record.mark, own)):
        return
    from tiles.records import forms, reading, store

    def write(confirmed: bool):
        with common.writing(db) as session:
            # As it is now: somebody may have written on it while the questions were asked.
            record = reading.tile_record(store.get_tile(session, case.record.mark))
            answered = _with_answers(record, case.area_number, own)
            changed = forms.read(forms.TileRecord, answered.model_dump())
            return store.replace_tile(session, changed, confirmed=confirmed)

    common.confirmed(write, yes=yes)
    common.talk(f"Kept on {case.record.mark}: {_spoken(own)}.")


def _wishes_to_keep(mark: str, own: dict[str, object]) -> bool:
    question = _prompt(f"Keep on the record of {mark}: {_spoken(own)}? (yes/no)")
    try:
        return ask(question, "yes", check=_yes_or_no) == "yes"
    except typer.Abort:
        if common.is_interactive():
            raise
        return False


def _yes_or_no(typed: str) -> str:
    from tiles.records import words

    return "no" if typed.casefold() in _STOP else words.read_word(typed, words.ANSWERS, "answer")


def _spoken(own: dict[str, object]) -> str:
    return "; ".join(_in_words(name, answer) for name, answer in own.items())


def _in_words(name: str, answer: object) -> str:
    """An answer as a person says it: a clue as a statement, a figure with its name and unit."""
    from diagnose.vocabulary import clue_said, measure_words
    from tiles.records.clues import clues

    if name in clues():
        return clue_said(name, str(answer))
    words = measure_words().get(name)  # the cone of a bisque is no measure by itself
    label = words.label if words else name.replace("_", " ")
    unit = words.unit if words and words.unit not in label else ""
    return f"{label}: {output.cell(answer)} {unit}".rstrip()


def _questions_shape(record, case, own: list) -> dict:
    """The questions as JSON; nothing is asked."""
    from diagnose.asking import questions

    found = questions(case, others=own)[:MOST_ANSWERS]
    return {
        "mark": record.mark,
        "defect": case.defect,
        "questions": [
            {
                "name": each.name,
                "question": each.text,
                "expected_gain_nats": round(each.gain, 4),
                "answers": [
                    {
                        "answer": choice.said,
                        "chance": round(choice.chance, 3),
                        "then": [
                            {"title": row.title, "share": round(row.share, 3)}
                            for row in choice.rows[:_NAMED]
                        ],
                    }
                    for choice in each.choices
                ]
                + [{"answer": "don't know", "chance": round(each.chance_unknown, 3)}],
            }
            for each in found
        ],
    }
