"""What worked on trials: changes that are proven or came out sound once, and what is not settled.

A change is told from its first sound tile on, and that one tile may be luck: whoever has it need
not try another one first, but fire it once more.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import takewhile
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import UNCHANGED
from diagnose.trials.tried import Tried, by_change, in_brief, named_all, tells_nothing
from diagnose.trials.words import looked_late, not_settled
from diagnose.wording import listed

if TYPE_CHECKING:
    from diagnose.case import Case

LEAST_SOUND = 2
"""One sound tile may be luck: from so many on a change is told as what worked. One that differs in
more is worth less than one."""


def proven(tried: Sequence[Tried]) -> list[str]:
    """The changes that mend: most tiles with them are sound, two at least, and most often first.

    None where the fault came on no control: what did not come again anyway, nothing has mended.
    Where it can come later, also when to look again.
    """
    if _never_failed(tried):
        return []
    failed = [each for each in reversed(tried) if _is_control(each) and each.came_again]
    as_it_was = f"; as it was, {named_all(failed)} failed again" if failed else ""
    as_planned = [each for each in tried if not tells_nothing(each) and each.is_as_planned]
    found = list(_along_lines(as_planned))
    of_line = [{each.mark for each in sound} for sound, _ in found]
    for alike in by_change([each for each in as_planned if not _is_control(each)]):
        sound = [each for each in alike if _is_unharmed(each)]
        is_told = any({each.mark for each in sound} <= marks for marks in of_line)
        if _are_enough(sound) and 2 * len(sound) > len(alike) and not is_told:
            many = f"{len(sound)} of {len(alike)} of your tiles"
            found.append((sound, f"{alike[0].change}: it worked on {many} ({named_all(sound)})"))
    return [
        " ".join(filter(None, (f"{said}{looked_late(sound)}{as_it_was}.", not_settled(sound))))
        for sound, said in sorted(found, key=lambda each: -len(each[0]))
    ]


def _along_lines(tried: Sequence[Tried]) -> Iterator[tuple[list[Tried], str]]:
    """The sound trial recipes of each line, and the first of them from which on it is sound.

    All beyond it on the line are sound as well; those short of it need not be.
    """
    lines: dict[str, list[Tried]] = {}
    for each in tried:
        line, _, point = each.glaze.rpartition(" ")
        if line and point and set(point) <= set("0123456789/"):
            lines.setdefault(line, []).append(each)
    for of_line in lines.values():
        far_end_first = sorted(of_line, key=lambda each: -Fraction(each.glaze.rpartition(" ")[2]))
        sound = list(takewhile(_is_unharmed, far_end_first))
        if _are_enough(sound):
            marks = named_all(list(reversed(sound)))
            beyond = (
                " and what lies beyond it on its line" if sound[0].glaze != sound[-1].glaze else ""
            )
            yield sound, f"the glaze {sound[-1].glaze}{beyond} came out sound ({marks})"


def worked_once(tried: Sequence[Tried]) -> list[list[Tried]]:
    """The trials of each change that came out sound every time, too few to prove it; recipes first.

    None where no control failed, as `proven` has it.
    """
    if _never_failed(tried):
        return []
    told = proven(tried)
    of_glaze: dict[str, list[Tried]] = {}
    for each in reversed(tried):
        if each.glaze and not any(_names_line(text, each.glaze) for text in told):
            of_glaze.setdefault(each.glaze, []).append(each)
    recipes = [alike for alike in of_glaze.values() if all(map(_is_sound, alike))]
    changes = [
        alike
        for alike in by_change([each for each in tried if not each.glaze])
        if alike[0].change != UNCHANGED
        and all(_is_sound(each) and not each.besides for each in alike)
        and not any(text.startswith(f"{alike[0].change}: ") for text in told)
    ]
    return [*recipes, *changes]


def worked_already(case: "Case") -> list[str]:
    """What worked on trials already: first what is proven, then what came out sound once."""
    return [*proven(case.tried), *_once(worked_once(case.tried))]


def recipes_that_worked(tried: Sequence[Tried]) -> list[str]:
    """The same, of what came out sound once only the trial recipes."""
    return [*proven(tried), *_once([each for each in worked_once(tried) if each[0].glaze])]


def _once(so: list[list[Tried]]) -> list[str]:
    """That some changes came out sound, what to do with them, and what is not settled of it."""
    if not so:
        return []
    sound, is_one = [each for alike in so for each in alike], len(so) == 1
    recipes = [f"{each[0].glaze} ({named_all(each)})" for each in so if each[0].glaze]
    steps = [f"{in_brief(e[0].change)} ({named_all(e)})" for e in so if not e[0].glaze]
    named_so = [f"the trial recipe{'s' * (len(recipes) > 1)} {listed(recipes)}"] if recipes else []
    use = "use it" if is_one else "use one of these"
    if steps:
        use = f"make the next ones {'so' if is_one else 'in one of these ways'}"
    later = not_settled(sound).removesuffix(".")
    far, then = (" so far", f". {later} before you {use}") if later else ("", f": {use}")
    is_luck = any(len(alike) == 1 for alike in so)
    more = " One tile may be luck, so fire the one you take once more." if is_luck else ""
    return [f"{listed([*named_so, *steps])} came out sound{far}{looked_late(sound)}{then}.{more}"]


def _is_control(tried: Tried) -> bool:
    return tried.change == UNCHANGED


def _never_failed(tried: Sequence[Tried]) -> bool:
    """Whether the fault stayed away on each control: then no change has mended it."""
    controls = [each.came_again for each in tried if _is_control(each)]
    return bool(controls) and not any(controls)


def _is_unharmed(tried: Tried) -> bool:
    return not (tried.came_again or tried.instead)


def _is_sound(tried: Tried) -> bool:
    return _is_unharmed(tried) and not tells_nothing(tried) and tried.is_as_planned


def _are_enough(sound: Iterable[Tried]) -> bool:
    return sum(each.worth for each in sound) >= LEAST_SOUND


def _names_line(text: str, glaze: str) -> bool:
    """Whether what is proven is the line that a trial recipe lies on."""
    return text.startswith(f"the glaze {glaze.rpartition(' ')[0]} ")
