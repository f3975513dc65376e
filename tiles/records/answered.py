"""Which questions about a tile or a firing were answered before, and are not asked again."""

from collections.abc import Collection, Iterable

REACHED = "cone reached"
"""How a question of the cone that was read begins; that of the one set begins otherwise."""
_FAR = " is far "


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
    of_set = {_beyond(each) for each in before if _FAR in each and not each.startswith(REACHED)}
    return [
        each
        for each in asked
        if each not in before and not (each.startswith(REACHED) and _beyond(each) in of_set)
    ]


def _beyond(said: str) -> str:
    """Which side of which end, of what: the same whatever cone is beyond it."""
    return said.partition(_FAR)[2]
