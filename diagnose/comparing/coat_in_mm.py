"""The coat by its thickness, where that gainsays the number of coats: three thin ones are thin."""

from collections.abc import Sequence
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted


def gainsays(areas: "Sequence[Counted]", name: str, *, is_more: bool) -> bool:
    """Whether a count by coats puts the failing ones on the wrong side of the dry coat.

    Fewer coats that were thicker than the more of them, where both were measured.

    Parameters
    ----------
    areas : sequence of Counted
        The failing and the sound ones.
    name : str
        The measure that is counted by; none but the coats is gainsaid.
    is_more : bool
        Whether it came with more of it.
    """
    if name != "coats":
        return False
    mm = [(each.failed, each.values.get("thickness_mm")) for each in areas]
    failing, sound = ([at for failed, at in mm if at and failed is of] for of in (True, False))
    if not failing or not sound or median(failing) == median(sound):
        return False
    return (median(failing) > median(sound)) is not is_more
