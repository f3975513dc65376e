"""The answer of ``tiles why`` on one screen: the answer, the causes, one test, one fix, the danger.

What does not fit is left for ``--all``. A caution always stays; of the rest the cause stays
longest, then what to do, then how to be sure, then what own tiles say, then other evidence.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from tiles.cli.prose import most_lines, percent
from tiles.cli.same_db import with_db
from tiles.cli.why_counts import (
    beside_answer,
    counts,
    in_answer,
    not_counted,
    not_tested,
    of_load,
)
from tiles.cli.why_text import (
    OTHER,
    capital,
    handling,
    hanging,
    has_suspect,
    heading,
    leaching,
    news,
    not_said,
    tile,
    width,
    wrap,
)
from tiles.cli.why_twins import IN_LIST, twins
from tiles.errors import shell_word

WORTH_NAMING = 0.01
"""`IN_LIST` causes are named as far as they hold this share; the first always."""
WORTH_TELLING = 0.05
"""A share that own tiles moved by less is not told beside what it was without them."""
NAMES_TWO = 2
"""On a list of fewer the answer itself names the second cause, if that is not much poorer."""
OF_SUSPECT = ("for", "against", "to be sure", "fix", "caution")
"""What is told of a first cause alone that something speaks for."""
WITH_KIN, MOST_KIN = 6, 2
"""On so many levels of detail trials for tiles akin are told, of so many of these: as they weigh
nothing, they go before the list of causes and after all that does weigh."""
LABEL_WIDTH = 12
NARROW = 60
"""On a screen of fewer columns a sentence begins with its label and does not stand beside it."""


@dataclass(frozen=True)
class Detail:
    """How many sentences of each kind are told; ``kin`` of trials for tiles akin.

    Short: a line or two for the defect, its cautions with those of the others at the end.
    """

    for_: int
    against: int
    own: int
    notes: int
    questions: int
    in_list: int = IN_LIST
    tests: int = 1
    fixes: int = 1
    twins: int = 1
    trials: int = 1
    kin: int = 0
    is_short: bool = False


_LESS_AND_LESS = (
    Detail(for_=2, against=2, own=1, notes=2, questions=3),
    Detail(for_=2, against=1, own=1, notes=1, questions=2),
    Detail(for_=1, against=1, own=1, notes=1, questions=1),
    Detail(for_=1, against=1, own=1, notes=0, questions=1),
    Detail(for_=1, against=1, own=1, notes=0, questions=1, in_list=2),
    Detail(for_=1, against=1, own=1, notes=0, questions=1, in_list=1),
    Detail(for_=1, against=0, own=1, notes=0, questions=1, in_list=1, twins=0),
    Detail(for_=0, against=0, own=1, notes=0, questions=1, in_list=1, twins=0),
    Detail(for_=0, against=0, own=0, notes=0, questions=1, in_list=1, twins=0, trials=0),
    Detail(for_=0, against=0, own=0, notes=0, questions=1, in_list=1, twins=0, tests=0, trials=0),
    Detail(0, 0, 0, 0, 0, in_list=1, tests=0, fixes=0, twins=0, trials=0, is_short=True),
)
_WITH_TRIALS = (
    *(each for each in _LESS_AND_LESS if each.own),
    Detail(for_=0, against=0, own=1, notes=0, questions=1, in_list=1, twins=0, tests=0),
    Detail(for_=0, against=0, own=0, notes=0, questions=1, in_list=1, twins=0, tests=0),
    Detail(for_=0, against=0, own=0, notes=0, questions=0, in_list=1, twins=0, tests=0),
    *(each for each in _LESS_AND_LESS if not each.own),
)
"""What trials showed stays longer than counts, questions and the test that would make sure."""


def lines(
    record,
    diagnoses: list,
    *,
    show_all: bool = False,
    not_known: Collection[str] = (),
    note: str = "",
) -> list[str]:
    """What a person reads.

    Parameters
    ----------
    record : TileRecord
        The tile.
    diagnoses : list of Diagnosis
        One for each defect.
    show_all : bool
        Everything, in place of what fits one screen.
    not_known : collection of str
        Questions that were just answered with "don't know": they are not asked again.
    note : str
        What must be known of own tiles where any of them are counted.
    """
    note = note if any(map(counts, diagnoses)) else ""
    if show_all:
        from tiles.cli import why_full

        return [*why_full.lines(record, diagnoses), *(["", *wrap(note)] if note else [])]
    levels = _fitting(record, diagnoses, not_known, note)
    return _told(record, diagnoses, levels, not_known, note)


def _fitting(record, diagnoses: list, not_known: Collection[str], note: str) -> list[Detail]:
    """As much of each defect as fits: first alike, then more of the worst ones."""
    if not diagnoses:
        return []
    most = most_lines()

    def fits(levels: list[Detail]) -> bool:
        return len(_told(record, diagnoses, levels, not_known, note)) <= most

    is_own = bool(counts(diagnoses[0]) or _trials(diagnoses[0]))
    levels = _WITH_TRIALS if any(map(_trials, diagnoses)) else _LESS_AND_LESS
    if diagnoses[0].case.of_kin:
        levels = (*(replace(each, kin=MOST_KIN) for each in levels[:WITH_KIN]), *levels)
    steps = list(_step_by_step(levels, len(diagnoses), is_own))
    found = next(filter(fits, steps), steps[-1])
    for place in range(len(diagnoses)):
        more = (
            [*found[:place], detail, *found[place + 1 :]]
            for detail in levels[: levels.index(found[place])]
        )
        found = next(filter(fits, more), found)
    return found


def _step_by_step(levels: Sequence[Detail], many: int, is_own: bool) -> Iterator[list[Detail]]:
    """Less and less of so many defects: of the worst one, which comes first, never no fix.

    What own tiles say of the worst one, if they do, stays until there is but a line of the others.
    """
    for more, less in pairwise(levels):
        if is_own and more.own + more.trials > less.own + less.trials:
            for shorter in levels[levels.index(less) :]:
                yield [more] + [shorter] * (many - 1)
        for lowered in range(many):
            yield [more] * (many - lowered) + [less] * lowered


def _told(
    record, diagnoses: list, levels: list[Detail], not_known: Collection[str], note: str
) -> list[str]:
    joint = _joint(diagnoses)
    told = [*tile(record), *(["", *wrap(_one_cause(joint))] if joint else [])]
    repeated: set[str] = set()
    was_short, cautions = False, {}
    for each, detail in zip(diagnoses, levels, strict=True):
        name, lead = heading(each, len(record.areas) > 1), _lead(each, joint, detail)
        told += [] if was_short and detail.is_short else [""]
        was_short = detail.is_short
        if detail.is_short:
            told += wrap(f"{name}. {lead}")
            cautions = _cautions(each) | cautions
            continue
        told += [*wrap(name), *wrap(lead), *wrap(of_load(each)), *_listed(each, detail.in_list)]
        told += _of_first(each, lead, detail, not_known, repeated)
    new = [said for caution, said in cautions.items() if caution not in repeated]
    told += _labelled("caution", new, repeated)
    is_said = "Cadmium colours: " in " ".join(" ".join(told).split())
    food = [] if is_said else leaching(diagnoses)
    told += ["", *wrap(note)] if note else []
    return [*told, "", *food, *_footer(record.mark, diagnoses)]


def _joint(diagnoses: list):
    """The diagnosis whose first cause would explain the most of the others; None where none."""
    able = [each for each in diagnoses if each.also_explains]
    if len(diagnoses) < 2 or not able:
        return None
    return max(able, key=lambda each: (len(each.also_explains), each.causes[0].share))


def _one_cause(joint) -> str:
    from diagnose.wording import listed

    names = listed([joint.defect, *joint.also_explains])
    return f"One cause would explain {names}: {joint.causes[0].title}."


def _lead(diagnosis, joint, detail: Detail) -> str:
    """The answer, without what was said for all defects before; where no list follows of two."""
    from diagnose import wording

    if not diagnosis.enough_to_tell:
        return wording.suspect(diagnosis.case)
    if joint is None:
        of_two = wording.lead_of_two(diagnosis.case.rows) if detail.in_list < NAMES_TWO else ""
        return of_two or diagnosis.say
    first = diagnosis.causes[0]
    if diagnosis is not joint and first.name == joint.causes[0].name:
        return wording.same_cause(first.share)
    return diagnosis.say.removesuffix(wording.one_cause(diagnosis.defect, diagnosis.also_explains))


def _cautions(diagnosis) -> dict[str, str]:
    """The cautions of the first cause as they are said, with it where no answer names it."""
    first = diagnosis.causes[0]
    start = "" if _is_named(diagnosis) else f"{capital(diagnosis.defect)}, perhaps {first.title}: "
    return {text: f"{start}{text}" for text in first.cautions}


def _is_named(diagnosis) -> bool:
    """Whether the answer names the first cause."""
    return diagnosis.enough_to_tell or diagnosis.case.first.evidence > 0


def _questions(case, not_known: Collection[str]) -> list[str]:
    """What would tell most, without what a person has just said they cannot tell."""
    from diagnose import wording
    from diagnose.asking_fields import FIELDS_OF
    from diagnose.unrecorded import most_telling

    many = len(not_known) + IN_LIST
    names = most_telling(case.rows, case.facts, many, first=case.ask_first)
    open_ = [name for name in names if not {name, *FIELDS_OF.get(name, ())} & set(not_known)]
    return [wording.missing(name) for name in open_[:IN_LIST]]


def _of_first(
    diagnosis, lead: str, detail: Detail, not_known: Collection[str], repeated: set[str]
) -> list[str]:
    """What is known of the first cause and what to do about it, each sentence once."""
    first, is_by_count = _told_cause(diagnosis)
    open_ = [] if diagnosis.enough_to_tell else _questions(diagnosis.case, not_known)
    is_told = has_suspect(diagnosis) and first.name != OTHER
    answer = in_answer(diagnosis)
    own, alike = beside_answer(counts(diagnosis), answer)[: detail.own], twins(diagnosis)
    alike = alike[: detail.twins]
    tests = first.tests[: detail.tests] if is_told else []
    tests = not_counted(tests, [*own, *alike], answer)
    together = [diagnosis.case.together][: detail.own] if diagnosis.case.together else []
    parts = (
        ("for", not_said(first.for_, lead)[: detail.for_]),
        ("note", news(diagnosis, [first])[: detail.notes]),
        ("against", first.against[: detail.against]),
        ("twins", not_tested(alike, tests)),
        ("your tiles", [*not_tested(own, tests), *together]),
        ("since when", [diagnosis.case.since][: detail.own] if diagnosis.case.since else []),
        ("trials", [*_trials(diagnosis)[: detail.trials], *diagnosis.case.of_kin[: detail.kin]]),
        ("to find out", open_[: detail.questions]),
        ("to be sure", [each.say for each in tests]),
        ("fix", [] if diagnosis.look_alike or is_by_count else first.fixes[: detail.fixes]),
        ("caution", first.cautions),
    )
    if not is_told:  # nor is there then anything to do about it
        parts = [(label, texts) for label, texts in parts if label not in OF_SUSPECT]
    return [line for label, texts in parts for line in _labelled(label, texts, repeated)]


def _told_cause(diagnosis) -> tuple:
    """The first cause; where nothing speaks for it, that of the count told first, and that it is.

    Of what is in no list there is nothing to tell.
    """
    from diagnose.own_tiles.head_count import head_count

    case, first = diagnosis.case, diagnosis.causes[0]
    count = None if diagnosis.enough_to_tell or case.first.evidence > 0 else head_count(case)
    if count is None:
        return first, False
    names = {name or OTHER for name in case.own.causes_of(count, case)}
    open_ = (each for each in diagnosis.causes if not each.is_ruled_out)
    return next(each for each in open_ if each.name in names), True


def _trials(diagnosis) -> list[str]:
    """All trials for the tile, briefly."""
    from diagnose.trials.tried import in_short

    return [in_short(diagnosis.case.tried)] if diagnosis.case.tried else []


def _labelled(label: str, sentences: list[str], repeated: set[str]) -> list[str]:
    """Sentences beside their label, without those that were told before."""
    told, is_narrow = [], width() < NARROW
    for sentence in sentences:
        if sentence in repeated:
            continue
        if is_narrow:
            told += hanging("   ", sentence if told else f"{label}: {sentence}")
        else:
            told += hanging(f"   {'' if told else label:<{LABEL_WIDTH}}", sentence)
        repeated.add(sentence)
    return told


def _listed(diagnosis, most: int) -> list[str]:
    """The causes in order; where lines are short, no list that only repeats the answer."""
    first = diagnosis.causes[0] if has_suspect(diagnosis) else None
    named = [
        cause
        for cause in diagnosis.causes
        if cause is first
        or (
            cause.name != OTHER
            and cause.share >= WORTH_NAMING
            and not (cause.is_ruled_out or cause.is_unspoken)
        )
    ][:most]
    if len(named) == 1 and most < IN_LIST and _is_named(diagnosis):
        return []
    return [
        line
        for cause in named
        for line in hanging(
            f"   {percent(cause.share):>4}  ",
            capital(cause.title) + (_moved(cause) if cause is named[0] else ""),
        )
    ]


def _moved(cause) -> str:
    """What the share was without own tiles, where they moved it enough to tell."""
    alone = cause.share if cause.practice_share is None else cause.practice_share
    if abs(cause.share - alone) < WORTH_TELLING:
        return ""
    return f" ({percent(alone)} without your tiles)"


def _footer(mark: str, diagnoses: list) -> list[str]:
    """What to handle with care, how to see the rest, and what to do next."""
    mark = shell_word(mark)
    named = ", ".join(text.partition(" (")[0] for text in handling(diagnoses))
    care = wrap(f"Handle with care: {named}. How: --all.") if named else []
    rest = with_db(f"In full: tiles why {mark} --all")
    step = with_db(_next_step(mark, diagnoses))
    both = f"{rest}    {step}".rstrip()
    return [*care, *([both] if len(both) <= width() else [rest, step])]


def _next_step(mark: str, diagnoses: list) -> str:
    faults = [each for each in diagnoses if each.is_fault and not each.look_alike]
    if not faults:
        return ""
    if any(each.enough_to_tell for each in faults):
        return f"Amounts: tiles fix {mark}"
    if all(each.case.noted and not has_suspect(each) for each in faults):
        return ""
    return f"Be asked what tells most: tiles why {mark} --ask"
