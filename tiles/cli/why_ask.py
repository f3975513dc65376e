"""``tiles why --ask``: up to three questions, each the one expected to narrow the field most."""

import typer

from tiles.cli import common, output
from tiles.cli.ask import ask

MOST_QUESTIONS = 3
_NAMED = 3


def ask_and_tell(
    mark: str, defect: str | None, *, show_all: bool, yes: bool, as_json: bool, db: str | None
) -> None:
    """Ask, show how the field moves, answer, and keep the answers if wished."""
    from diagnose.report import why as explain
    from tiles.cli.record import fetch

    record = fetch(mark, db)
    diagnosis = next((each for each in explain(record, defect) if each.case), None)
    case = diagnosis.case if diagnosis else None
    if as_json:
        output.print_json(_questions_shape(record, case))
        return
    from tiles.cli import why_text

    given = _ask_all(case) if case else {}
    told = _with_answers(case, given) if given else record
    print("\n".join(["", *why_text.lines(told, explain(told, defect), show_all=show_all)]))
    if given:
        _offer_to_keep(case, given, yes=yes, db=db)


def _ask_all(case) -> dict[str, object]:
    """Name to answer, in the order asked; "don't know" is left out."""
    from diagnose.asking import questions

    print(f"{case.defect.upper()} on {case.record.mark}. Enter alone means: don't know.")
    _say(f"Now: {_field(case.rows)}.")
    given: dict[str, object] = {}
    asked: set[str] = set()
    for number in range(1, MOST_QUESTIONS + 1):
        open_ = questions(case, asked)
        if not open_:
            _say("No further question would narrow it.")
            break
        asked.add(open_[0].name)
        try:
            answer = _answer_to(number, open_[0])
        except typer.Abort:
            if common.is_interactive():
                raise
            break
        if answer is None:
            _say("Not known: nothing changes.")
            continue
        given[open_[0].name] = answer
        after = _weighed_again(case, open_[0].name, answer)
        _say(f"{_moved(case.rows, after.rows)}.")
        case = after
    return given


def _say(text: str) -> None:
    from tiles.cli.why_text import wrap

    print("\n".join(f"   {line}" for line in wrap(text, indent=3)))


def _answer_to(number: int, question):
    from diagnose.asking_fields import read_answer

    choices = [choice.said for choice in question.choices]
    hint = " (yes / no)" if choices == ["yes", "no"] else ""
    return ask(
        f"{number}. {question.text}{hint}",
        check=lambda typed: _unless_unknown(question.name, typed, read_answer),
        choices=lambda: [*choices, "or Enter: don't know"],
    )


def _unless_unknown(name: str, typed: str, read):
    unknown = ("?", "don't know", "dont know", "do not know", "unknown", "not sure", "d")
    return None if typed.casefold() in unknown else read(name, typed)


def _weighed_again(case, name: str, answer: object):
    from diagnose.asking import answered
    from diagnose.report import why as explain

    record = answered(case, name, answer)
    return next(each.case for each in explain(record, case.defect) if each.case)


def _with_answers(case, given: dict[str, object]):
    from diagnose.fields import filled

    record = case.record
    for name, answer in given.items():
        record = filled(record, case.area_number, name, answer) or record
    return record


def _title(row) -> str:
    return row.cause.title if row.cause else "something else"


def _field(rows) -> str:
    return "; ".join(f"{_title(row)} {row.share:.0%}" for row in rows[:_NAMED])


def _moved(before, after) -> str:
    was = {_title(row): row.share for row in before}
    return "; ".join(
        f"{_title(row)} {was[_title(row)]:.0%} -> {row.share:.0%}" for row in after[:_NAMED]
    )


def _offer_to_keep(case, given: dict[str, object], *, yes: bool, db: str | None) -> None:
    from diagnose.fields import is_shared

    own = {name: answer for name, answer in given.items() if not is_shared(name)}
    for name in given.keys() - own.keys():
        common.talk(f"{name} is not kept: it belongs to a firing, batch or body of more tiles.")
    if not own or not (yes or _wishes_to_keep(case.record.mark, own)):
        return
    from tiles.records import forms, store

    def write(confirmed: bool):
        with common.reading(db) as session:
            changed = forms.read(forms.TileRecord, _with_answers(case, own).model_dump())
            return store.replace_tile(session, changed, confirmed=confirmed)

    common.confirmed(write, yes=yes)
    common.talk(f"Kept on {case.record.mark}: {_spoken(own)}.")


def _wishes_to_keep(mark: str, own: dict[str, object]) -> bool:
    question = f"Keep on the record of {mark}: {_spoken(own)}? (yes / no)"
    try:
        return ask(question, "no", check=_yes_or_no) == "yes"
    except typer.Abort:
        if common.is_interactive():
            raise
        return False


def _yes_or_no(typed: str) -> str:
    from tiles.records import words

    return words.read_word(typed, words.ANSWERS, "answer")


def _spoken(own: dict[str, object]) -> str:
    return ", ".join(f"{name} {output.cell(answer)}" for name, answer in own.items())


def _questions_shape(record, case) -> dict:
    """The questions as JSON; nothing is asked."""
    from diagnose.asking import questions

    found = questions(case)[:MOST_QUESTIONS] if case else []
    return {
        "mark": record.mark,
        "defect": case.defect if case else None,
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
                            {"title": _title(row), "share": round(row.share, 3)}
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
