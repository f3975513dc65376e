"""Trials that were fired for a failed tile, and what their outcomes are worth for each cause.

`tiles next` says beforehand what each outcome would mean; once the trial is looked at, the same
chances (`diagnose.next_tiles.odds`) move the causes by just that much, as far as the same own tiles
are counted: `tiles why` reads the newest that share a glaze.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import NOT_RECORDED, UNCHANGED
from diagnose.next_tiles.odds import LEAST, MOST
from diagnose.trials.controls import controls_of, sets_of, sound_beside
from diagnose.trials.words import looked_late, not_settled, when_looked
from diagnose.weighing import with_own
from tiles.records.gone import is_gone, telling_looks

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

TOLD_FROM = 0.2
"""A trial that moves a cause by less says nothing of it. [log-odds]."""
MOST_OF_A_CHANGE = math.log(MOST / LEAST)
"""However many trials of one change there are, together they move two causes apart by no more than
one of the surest outcome: all of them may differ from the tile in one more thing. [log-odds]."""


DIFFERS_IN_MORE = 0.5
"""How likely it was the change that decided, for each thing in which a trial differs besides."""


@dataclass(frozen=True)
class Tried:
    """One trial that was fired: its mark, what was changed, and whether the fault came again.

    ``instead`` are the other faults it had. ``moves`` is what that adds to the log-odds of each
    cause by name, "" for one not in the list; empty where it tells none apart. ``answers`` are the
    clues that need not be asked for any more. ``is_early``: last looked at too soon to be sound, as
    a fault that comes late was after so many ``days``: it shows by ``look_after`` days;
    ``is_as_planned``: its record does not gainsay the change. ``glaze`` names the trial recipe that
    it carries, which ends in the line it lies on and how far along it: "A 2/3". ``besides`` is in
    what it differs beyond its change from the failed tile, or was fired otherwise than the control
    beside it. ``beside`` are the controls of its firing where they came out without the fault as
    well as it did: then it tells nothing. ``words`` are the own ones that it was planned in, where
    ``change`` is what its record shows. ``of`` is the tile that it was planned for, where that is
    another one that was made alike; ``is_planned``: it was planned as a trial, and not only made
    and fired like one. ``load`` names the load of the tile, where that failed as a whole and this
    is a control in another one.
    """

    mark: str
    change: str
    came_again: bool
    instead: tuple[str, ...] = ()
    moves: "Mapping[str, float]" = field(default_factory=dict)
    answers: frozenset[str] = frozenset()
    is_early: bool = False
    days: int | None = None
    look_after: int = 0
    is_as_planned: bool = True
    glaze: str = ""
    besides: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    words: str = ""
    of: str = ""
    is_planned: bool = True
    load: str = ""

    def move(self, name: str) -> float:
        """What it adds to the log-odds of one cause."""
        return self.moves.get(name, 0.0)

    @property
    def worth(self) -> float:
        """How likely its outcome tells of its change: less for each thing that differs besides."""
        return DIFFERS_IN_MORE ** len(self.besides)


def by_change(tried: "Sequence[Tried]") -> "list[list[Tried]]":
    """The trials of each change, in the order they were made."""
    found: dict[str, list[Tried]] = {}
    for each in reversed(tried):
        found.setdefault(each.change.casefold(), []).append(each)
    return list(found.values())


def said(alike: "Sequence[Tried]", *, is_named: bool = True) -> str:
    """What the trials of one change showed; the change is named unless it stands there already."""
    from diagnose.wording import listed

    again, many = sum(each.came_again for each in alike), len(alike)
    marks = listed([_with_its_tile(each) for each in alike])
    came = "the fault came again" if again else "the fault did not come"
    if 0 < again < many:
        came += f" on {again} of {many}"
    elif again and many > 1:
        came += " on both" if many == 2 else " on all"
    if not again:
        came += looked_late(alike)
    other = sorted({fault for each in alike if not each.came_again for fault in each.instead})
    instead = f", but {listed(other)}" if other and not again else ""
    if alike[0].change == UNCHANGED and not again and not any(map(_is_otherwise, alike)):
        instead += _of_sound_controls(alike)
    beside = sorted({mark for each in alike for mark in each.beside})
    if beside:
        also = f"; nor did it on {listed(beside)} beside {'them' if many > 1 else 'it'} as it was"
        instead += f"{also}, so that tells nothing"
    besides = [_differs(each) for each in alike if each.besides and not each.beside]
    instead += f", but {listed(besides)}" if besides else ""
    words = listed([f'"{text}"' for text in dict.fromkeys(each.words for each in alike) if text])
    change = f", {alike[0].change}" if is_named else ""
    change += f" (in your words {words})" if words else ""
    return f"trial{'s' if many > 1 else ''} {marks}{change}: {came}{instead}."


def _of_sound_controls(controls: "Sequence[Tried]") -> str:
    """What it tells that the fault came on none of some tiles made as this one was."""
    load = next((each.load for each in controls if each.load), "")
    if load:
        return f", so it was load {load} and not how the tile is made"
    return ", so it comes by chance and one sound trial tells little"


def _with_its_tile(one: Tried) -> str:
    if not one.is_planned:
        return f"{one.mark} (made like it)"
    return f"{one.mark} (for {one.of}, made alike)" if one.of else one.mark


def _is_otherwise(control: Tried) -> bool:
    """Whether a sound one says nothing of luck: looked at too early, or not quite as it was."""
    return control.is_early or bool(control.besides)


def _differs(one: Tried) -> str:
    """In what a trial differs, of one with a change beyond that, and what it is worth then."""
    more = "" if one.change == UNCHANGED else " in more"
    less = " and counts for less" if one.moves else ""
    return f"{one.mark} differs{more} ({'; '.join(one.besides)}){less}"


def in_short(tried: "Sequence[Tried]") -> str:
    """All trials in two sentences: with which changes the fault did not come, with which it did.

    Apart from them those that tell nothing, with the control beside them. Where all were for one
    other tile, it is named once.
    """
    from diagnose.wording import listed, sentence

    again, sound = [], []
    of = {each.of for each in tried}
    is_of_one = len(of) == 1 and of != {""}
    tried = [replace(each, of="") for each in tried] if is_of_one else tried
    moot = by_change([each for each in tried if each.beside])
    for alike in by_change([each for each in tried if not each.beside]):
        change = in_brief(alike[0].change)
        change += ", in another load" if any(each.load for each in alike) else ""
        for came, into in ((False, sound), (True, again)):
            marks = [_mark(each) for each in alike if each.came_again is came]
            many = f" on {len(marks)} of {len(alike)}" if len(alike) > 1 else ""
            into += [(len(marks), f"{change}{many} ({', '.join(marks)})")] if marks else []
    starts = ("Did not come: ", "Came again: ")
    sound.sort(key=lambda each: -each[0])
    told = [
        (start, [said for _, said in of]) for start, of in zip(starts, (sound, again), strict=True)
    ]
    lines = [f"{start}{'; '.join(changes)}." for start, changes in told if changes]
    if moot:
        beside = listed(sorted({mark for alike in moot for each in alike for mark in each.beside}))
        changes = [
            f"{in_brief(alike[0].change)} ({', '.join(map(_mark, alike))})" for alike in moot
        ]
        told_by = f"nothing, as {beside} beside it came out without the fault unchanged"
        lines.append(sentence(f"tells {told_by}: {'; '.join(changes)}"))
    open_ = not_settled([e for e in tried if not (e.came_again or e.beside or e.is_early)])
    lines = [f"For {of.pop()}, made alike.", *lines] if is_of_one else lines
    return " ".join([*lines, *([open_] if open_ else [])])


def in_brief(change: str) -> str:
    """Of a change that no field holds what was done, without how to go on: "still damp"."""
    done, is_by_hand, _ = change.partition(f" {NOT_RECORDED}")
    return done.partition(", ")[0] if is_by_hand else done


def named(tried: Tried) -> str:
    """Its mark, with the tile that it was a trial for where that is another one."""
    return f"{tried.mark} for {tried.of}" if tried.of else tried.mark


def named_all(several: "Sequence[Tried]") -> str:
    """Their marks; where all were trials for one other tile, that is named once."""
    from diagnose.wording import listed

    of = {each.of for each in several}
    if len(of) == 1 and of != {""}:
        return f"{listed([each.mark for each in several])} for {of.pop()}"
    return listed(list(map(named, several)))


def _mark(tried: Tried) -> str:
    """Its mark, with the faults that came instead."""
    instead = [] if tried.came_again else tried.instead
    mark = named(tried) if tried.is_planned else f"{tried.mark} made like it"
    mark += " so far" if tried.is_early else ""
    mark += f" ({tried.days} days)" if tried.is_early and tried.days is not None else ""
    mark += f', "{tried.words}"' if tried.words else ""
    also = "" if tried.change == UNCHANGED else "also "
    mark += f" [{also}{'; '.join(tried.besides)}]" if tried.besides else ""
    return " but ".join(filter(None, (mark, " and ".join(instead))))


def trials_of(case: "Case", others: "Sequence[TileRecord]") -> "list[TileRecord]":
    """The tiles planned as trials for this fault of this tile, fired or not (`sets_of`)."""
    of = sets_of(case.record)
    planned = [each for each in others if each.trial_of in of and each.mark != case.record.mark]
    return [each for each in planned if each.trial_defect == case.defect]


def waiting_for(record: "TileRecord", others: "Sequence[TileRecord]") -> list[str]:
    """Marks of the trials for any fault of a tile that were not looked at yet, and can be."""
    of = sets_of(record)
    waiting = [each for each in others if not each.inspections and not is_gone(each)]
    return [each.mark for each in waiting if each.trial_of in of and each.mark != record.mark]


def with_trials(
    case: "Case", trials: "Sequence[TileRecord]", rest: "Sequence[TileRecord]"
) -> "Case":
    """The case with the outcomes of its trials added to its causes, the likeliest first.

    Parameters
    ----------
    case : Case
        With what own tiles say already added.
    trials : sequence of TileRecord
        From `trials.repeated.all_trials`.
    rest : sequence of TileRecord
        Own tiles but for the trials with a change.
    """
    looked_at = [each for each in trials if telling_looks(each) and each.areas]
    if not looked_at:
        return case
    from diagnose.next_tiles.odds import inspected, late_on
    from diagnose.trials.outcome import outcome

    late = late_on(case, [*rest, *trials])
    alike, tried = inspected(rest, late), []
    own = sets_of(case.record)
    whole: dict[str, dict[str, float]] = {}
    for each in reversed(looked_at):  # the first one made tells most of its change
        controls = controls_of(each, case.record, rest)
        found, again = outcome(case, each, alike, tried, controls)
        of = "" if each.trial_of in own else each.trial_of
        found = replace(found, of=of, is_planned=bool(each.trial_of), **when_looked(late, each))
        beside = () if found.came_again or is_control(each) else sound_beside(each, controls, late)
        if beside:
            tried.append(replace(found, beside=beside, answers=frozenset()))
            continue
        if not any(late.tells(each, area) for area in each.areas):
            found = replace(found, is_early=True, answers=frozenset())
        elif again is not None:
            moves = _moves(case, again, found)
            so_far = whole.get(found.change, dict.fromkeys(moves, 0.0))
            whole[found.change] = {name: so_far[name] + by for name, by in moves.items()}
            before, after = _capped(case, so_far), _capped(case, whole[found.change])
            found = replace(found, moves={name: after[name] - before[name] for name in moves})
        tried.append(found)
    moves = {row.name: sum(each.move(row.name) for each in tried) for row in case.rows}
    answered = frozenset().union(*(each.answers for each in tried))
    rows = not_asked(with_own(case.rows, moves), answered)
    return replace(case, rows=rows, tried=tuple(reversed(tried)))


def _capped(case: "Case", moves: "Mapping[str, float]") -> dict[str, float]:
    """None further behind the foremost than the trials of one change can tell."""
    least = max(moves.values()) - MOST_OF_A_CHANGE
    kept = {name: max(least, by) for name, by in moves.items()}
    whole = math.log(sum(row.share * math.exp(kept[row.name]) for row in case.rows))
    return {name: by - whole for name, by in kept.items()}


def not_asked(rows: "Sequence[Weighed]", answered: frozenset[str]) -> "tuple[Weighed, ...]":
    """The causes without the questions that own tiles have answered."""
    return tuple(
        replace(row, missing=tuple(s for s in row.missing if s.measure not in answered))
        for row in rows
    )


def without(others: "Sequence[TileRecord]", trials: "Iterable[TileRecord]") -> "list[TileRecord]":
    """Own tiles but for these trials."""
    marks = {each.mark for each in trials}
    return [each for each in others if each.mark not in marks]


def changed_in(trials: "Sequence[TileRecord]") -> "list[TileRecord]":
    """Those with a change: the control is one more tile like the failed one."""
    return [each for each in trials if not is_control(each)]


def is_control(trial: "TileRecord") -> bool:
    """Whether a trial was planned as the failed tile once more, with nothing changed."""
    return trial.trial_change == UNCHANGED


def tells_nothing(tried: Tried) -> bool:
    """Whether it was looked at too early, or its control is sound as well."""
    return tried.is_early or bool(tried.beside)


def _moves(case: "Case", again: "Sequence[float]", told: Tried) -> dict[str, float]:
    """What an outcome adds to the log-odds of each cause.

    As far as it was not the change that decided, it is as likely whatever the cause.
    """
    likely = [chance if told.came_again else 1 - chance for chance in again]
    whole = sum(row.share * chance for row, chance in zip(case.rows, likely, strict=True))
    return {
        row.name: math.log(1 + told.worth * (chance / whole - 1))
        for row, chance in zip(case.rows, likely, strict=True)
    }
