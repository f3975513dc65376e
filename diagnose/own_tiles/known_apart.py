"""Own tiles known to be made otherwise than one that is to be fired, in what a fault hangs on.

What crawled on dusty bisque says nothing of a tile on clean bisque, what blistered over coral alone
nothing of one over leaf: no count beside its forecast holds it. A tile of which that is not
recorded may have been like it, and counts.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from diagnose.comparing.factors import with_dust_told
from diagnose.rules import load
from diagnose.trials.clues import BY_HAND
from diagnose.vocabulary import answer_said

if TYPE_CHECKING:
    from diagnose.view import View


def handled(view: "View") -> dict[str, str]:
    """The clues that say how an area was glazed; bisque that was wiped is dusty no more."""
    known = {name: answer for name, answer in view.clues.items() if name in BY_HAND}
    return with_dust_told(known)


def bearing(clues: Mapping[str, str], defect: str) -> dict[str, str]:
    """Those of some clues that a cause of a fault rests on."""
    asked = {sign.measure for cause in load(defect).causes for sign in cause.signs}
    return {name: answer for name, answer in clues.items() if name in asked}


def apart(own: Mapping[str, str], its: Mapping[str, str]) -> list[str]:
    """The clues that are answered of both, and otherwise."""
    return [name for name, answer in own.items() if its.get(name, answer) != answer]


def is_of_another_colour(own: tuple[str, ...], found: Sequence[tuple[tuple, bool]]) -> bool:
    """Whether all that failed lie over one colour, and this one's is another that was met.

    Parameters
    ----------
    own : tuple of str
        The names of what lies beneath the glaze that is to be fired.
    found : sequence of tuple
        The same of own areas, and whether each failed.
    """
    over = {below for below, failed in found if failed}
    return len(over) == 1 and own not in over and any(below == own for below, _ in found)


def left_out_said(names: Iterable[str], own: Mapping[str, str]) -> str:
    """Which tiles are left out: "those where the bisque was dusty ... are left out"."""
    from diagnose.wording import listed

    other = {"yes": "no", "no": "yes"}
    told = [f"where {answer_said(name, other[own[name]])}" for name in dict.fromkeys(names)]
    return f"those {listed(told, 'or')} are left out" if told else ""
