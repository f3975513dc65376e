"""What ``tiles why`` tells of counts over own tiles: once, and the clearest first."""

import re

from tiles.cli.why_text import of_all_glazes

TRIALS_APART = "The trials for it are not among them."
AGAINST_FIRST = "That speaks against the first."

ALIKE = " alike but for "
"""How a sound twin is told: by its mark, with which this begins or a list of several does."""


def counts(diagnosis, lead: str = "") -> list[str]:
    """What own tiles say of the first cause; before it of another one, where that is clear.

    A hint for another one by batch, kiln, shelf or what lies beneath comes last.
    """
    from diagnose.cause_report import by_clay
    from diagnose.comparing.comparison_words import CLEAR
    from diagnose.wording import sentence

    case = diagnosis.case
    clay = [sentence(each) for each in by_clay(case)]
    whole = [of_all_glazes(case)] if case.studio else []
    if case.own is None:
        return [*whole, *clay]
    lessons = case.own.lessons_of(case.first, case.facts)
    clearest = min((each.chance for each in lessons if each.lift > 0), default=CLEAR)
    beside = [
        (lesson.chance, place, lesson, f"{sentence(lesson.say)} {_for(lesson)} {row.title}.")
        for place, row in enumerate(case.rows[1:])
        for lesson in (() if row.is_ruled_out else case.own.lessons_of(row, case.facts))
        if lesson not in lessons
    ]
    beside.sort(key=lambda each: each[:2])
    others = [
        said for chance, _, of, said in beside if of.lift > 0 and chance < clearest
    ]  # fmt: skip
    hints = [said for *_, of, said in beside if of.is_hint]
    against = [f"{sentence(each.say)} {AGAINST_FIRST}" for each in case.own.against(case.first)]
    others = [*against, *others][:1]
    told = [*others, *whole, *(sentence(each.say) for each in lessons), *clay, *hints[:1]]
    apart = f" {TRIALS_APART}" if case.tried and told else ""
    return [each for said in told if (each := _rest(f"{said}{apart}", lead))]


def _rest(said: str, lead: str) -> str:
    """What a count adds to the answer, where that begins with it."""
    count, dot, more = said.partition(". ")
    return more if dot and lead.startswith(f"{count}.") else said if said not in lead else ""


def _for(lesson) -> str:
    return "That would speak for:" if lesson.is_hint else "That speaks for:"


def not_counted(tests: list[str], told: list[str]) -> list[str]:
    """The tests without one that own tiles made, where that is told with more beside it."""
    from diagnose.own_tiles.head_count import OWN_TEST

    return [
        each
        for each in tests
        if not (each.startswith(OWN_TEST) and _is_in_more(each.removeprefix(OWN_TEST), told))
    ]


def _is_in_more(made: str, told: list[str]) -> bool:
    """Whether a sentence stands in a longer one; of a sound twin its mark, and no longer one."""
    from diagnose.wording import sentence

    twins, is_twin, _ = made.partition(ALIKE)
    first = re.split(r", | and | is$| are$", twins)[0] if is_twin else sentence(made)
    whole = re.compile(rf"(?<![\w-]){re.escape(first)}(?![\w-])", re.IGNORECASE)
    return any(whole.search(said) for said in told if said != sentence(made))
