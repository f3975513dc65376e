"""What ``tiles why`` tells of counts over own tiles: once, and the clearest first."""

from tiles.cli.why_text import of_all_glazes

TRIALS_APART = "The trials for it are not among them."
AGAINST_FIRST = "That speaks against the first."


def counts(diagnosis) -> list:
    """What own tiles say of the first cause; before it of another one, where that is clear.

    A hint for another one by batch, kiln, shelf or what lies beneath comes last.

    Returns
    -------
    list of Said
        Each with the count that it tells, if it is one of its glaze.
    """
    from diagnose.answer import Said
    from diagnose.cause_report import by_clay, own_said
    from diagnose.wording import sentence

    case = diagnosis.case
    clay = [Said(sentence(each)) for each in by_clay(case)]
    whole = [Said(of_all_glazes(case))] if case.studio else []
    if case.own is None:
        return [*whole, *clay]
    lessons = _but_load(case.own.lessons_of(case.first, case.facts))
    others, hints = _of_others(case, lessons)
    others = [*_against_first(case), *others][:1]
    told = [*others, *whole, *own_said(lessons), *clay, *hints[:1]]
    return [_trials_apart(each) for each in told] if case.tried else told


def _against_first(case) -> list:
    from diagnose.answer import Said
    from diagnose.wording import sentence

    return [
        Said(sentence(each.say), (each,), AGAINST_FIRST) for each in case.own.against(case.first)
    ]


def _of_others(case, lessons: list) -> tuple[list, list]:
    """The counts for another cause that are clearer than any for the first; and the hints."""
    from diagnose.answer import Said
    from diagnose.comparing.comparison_words import CLEAR
    from diagnose.wording import sentence

    clearest = min((each.chance for each in lessons if each.lift > 0), default=CLEAR)
    beside = [
        (lesson, Said(sentence(lesson.say), (lesson,), f"{_for(lesson)} {row.title}."))
        for row in case.rows[1:]
        for lesson in _but_load(() if row.is_ruled_out else case.own.lessons_of(row, case.facts))
        if lesson not in lessons
    ]
    beside.sort(key=lambda each: each[0].chance)
    others = [said for of, said in beside if of.lift > 0 and of.chance < clearest]
    return others, [said for of, said in beside if of.is_hint]


def _but_load(lessons) -> list:
    """The counts without that of the load, which has a place of its own."""
    from diagnose.comparing.of_load import LOAD

    return [each for each in lessons if each.measure != LOAD]


def of_load(diagnosis) -> str:
    """How the load did, where it failed as a whole and the answer does not begin with that.

    With the likeliest cause that a load shares, where the first cause is none.
    """
    from diagnose.comparing.of_load import LOAD
    from diagnose.wording import sentence

    case = diagnosis.case
    lessons = case.own.lessons if case.own else ()
    told = next((each for each in lessons if each.measure == LOAD), None)
    if told is None or in_answer(diagnosis) is told:
        return ""
    shared = case.own.causes_of(told, case)
    rows = [row for row in case.rows if row.name in shared and not row.is_ruled_out]
    named = f" That speaks for: {rows[0].title}." if rows and rows[0] is not case.first else ""
    return f"{sentence(told.say)}{named}"


def _for(lesson) -> str:
    return "That would speak for:" if lesson.is_hint else "That speaks for:"


def _trials_apart(said):
    from dataclasses import replace

    return replace(said, more=f"{said.more} {TRIALS_APART}".lstrip())


def in_answer(diagnosis):
    """The count that the answer begins with, if any."""
    from diagnose.own_tiles.head_count import head_count
    from diagnose.wording import fits_no_cause

    if diagnosis.enough_to_tell or fits_no_cause(diagnosis.case):
        return None
    return head_count(diagnosis.case)


def beside_answer(told: list, answer) -> list:
    """What counts add where the answer begins with one: of that what is told beside it, if any.

    Parameters
    ----------
    told : list of Said
        What is told of own tiles.
    answer : Lesson or None
        The count that is in the answer.
    """
    from diagnose.answer import Said

    told = [Said(each.more, each.of) if answer in each.of else each for each in told]
    return [each for each in told if each.say]


def not_counted(tests: list, told: list, answer) -> list:
    """The tests without one that own tiles made, where that is told with more beside it.

    Parameters
    ----------
    tests, told : list of Said
        The tests, and what is told of own tiles.
    answer : Lesson or None
        The count that is in the answer.
    """
    more = [fact for each in told if not each.is_bare for fact in each.of]
    more += [answer] if answer else []
    return [each for each in tests if not any(fact in more for fact in each.of)]


def not_tested(told: list, tests: list) -> list[str]:
    """What is told of own tiles, in words, without what a test tells already."""
    shown = [fact for each in tests for fact in each.of]
    return [each.in_full for each in told if not (each.is_bare and each.of[0] in shown)]
