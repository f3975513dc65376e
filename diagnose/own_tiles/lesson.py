"""One count over the user's own tiles of a glaze: what `say` and its helpers find."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted


@dataclass(frozen=True)
class Lesson:
    """One count: tiles like this one on its own side of a cut, and on the other.

    ``lift`` is what it adds to the causes that rest on ``measure``. [log-odds], 0 where it speaks
    against them, less only where they are a coat (`coat_elsewhere`); ``chance`` is how often luck
    alone would part them so, all cuts of the fact allowed for; ``is_more`` whether this tile stands
    on the side of the greater numbers, None for words. ``instead`` names the kiln, shelf, batch or
    layer beneath that failed least, ``sound_on`` says where none failed. A hint by such a thing is
    told and weighs nothing. ``is_here`` says which areas stand on this side, None of unknown ones,
    ``holds_with`` which values do; ``explained_by`` names the measures beyond which it tells
    nothing; ``beside`` says how other glazes did beside it, where these are the other side.
    """

    measure: str
    here_failed: int
    here_all: int
    there_failed: int
    there_all: int
    chance: float
    lift: float
    say: str
    is_here: "Callable[[Counted], bool | None]" = field(repr=False, compare=False)
    is_more: bool | None = None
    instead: str = ""
    sound_on: str = ""
    is_hint: bool = False
    explained_by: tuple[str, ...] = ()
    holds_with: Callable[[float | str], bool] | None = field(
        default=None, repr=False, compare=False
    )
    beside: str = ""

    @property
    def is_against(self) -> bool:
        """Whether a smaller part of the tiles like this one failed than of the others."""
        fewer = self.here_failed * self.there_all < self.there_failed * self.here_all
        return fewer and self.lift <= 0 and not self.is_hint
