"""The answer of ``tiles next MARK`` on one screen: a line for each tile, one for its outcomes.

The causes go by letters, so that what an outcome would mean fits beside it. What does not fit is
left for ``--all``; what a tile may do to a shelf or holds of poison always stays.
"""

from dataclasses import dataclass
from functools import partial

from tiles.cli import next_text
from tiles.cli.next_doubt import is_settled, settled_told, tells_little, to_fire, together
from tiles.cli.next_text import (
    LITTLE,
    MOST_LEFT_OUT,
    SOONER,
    cooler_told,
    done_told,
    leading,
    like_told,
    load_said,
    made_already,
    no_control,
    own_areas,
    poison,
    without_more,
)
from tiles.cli.prose import beside, between_words, counted, fitting, percent, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word


@dataclass(frozen=True)
class Detail:
    """What is told beside the tiles and their outcomes.

    ``sooner`` is a quick test of a fault that comes late, ``vain`` the changes that own tiles
    answer already, ``own`` how many own tiles made like a trial came out so.
    """

    sooner: bool = True
    vain: bool = True
    own: bool = True
    asks: bool = True


_LESS_AND_LESS = (
    Detail(),
    Detail(sooner=False),
    Detail(sooner=False, vain=False),
    Detail(sooner=False, vain=False, asks=False),
    Detail(sooner=False, vain=False, asks=False, own=False),
)


def screen(found, marked: list, *, is_planned: bool) -> list[str]:
    """As much as fits; where no tile is fired the full answer is as short."""
    if found.stop or not found.tiles:
        return next_text.screen(found, marked, is_planned=is_planned)
    return fitting(partial(_told, found, marked, is_planned=is_planned), _LESS_AND_LESS)


def _told(found, marked: list, detail: Detail, *, is_planned: bool) -> list[str]:
    letters = _letters(found)
    lines = _causes(found, letters)
    lines += wrap(load_said(found))
    lines += [*done_told(found), *(line for each in found.of_kin for line in wrap(each, "  "))]
    if tells_little(found):
        lines += _little(found, detail)
    lines += ["", *_plan(found, marked, letters, detail), ""]
    lines += wrap(f"{together(found)} Shares follow common practice, no measured frequency.")
    lines += [*wrap(found.saves_shelf), *wrap(found.hot_shelf), *_later(found, detail)]
    lines += _not_proposed(found, [each.mark for each in marked], detail)
    lines += without_more(found)
    return [*lines, *_footer(found.mark, is_planned=is_planned)]


def _letters(found) -> dict[str, str]:
    """A letter for each cause that is told of, in the order of the causes."""
    told = [title for title, _ in leading(found)]
    for each in found.tiles:
        for then in (each.if_again, each.if_sound):
            told += [title for title, _ in _moved(then, found.causes)]
    named = [title for title, _ in found.causes if title in told]
    return {title: chr(ord("a") + at) for at, title in enumerate(named)}


def _moved(then: list, now: list) -> list[tuple[str, float]]:
    """The cause that then leads, and one that rises; none where little changes."""
    from diagnose.next_tiles.choice import changes_little, riser

    if changes_little(then, now):
        return []
    lifted = riser(then, now)
    return [then[0], *([lifted] if lifted else [])]


def _causes(found, letters: dict[str, str]) -> list[str]:
    """The fault and its likeliest causes, each with its letter; what own tiles say against one."""
    head = f"{found.mark}, {found.defect}."
    if not letters:
        return wrap(f"{head} Nothing recorded speaks for any cause.")
    shares = dict(found.causes)
    start = "Likeliest so far:" if leading(found) else "Nothing recorded speaks for any cause yet:"
    lines = wrap(f"{head} {start}")
    for title, letter in letters.items():
        lines += beside(f"  {percent(shares[title]):>4}  ({letter}) ", title)
    for title, said in found.against.items():
        of = f"({letters[title]})" if title in letters else title
        lines += wrap(f"{said} That speaks against {of}.")
    if is_settled(found) and not found.confirm:
        lines += settled_told(found)
    return lines


def _little(found, detail: Detail) -> list[str]:
    """That no tile tells much; and, where it fits, the fact that tells most without a firing."""
    if detail.asks:
        return next_text.ask_first(found)
    ask = f"'tiles why {shell_word(found.mark)} --ask' may tell more."
    return between_words(with_db(f"No single tile tells much here: {ask}"))


def _plan(found, marked: list, letters: dict[str, str], detail: Detail) -> list[str]:
    """The tiles to make: the control, how it is made, and each change with its outcomes."""
    lines = wrap(to_fire(found))
    width = max(len(each.mark) for each in marked)
    if found.control:
        said = f"{found.control.change} (the control){made(marked[0].values)}"
        lines += beside(f"{marked[0].mark:<{width}}  ", said)
    else:
        lines += no_control(found, [each.mark for each in marked])
    for one, each in zip(marked[-len(found.tiles) :], found.tiles, strict=True):
        lines += _tile(f"{one.mark:<{width}}  ", each, found, letters, detail)
    return lines


def made(values: dict) -> str:
    """How the control is made, and where it stands: ": red clay, pond x3, shelf top"."""
    from tiles.records import forms
    from tiles.records.spoken import spoken_areas

    record = forms.read(forms.TileRecord, values)
    shelf = f", shelf {record.shelf}" if record.shelf else ""
    return f": {record.body.name}, {spoken_areas(record.areas)}{shelf}"


def _tile(head: str, each, found, letters: dict[str, str], detail: Detail) -> list[str]:
    """The change, and what each outcome would mean."""
    from diagnose.fixes.shapes import NOT_RECORDED

    own = f" (a firing of its own: {each.own_firing})" if each.own_firing else ""
    change = each.trial.change.removesuffix(f" {NOT_RECORDED}")
    lines = beside(head, f"{change}{made_already(each)}{own}")
    again, sound = (
        _meaning(then, found.causes, letters) for then in (each.if_again, each.if_sound)
    )
    failed = f"Again ({_chance(each, detail)})"
    told = f"{failed}: {'' if again == LITTLE else 'then '}{again}. Sound: {sound}."
    if again == sound == LITTLE:
        told = f"{failed} or sound: {LITTLE} either way."
    for text in (told, each.other_fault, poison(each.holds) if each.holds else ""):
        lines += beside(" " * len(head), text) if text else []
    return lines


def _meaning(then: list, now: list, letters: dict[str, str]) -> str:
    moved = _moved(then, now)
    if not moved:
        return LITTLE
    rather = "rather " if moved[0][0] != now[0][0] else ""
    return rather + ", ".join(f"({letters[title]}) {percent(share)}" for title, share in moved)


def _chance(each, detail: Detail) -> str:
    """How likely it fails again by all that is known, and how own tiles made so did."""
    from diagnose.wording import in_ten

    known = each.chance_again if each.chance_known is None else each.chance_known
    own = f"{own_areas(each.sound_areas)}{like_told(each.like)}" if detail.own else ""
    return f"{in_ten(known)}{own}"


def _later(found, detail: Detail) -> list[str]:
    said = next_text.look_again(found, in_short=not detail.sooner)
    sooner = f" {SOONER.get(found.defect, '')}" if detail.sooner else ""
    return wrap(f"{said}{sooner}") if said else []


def _not_proposed(found, marks: list[str], detail: Detail) -> list[str]:
    """Changes that would harm the shelf, and those that own tiles answer already."""
    if detail.vain:
        return next_text.not_proposed(found, marks)
    lines = []
    if found.left_out:
        shown = "; ".join(found.left_out[:MOST_LEFT_OUT])
        lines += wrap(f"Not proposed, for the shelf's sake: {shown}.")
    lines += cooler_told(found, marks)
    if many := len(found.made) + len(found.in_vain):
        lines += wrap(f"Left out: {counted(many, 'change')} that your tiles answer already.")
    return lines


def _footer(mark: str, *, is_planned: bool) -> list[str]:
    typed = shell_word(mark)
    rest = with_db(f"In full: tiles next {typed} --all")
    if is_planned:
        return [rest]
    plan = with_db(f"Put them on record: tiles next {typed} --plan")
    both = f"{rest}    {plan}"
    return [both] if len(wrap(both)) == 1 else [rest, plan]
