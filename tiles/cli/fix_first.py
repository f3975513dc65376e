"""What ``tiles fix`` says on one screen to try first: a fix and its tile, or the rules' advice."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tiles.cli.fix_text import (
    NO_AMOUNT,
    SAME_REMEDY,
    areas_told,
    compared,
    estimated,
    first_tile,
    if_it,
    serves_all,
    weights,
)
from tiles.cli.load_told import control_for, load_first
from tiles.cli.prose import wrap

if TYPE_CHECKING:
    from tiles.cli.fix_screen import Detail

INDENT = "   "


@dataclass(frozen=True)
class First:
    """What to try first: a fix and its tile, or, without one, what the rules advise."""

    answer: object
    cause: object
    fix: object = None
    tile: object = None


def first_of(answers: list, marked: list) -> First | None:
    """Of the worst open fault: the tile that tells most of its cause, else the fix of its first.

    The control of a load that failed as a whole goes before these.
    """
    if of_load := next((each for each in answers if each.is_of_load), None):
        return First(of_load, of_load.causes[0], tile=control_for(of_load, marked))
    answer = next((each for each in answers if each.causes and not _has_worked(each)), None)
    if answer is None:
        return None
    cause = answer.causes[0]
    if answer.first:
        tile = first_tile(answer, marked)
        fix = fix_of(tile.trial, answers)
        return First(answer, next(c for c in answer.causes if _acts(fix, c)), fix, tile)
    fixes = [fix for each in answers for one in each.causes for fix in one.fixes]
    able = [fix for fix in [*cause.fixes, *fixes] if _acts(fix, cause)]
    fix = next((each for each in able if each.trials), next(iter(able), None))
    changes = [each.change for each in fix.trials[-1:]] if fix else []
    tile = next((each for each in marked if each.trial.change in changes), None)
    return First(answer, cause, fix, tile)


def _has_worked(answer) -> bool:
    """Whether a trial shows what mends it, or no tile is left of a fix of its likeliest cause."""
    return answer.mended or any(map(is_done, answer.causes[0].fixes))


def is_done(fix) -> bool:
    """Whether a fix was tried and no tile of it is left to fire."""
    return bool(fix.tried) and not fix.trials


def _acts(fix, cause) -> bool:
    return fix.name in (*(each.name for each in cause.fixes), *cause.acts_too)


def fix_of(trial, answers: list):
    """The fix that a trial carries out; None of a control."""
    name = trial.name.partition(" ")[0]
    fixes = (fix for answer in answers for cause in answer.causes for fix in cause.fixes)
    return next((fix for fix in fixes if fix.name == name), None)


def try_first(record, first: First, answers: list, marked: list, detail: "Detail") -> list[str]:
    """What to do, with its amounts; what its outcome would mean, and what it may spoil."""
    from diagnose.wording import listed

    areas = areas_told(record, marked, in_short=True)
    served = served_by(first.fix, first.answer.defect, answers, areas)
    what_for = f", for {listed(served)}" if len(answers) > 1 else ""
    if first.answer.is_of_load:
        is_above = answers.index(first.answer) < detail.faults
        above, in_short = first.answer.say if is_above else "", not detail.outcomes
        return load_first(first.answer, marked, above, what_for, in_short=in_short)
    if first.fix is None:
        return _advised(first, what_for)
    tile = first.tile
    which = f": {tile.mark} ({first.fix.name}){compared(tile, marked)}" if tile else ""
    waits = "" if all_wait(marked) else waiting(tile)
    lines = wrap(f"TRY FIRST{what_for}{which}{waits}.")
    how = how_made(tile, marked, areas) if tile else ""
    told = [f"{_amounts(first).removesuffix('.')}{how}."]
    if detail.twins:
        told += [*first.cause.against[:1], *first.cause.twins]
    if detail.numbers and first.fix.is_recipe:
        told += [" ".join(first.cause.say)] if first.cause.say else []
        told += [f"{_estimates(first.fix)}."]
    if detail.outcomes and first.answer.first:
        told.append(if_it(first.answer))
    elif detail.outcomes and not first.answer.enough_to_tell and serves_all(first.answer.causes):
        told.append(SAME_REMEDY)
    if detail.spoils and first.fix.spoils:
        told.append(f"May spoil: {' '.join(first.fix.spoils)}")
    return [*lines, *(line for text in told for line in wrap(INDENT + text, INDENT))]


def _advised(first: First, what_for: str) -> list[str]:
    """What the rules say in words, where there is nothing to weigh or count."""
    cause = first.cause
    advice = cause.advice[0] if cause.advice else NO_AMOUNT
    lines = wrap(f"TRY FIRST{what_for}: {advice}")
    sure = f"{INDENT}No tile proves it. To be sure: {cause.confirm[0]}" if cause.confirm else ""
    return [*lines, *wrap(sure, INDENT)]


def served_by(fix, defect: str, answers: list, areas: dict[str, str]) -> list[str]:
    """The faults that a tile for one of them tells of: those of the area that it is made as.

    Not those of a load that failed as a whole: its control goes before any change for these.
    """
    if fix is None:
        return [defect]
    asked = [each for each in answers if not each.is_of_load]
    of_fix = (each.defect for each in asked if any(_is_open(fix, one) for one in each.causes))
    return [each for each in of_fix if areas.get(each) == areas.get(defect)]


def _is_open(fix, cause) -> bool:
    """Whether a fix acts on a cause and no trial has shown yet that it mends it."""
    done = {each.name for each in cause.fixes if is_done(each)}
    return _acts(fix, cause) and fix.name not in done


def _amounts(first: First) -> str:
    fix = first.fix
    if not fix.is_recipe:
        return f"{fix.title}: {'; '.join(change.said for change in fix.changes)}."
    per_hundred, _, own = fix.title.partition("; ")
    more = f" {own[:1].upper()}{own[1:]}." if own else ""
    recipe = f" Parts per 100 of the base: {weights(fix.trials[-1])}." if fix.trials else ""
    return f"{per_hundred}.{more}{recipe}"


def _estimates(fix) -> str:
    return "; ".join(estimated(each) for each in fix.predictions if each.low is not None)


def how_made(tile, marked: list, areas: dict[str, str]) -> str:
    """As which area it is made, and how it is fired where others are fired otherwise."""
    is_apart = tile.own_firing and len({each.own_firing for each in marked}) > 1
    apart = f" (a firing of its own: {tile.own_firing})" if is_apart else ""
    return f"{areas.get(tile.defect, '')}{apart}"


def all_wait(marked: list) -> bool:
    """Whether every tile is on record already."""
    return all(each.waits for each in marked)


def waiting(tile) -> str:
    """That a tile is on record already; "" where it is not."""
    return " (on record already)" if tile and tile.waits else ""
