"""Which questions about a tile or a firing were answered before, and are not asked again."""

import re
from collections.abc import Collection, Iterable

REACHED = "cone reached"
"""How a question of the cone that was read begins; that of the one set begins otherwise."""
FAR = " is far "
"""What stands in a question between a cone and the end of a range that it is beyond."""
_ONLY_TARGET = ", the target of "
_TARGET = re.compile(r"the target of .*? and (?=the (?:top|bottom) for )")


def not_answered(asked: Iterable[str], before: Collection[str]) -> list[str]:
    """The questions but for those that were confirmed before.

    Whoever loads a glaze far outside its label, and says that it really is so, has answered for
    the cone read as well: so far as the same glaze or clay is beyond the same end of its label.

    Examples
    --------
    >>> before = ["target cone 05 is far below cone 5, the bottom for glaze 'dusk'."]
    >>> not_answered(["cone reached 06 is far below cone 5, the bottom for glaze 'dusk'."], before)
    []
    >>> len(not_answered(["cone reached 5 is far above cone 05, the target of F2."], before))
    1
    """
    of_set = {beyond(each) for each in before if FAR in each and not each.startswith(REACHED)}
    read = {(_cone(each), beyond(each)) for each in before if each.startswith(REACHED)}
    return [
        each
        for each in asked
        if each not in before
        and not (each.startswith(REACHED) and beyond(each) in of_set)
        and (_cone(each), beyond(each)) not in read
    ]


def is_as_far_from_target(said: str, before: Collection[str]) -> bool:
    """Whether a cone read is far from a target on the side on which it was far from a label.

    The target agrees with the label then, and it is the reading that is doubtful: who mends the
    target of a firing cannot mend the reading at once.

    Examples
    --------
    >>> before = ["cone reached 4 is far above cone 05, the top for glaze 'dusk'."]
    >>> is_as_far_from_target("cone reached 4 is far above cone 05, the target of G1.", before)
    True
    >>> is_as_far_from_target("cone reached 4 is far below cone 8, the target of G1.", before)
    False
    """
    label = _TARGET.sub("", beyond(said))
    sides = {(_cone(each), beyond(each).split()[0]) for each in before if FAR in each}
    is_same_side = said.startswith(REACHED) and (_cone(said), label.split()[0]) in sides
    return is_same_side and (_ONLY_TARGET in label or label in map(beyond, before))


def _cone(said: str) -> str:
    """The cone that a question is about, whoever read it."""
    return said.partition(FAR)[0].partition(",")[0]


def beyond(said: str) -> str:
    """Which side of which end, of what: the same whatever cone is beyond it."""
    return said.partition(FAR)[2]
