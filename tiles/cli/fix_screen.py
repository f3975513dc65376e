"""The answer of ``tiles fix`` on one screen: what to try first, then the other tiles in short.

What does not fit is left for ``--all``. Cautions and what to handle with care always stay, and so
does every tile that ``--plan`` would put on record.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from tiles.cli.fix_first import (
    INDENT,
    First,
    all_wait,
    first_of,
    fix_of,
    how_made,
    is_done,
    served_by,
    try_first,
    waiting,
)
from tiles.cli.fix_text import (
    HELD,
    NO_AMOUNT,
    areas_told,
    by_fault,
    by_generic,
    handled,
    of_shelf,
)
from tiles.cli.load_told import beside_make
from tiles.cli.prose import beside, fitting, most_lines, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

MOST_FAULTS = 99
PERHAPS, WAY = "Perhaps", " of the way to "


@dataclass(frozen=True)
class Detail:
    """How much is told: of so many faults why, of so many causes without a tile what to do.

    ``numbers`` are what a recipe change does to the glaze, ``outcomes`` what the first tile will
    mean, ``spoils`` of how many fixes it is told what they may spoil.
    """

    faults: int = MOST_FAULTS
    advice: int = MOST_FAULTS
    spoils: int = MOST_FAULTS
    numbers: bool = True
    twins: bool = True
    tried: bool = True
    outcomes: bool = True


_LESS_AND_LESS = (
    Detail(),
    Detail(spoils=1),
    Detail(spoils=1, numbers=False),
    Detail(spoils=1, numbers=False, advice=1),
    Detail(spoils=1, numbers=False, advice=1, faults=1),
    Detail(spoils=1, numbers=False, advice=0, faults=1, twins=False),
    Detail(spoils=1, numbers=False, advice=0, faults=0, twins=False),
)
_TOO_LONG = (
    _LESS_AND_LESS[-1],
    Detail(spoils=0, numbers=False, advice=0, faults=0, twins=False),
    Detail(spoils=0, numbers=False, advice=0, faults=0, twins=False, tried=False, outcomes=False),
)
"""Where cautions alone fill a screen: what the first tile will mean is worth `MORE` lines."""
MORE = 8


def screen(record, answers: list, marked: list, *, is_planned: bool) -> list[str]:
    """As much as fits, the one thing to try first before all else."""
    told = partial(_told, record, answers, marked, is_planned=is_planned)
    lines = fitting(told, _LESS_AND_LESS)
    return lines if len(lines) <= most_lines() else fitting(told, _TOO_LONG, MORE)


def _told(record, answers: list, marked: list, detail: Detail, *, is_planned: bool) -> list[str]:
    from tiles.chemistry.hazards import REMINDER
    from tiles.records.spoken import spoken_tile

    first = first_of(answers, marked)
    lines = [*wrap(spoken_tile(record)), *_faults(answers, detail)]
    if first and (first.fix or not first.answer.stop):
        lines += ["", *try_first(record, first, answers, marked, detail)]
    fixes = _on_screen(first, answers, marked)
    spoils = _may_spoil(fixes, first, detail)
    lines += ["", *_others(record, answers, marked, first, detail, spoils, is_planned=is_planned)]
    lines += _cautions(answers)
    held = handled(answers)
    lines += wrap(" ".join([HELD, *held])) if held else []
    lines += wrap(f"{REMINDER}{_generic(fixes)}")
    return [*lines, *_footer(record.mark, marked, is_planned=is_planned)]


def _faults(answers: list, detail: Detail) -> list[str]:
    """Each fault with its likeliest cause, and what trials for it showed."""
    lines: list[str] = []
    in_short: dict[str, list[str]] = {}
    stops: dict[str, None] = {}
    for place, (answer, lead) in enumerate(zip(answers, by_fault(answers), strict=True)):
        if place < detail.faults or not answer.causes:
            said = lead.partition(" To find out:")[0]
            lines += wrap(f"{answer.defect.upper()}. {said}")
            lines += beside_make(answer)
        else:
            in_short.setdefault(_in_short(answer), []).append(answer.defect.upper())
        if not answer.causes:
            lines += wrap("Nothing here to put right with amounts.")
        stops |= {answer.stop: None} if answer.stop else {}
    for said, names in in_short.items():
        lines += wrap(f"{', '.join(names)}. {said}")
    if any(said.startswith(PERHAPS) for said in in_short):
        lines += wrap(f"{PERHAPS}: not enough is recorded to tell.")
    for stop in stops:
        lines += wrap(stop)
    for answer in answers:
        of = f"{answer.defect}: " if len(answers) > 1 else ""
        for text in answer.proven:
            lines += beside(f"{INDENT}worked  ", f"{of}{text}")
        of_causes = (text for each in answer.causes for text in _tried(each, answer.proven))
        tried = [*answer.tried, *of_causes]
        for text in tried if detail.tried else ():
            lines += beside(f"{INDENT}tried   ", f"{of}{text}")
    return lines


def _tried(cause, proven: list[str]) -> list[str]:
    of_fixes = (said for each in cause.fixes for said in _tried_so(each, proven))
    return [*of_fixes, *cause.tried]


def _tried_so(fix, proven: list[str]) -> list[str]:
    """What trials of a fix showed, unless it is told as what worked.

    Of one that needs no tile any more its letter stands nowhere else: what it does is told.
    """
    if not is_done(fix):
        return [f"{fix.name}: {text}" for text in fix.tried]
    changes = [each.said for each in fix.changes]
    # The rest follows from how a change begins, so a trial is named by that.
    if not fix.is_recipe and changes[0].casefold() in " ".join(proven).casefold():
        return []
    return [f"{fix.title} ({'; '.join(changes)}): {text}" for text in fix.tried]


def _in_short(answer) -> str:
    from diagnose.wording import how_sure, in_ten, sentence

    cause = answer.causes[0]
    sure = how_sure(cause.share) if answer.enough_to_tell else PERHAPS
    return sentence(f"{sure} ({in_ten(cause.share)}): {cause.title}")


def _others(
    record,
    answers: list,
    marked: list,
    first: First | None,
    detail: Detail,
    spoils: str,
    *,
    is_planned: bool,
) -> list[str]:
    """The other tiles, a line each; what else keeps shelf and answer right; causes without one."""
    from diagnose.trials.controls import why_no_control

    lines: list[str] = []
    told_above = _told_above(first, marked)
    left = [each for each in marked if each not in told_above]
    if left:
        known = "all on record already" if all_wait(marked) and not is_planned else ""
        beside_it = "; ".join(filter(None, (known, spoils)))
        start = "Then" if told_above else "Tiles to fire"
        lines += wrap(f"{start}, one change each{f' ({beside_it})' if beside_it else ''}:")
        lines += _rows(record, left, marked, answers, detail, is_planned=is_planned)
    elif spoils:
        lines += wrap(f"{spoils[:1].upper()}{spoils[1:]}.")
    if marked and not any(each.trial.is_control for each in marked):
        lines += wrap(why_no_control(record.mark, [(m.mark, m.trial.change) for m in marked]))
    lines += of_shelf(record, answers, marked, in_short=True)
    without = [
        (answer, cause)
        for answer in answers
        for cause in answer.causes
        if not (cause.fixes or cause.acts_too or (first and cause is first.cause))
    ]
    for answer, cause in without[: detail.advice]:
        advice = cause.advice[0] if cause.advice else NO_AMOUNT
        of = f"{answer.defect}, " if len(answers) > 1 else ""
        lines += wrap(f"No tile for: {of}{cause.title} ({percent(cause.share)}). {advice}", INDENT)
    return lines


def _told_above(first: First | None, marked: list) -> list:
    """The first tile, and its control where that is the only one."""
    if first is None or first.tile is None:
        return []
    controls = [each for each in marked if each.trial.is_control]
    is_named = len(controls) == 1 and not controls[0].waits
    return [first.tile, *(controls if is_named else [])]


def _may_spoil(fixes: list, first: First | None, detail: Detail) -> str:
    """Of which fixes it is left for --all what they may spoil; "" where all of it is told."""
    from diagnose.wording import listed

    told = 0 if first is None or first.fix is None else detail.spoils
    names = sorted(each.name for each in fixes[told:] if each.spoils)
    is_left = names and detail.spoils < MOST_FAULTS
    return f"what {listed(names)} may spoil: --all" if is_left else ""


def _rows(
    record, left: list, marked: list, answers: list, detail: Detail, *, is_planned: bool
) -> Iterator[str]:
    areas = areas_told(record, marked, in_short=True)
    rows = [(", ".join(each.mark for each in alike), alike[-1]) for alike in _on_one_line(left)]
    width = max(len(said) for said, _ in rows)
    for said, each in rows:
        fix = fix_of(each.trial, answers)
        waits = "" if is_planned or all_wait(marked) else waiting(each)
        head = f"  {said:<{width}}  {f'{fix.name}  ' if fix else ''}"
        more = f"{how_made(each, marked, areas)}{waits}"
        yield from beside(head, f"{_change(each, fix, answers, areas)}{more}")
        if fix and detail.spoils > 1 and each.trial is fix.trials[-1] and fix.spoils:
            yield from beside(" " * len(head), f"May spoil: {' '.join(fix.spoils)}")


def _on_one_line(left: list) -> list[list]:
    """The tiles in their order, those that go only part of the way to a recipe together."""
    found: list[list] = []
    for each in left:
        last = found[-1][-1] if found else None
        if last and _is_part(last) and _is_part(each) and last.waits == each.waits:
            found[-1].append(each)
        else:
            found.append([each])
    return found


def _is_part(tile) -> bool:
    return WAY in tile.trial.change


def _change(tile, fix, answers: list, areas: dict[str, str]) -> str:
    """What is changed on a tile, and for which faults, where there are several."""
    from diagnose.fixes.shapes import NOT_RECORDED
    from diagnose.wording import listed

    if fix is None:
        again = f"once more, as {tile.trial.repeats}" if tile.trial.repeats else "the control"
        return f"{tile.trial.change} ({again})"
    change = tile.trial.change.removesuffix(f" {NOT_RECORDED}")
    if _is_part(tile):
        parts = [each.change.partition(WAY)[0] for each in fix.trials if WAY in each.change]
        change = f"{listed(parts)}{WAY}{fix.name}"
    served = served_by(fix, tile.defect, answers, areas)
    return f"{listed(served)}: {change}" if len(answers) > 1 else change


def _on_screen(first: First | None, answers: list, marked: list) -> list:
    """The fixes that are told of, that of what to try first before the others."""
    of_tiles = (fix_of(each.trial, answers) for each in marked)
    fixes = [*([first.fix] if first else []), *of_tiles]
    return list({each.name: each for each in fixes if each}.values())


def _generic(fixes: list) -> str:
    """That amounts above are reckoned with generic analyses, as short as the last line has room."""
    named = by_generic(fixes)
    if len(named) > 1:
        return f" {len(named)} materials by generic analysis: yours may differ (--all)."
    return f" The analysis of {named[0]} is generic: yours may differ." if named else ""


def _cautions(answers: list) -> list[str]:
    """Every caution of every cause that is told, each once."""
    found = [
        text
        for answer in answers
        for of in (*answer.causes, *([] if answer.causes else [answer]))
        for text in of.cautions
    ]
    return wrap(f"Caution: {' '.join(dict.fromkeys(found))}") if found else []


def _footer(mark: str, marked: list, *, is_planned: bool) -> list[str]:
    """How to see the rest, and how to plan the tiles."""
    from tiles.cli.fix_plan import load_hints

    typed = shell_word(mark)
    rest = with_db(f"In full: tiles fix {typed} --all")
    if is_planned and marked:
        return [rest, *f"On record as planned. {with_db(load_hints(marked))}".splitlines()]
    if all_wait(marked):
        return [rest]
    them = "them" if len(marked) > 1 else "it"
    plan = with_db(f"Put {them} on record: tiles fix {typed} --plan")
    both = f"{rest}    {plan}"
    return [both] if len(wrap(both)) == 1 else [rest, plan]
