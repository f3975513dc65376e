"""The next question: the one whose answer is expected to narrow the field of causes most.

How narrow the field is, is measured by the entropy of the shares [nats]: 0 when one cause holds
all, ln(n) when n causes hold the same. For every fact that is still blank each possible answer is
tried on a copy of the record, and the causes are weighed anew. How likely an answer is follows
from the causes by the shares they hold: a cause that an answer would lift by w log-odds is taken to
bring that answer exp(w) times as often as a cause that says nothing of it, and no cause brings it
more than nearly always. So an answer that would decide for a cause of 2 % is about as unlikely as
that cause. "Don't know" leaves the field as it is, and is an answer too.

Effort comes before that: what a person sees on the piece, remembers of how it was made or reads in
the kiln's log is asked first, the thickness of the coat last, for which the piece must be broken or
should have been pricked before the firing. Among questions alike in effort the one expected to
narrow the field most comes first; what is not worth a person's trouble comes after all others.
"""

import math
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose import asking_fields, asking_shelf, fields
from diagnose.colour_layer import judged, lower_layer
from diagnose.measures.of_area import measures
from diagnose.vocabulary import effort_of, kind_of, measure_words
from diagnose.wording import is_one_dip, listed
from tiles.records.clues import clues

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

LEAST_GAIN = 1e-6
"""A question that narrows the field by less [nats] is not worth asking."""
WORTH_ASKING = 0.02
"""A person is not asked what is expected to narrow the field by less. [nats]"""
BEFOREHAND_YES = 0.3
"""How often a clue is taken to be yes where no cause speaks to it (estimate)."""
MOST_OFTEN = 0.95
"""No cause brings an answer more often than this (estimate)."""
DONT_KNOW_CLUE = 0.25
DONT_KNOW_LOOK, DONT_KNOW_REFIRED = 0.1, 0.75
"""Less often of what can be seen on the piece now, unless it takes a further firing to see it."""
DONT_KNOW_MEASURE = 0.4
DONT_KNOW_COAT = {"fired_thickness_mm": 0.6, "thickness_mm": 0.9}
"""How often the answer is "don't know": more often where something must be measured, most of all
the coat of a tile that is fired already, and that before the firing can only be remembered
(estimates)."""


@dataclass(frozen=True)
class Choice:
    """One answer, how likely it is to be given, and how the causes would then weigh."""

    value: object
    said: str
    chance: float
    rows: "tuple[Weighed, ...]"


@dataclass(frozen=True)
class Question:
    """A question worth asking; ``gain`` is the entropy it is expected to take away [nats].

    ``choices`` are the answers tried; for a number they are a few typical ones, and any other may
    be given.
    """

    name: str
    text: str
    choices: tuple[Choice, ...]
    chance_unknown: float
    gain: float


def entropy(rows: "Sequence[Weighed]") -> float:
    """How widely the shares are spread [nats]; four that hold a quarter each give ln(4) = 1.386."""
    return _spread([row.share for row in rows])


def _spread(shares: Sequence[float]) -> float:
    return -sum(share * math.log(share) for share in shares if share > 0)


def questions(
    case: "Case", leave_out: Collection[str] = (), others: "Sequence[TileRecord]" = ()
) -> list[Question]:
    """Every question worth asking, the most telling first among those alike in effort.

    Parameters
    ----------
    case : Case
        The defect as weighed so far.
    leave_out : collection of str
        Questions asked already.
    others : sequence of TileRecord
        Own tiles, as the case was weighed with: what they tell by shelf may turn on the answer.
    """
    left = set(leave_out)
    if left & DONT_KNOW_COAT.keys():  # who cannot tell the one thickness seldom knows the other
        left |= DONT_KNOW_COAT.keys()
    found = [_question(case, name) for name in _open_names(case) if name not in left]
    if asking_shelf.SHELF not in left:
        found.append(_which_shelf(case, others))
    worth = [each for each in found if each is not None and each.gain >= LEAST_GAIN]
    return sorted(worth, key=lambda each: _order(each, case.ask_first))


def _order(question: Question, first: Collection[str]) -> tuple:
    name, is_small = question.name, question.gain < WORTH_ASKING
    return is_small, name not in first, effort_of(name), -question.gain, name


def answered(case: "Case", name: str, value: object) -> "TileRecord | None":
    """A copy of the tile's record with the answer on it; None when it cannot be held there."""
    return fields.filled(case.record, case.area_number, name, value)


def _open_names(case: "Case") -> list[str]:
    """Clues and fields that are blank and on which a sign of some cause waits or depends."""
    known = {kind_of(name) for name in case.facts} - {""}
    waiting = {sign.measure for row in case.rows for sign in row.missing} | _conditions(case)
    waiting -= {"coats"} if is_one_dip(case.facts) else set()
    names = []
    for measure in sorted(waiting):
        if kind_of(measure) not in known:
            names += [measure] if measure in clues() else asking_fields.FIELDS_OF.get(measure, ())
    # What only a note tells may still be asked: a field says it more surely.
    place = case.record, case.area_number
    names = [name for name in dict.fromkeys(names) if not fields.is_filled(*place, name)]
    # An answer is held by the uppermost glaze: of a colour that is judged under it none is asked.
    is_lower = lower_layer(judged(case.view)) is not None
    return [name for name in names if not (is_lower and fields.is_of_layer(name))]


def _conditions(case: "Case") -> set[str]:
    """Blanks that decide whether what is recorded counts: three coats, brushed or dipped."""
    told = {
        key.removeprefix("not_")
        for row in case.rows
        for sign in (row.cause.signs if row.cause else ())
        if sign.measure in case.facts
        for key in sign.only
    }
    return (told & asking_fields.FIELDS_OF.keys() & measure_words().keys()) - case.facts.keys()


def _question(case: "Case", name: str) -> Question | None:
    tried = [
        (value, said, _weighed_with(case, name, value))
        for value, said in asking_fields.answers(case, name)
    ]
    tried = [each for each in tried if each[2]]
    if len(tried) < 2:
        return None
    chances = _chances(case.rows, name, [rows for _, _, rows in tried])
    return _of_answers(name, asking_fields.text(name), tried, chances, entropy(case.rows))


def _which_shelf(case: "Case", others: "Sequence[TileRecord]") -> Question | None:
    """Where it stood; None where that is on record, or nothing is known of any shelf.

    No cause brings a tile to a shelf, but more of those that failed stood where it fails: each
    shelf is as likely as all causes together weigh there.
    """
    name = asking_shelf.SHELF
    if fields.is_filled(case.record, case.area_number, name):
        return None
    found = asking_shelf.shelves(case.record, others)
    if len(found) < 2:
        return None
    tried = [(each, each, asking_shelf.weighed_on(case, each, others)) for each in found]
    weights = [sum(math.exp(row.log_odds) for row in rows) for _, _, rows in tried]
    chances = [each / sum(weights) for each in weights]
    over_all: Counter[str] = Counter()
    for chance, (_, _, rows) in zip(chances, tried, strict=True):
        over_all.update({row.name: chance * row.share for row in rows})
    text = f"{asking_fields.text(name)} {listed(found, 'or')}?"
    return _of_answers(name, text, tried, chances, _spread([*over_all.values()]))


def _of_answers(
    name: str, text: str, tried: Sequence[tuple], chances: Sequence[float], now: float
) -> Question:
    """A question from its answers, each as (value, how it is said, the causes then).

    ``now`` is the entropy before any of them is given.
    """
    expected = sum(
        chance * entropy(rows) for chance, (_, _, rows) in zip(chances, tried, strict=True)
    )
    unknown = _chance_unknown(name)
    choices = tuple(
        Choice(value, said, chance * (1 - unknown), rows)
        for chance, (value, said, rows) in zip(chances, tried, strict=True)
    )
    gain = (1 - unknown) * (now - expected)
    return Question(name, text, choices, unknown, gain)


def _chance_unknown(name: str) -> float:
    if name == "glossy_after_refire":
        return DONT_KNOW_REFIRED
    if name in clues():
        return DONT_KNOW_LOOK if clues()[name].group == "look" else DONT_KNOW_CLUE
    if name == "colour_applied_on":  # remembered, not measured
        return DONT_KNOW_CLUE
    return DONT_KNOW_COAT.get(name, DONT_KNOW_MEASURE)


def _weighed_with(case: "Case", name: str, value: object) -> "tuple[Weighed, ...]":
    record = answered(case, name, value)
    if record is None:
        return ()
    known = measures(record, case.area_number, case.defect)
    from_notes = {key: fact for key, fact in case.facts.items() if fact.note and key not in known}
    # What own tiles say stays as it is while answers are tried.
    return case.weighed(known | from_notes)


def _chances(
    now: "Sequence[Weighed]", name: str, tried: "Sequence[Sequence[Weighed]]"
) -> list[float]:
    """How likely each answer is, over all causes by their shares; adds up to 1."""
    then = [{row.name: row.log_odds for row in rows} for rows in tried]
    lifts = [[math.exp(odds[row.name] - row.log_odds) for odds in then] for row in now]
    usual = _no_oftener(_beforehand(name, len(tried)), lifts)
    chances = [0.0] * len(tried)
    for row, lifted in zip(now, lifts, strict=True):
        weights = [part * lift for part, lift in zip(usual, lifted, strict=True)]
        for place, weight in enumerate(weights):
            chances[place] += row.share * weight / sum(weights)
    return chances


def _no_oftener(beforehand: list[float], lifts: list[list[float]]) -> list[float]:
    """How often a cause that says nothing of the question brings each answer; adds up to 1.

    Some cause brings an answer ``lift`` times as often, and that must stay under ``MOST_OFTEN``;
    what is taken off goes to the answers that are still free to come oftener.
    """
    whole = sum(beforehand)
    ceilings = [MOST_OFTEN / max(column) for column in zip(*lifts, strict=True)]
    held = [min(part / whole, most) for part, most in zip(beforehand, ceilings, strict=True)]
    room = [most - part for part, most in zip(held, ceilings, strict=True)]
    short, free = 1 - sum(held), sum(room)
    if short > 0 and free > 0:
        held = [part + min(1.0, short / free) * gap for part, gap in zip(held, room, strict=True)]
    return [part / sum(held) for part in held]


def _beforehand(name: str, count: int) -> list[float]:
    """How often each answer is given where no cause speaks to it: middling figures more often."""
    if name in clues():
        return [BEFOREHAND_YES, 1 - BEFOREHAND_YES]
    if asking_fields.is_ordered(name):
        return [1.0 + min(at, count - 1 - at) for at in range(count)]
    return [1.0] * count
