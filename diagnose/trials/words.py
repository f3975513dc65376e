"""How the one change of a trial is written, and what to write where it is written otherwise.

`tiles next` and `tiles fix` plan trials in these words, and `diagnose.trials.changes` knows them
again. Other words are no slip for certain: what the record of a trial shows counts as well.
"""

import re
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import (
    ADVISED,
    BISQUE_CONE,
    COATS,
    COLOUR_ON,
    CONE_REACHED,
    DRY_COAT,
    HOLD,
    KILN,
    NOT_RECORDED,
    ORDER,
    PLACE,
    SHELF,
    UNCHANGED,
    UNDER,
    VERSION,
)
from diagnose.own_tiles.late_looks import again_said, looked_said, looked_until
from tiles.errors import nearest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagnose.own_tiles.late_looks import LateLooks
    from diagnose.trials.tried import Tried
    from tiles.records.forms import TileRecord

EXAMPLES = {
    COATS: "coats 3 -> 2",
    DRY_COAT: "dry coat 1.2 -> 0.8 mm",
    BISQUE_CONE: "bisque cone 06 -> 04",
    CONE_REACHED: "cone reached 06 -> 05",
    HOLD: "hold at the top 0 -> 15 min",
    KILN: "kiln A -> B",
    SHELF: "shelf top -> bottom",
    UNDER: "under the glaze leaf -> nothing",
    COLOUR_ON: "colour beneath put on bisque -> greenware",
    ORDER: "order of the glazes A over B -> B over A",
    "body": "body red -> white",
    "glaze": "glaze A -> B",
    "batch": "batch May -> June",
    VERSION: "recipe version 1 -> 2",
    "specific gravity": "specific gravity 1.5 -> 1.4",
}
"""What is changed most often, each as it is written."""
_KNOWN = (*EXAMPLES, *ADVISED, PLACE, "glazes on the area", "glazed on", "bisque hold at the top")
"""Also those that begin much like one of the examples."""
_ARROW = re.compile(r"\s*(?:[-=]+>|→)\s*")
_OF_A_RECIPE = re.compile(r"\d+/\d+ of the way to \w+|(?:[^:]+: )?[\d.]+ .+ (?:out|in)")
"""Trials of `fixes.trials.recipe_trial`: "1/2 of the way to A", "5 flint out, 5 kaolin in"."""
_SLIP = 0.8
"""So like one of these words what is changed must be to be a slip for it."""


def written_as(text: str) -> str | None:
    """How a change is to be written, or the like of it; None where it is written so.

    Examples
    --------
    >>> written_as("coats 3 -> 2"), written_as("coat 3->2"), written_as("hotter bisque")
    (None, 'coats 3 -> 2', 'bisque cone 06 -> 04')
    """
    tidy = _ARROW.sub(" -> ", text.strip())
    tidy = UNCHANGED if tidy.casefold() == UNCHANGED else tidy
    is_change = " -> " in tidy or NOT_RECORDED in tidy
    if tidy == UNCHANGED or _OF_A_RECIPE.fullmatch(tidy):
        return None if tidy == text else tidy
    if not is_change:
        return _like(tidy)
    meant = _known(tidy)
    return None if meant == text else meant


def _known(change: str) -> str:
    """A change with what is changed as the list has it; other things may be changed as well."""
    if any(change.startswith((f"{what} ", f"{what}: ")) for what in _KNOWN):
        return change
    words = change.split(" ")
    for what in EXAMPLES:
        many = len(what.split(" "))
        if nearest(" ".join(words[:many]), [what], _SLIP):
            return " ".join([what, *words[many:]])
    return change


def _like(text: str) -> str:
    """The example that shares a word with a text; that of the coats where none does."""
    starts = {word[:4] for word in re.findall(r"\w+", text.casefold())}
    ranked = sorted(EXAMPLES, key=lambda what: -len(starts & {w[:4] for w in what.split()}))
    return EXAMPLES[ranked[0]]


def when_looked(late: "LateLooks", trial: "TileRecord") -> dict[str, int | None]:
    """How many days after its firing a trial was last looked at, and until when it has to be.

    Nothing of a fault that comes at once; no days where that of its firing is not known.
    """
    after = late.look_after_days(trial.body.name)
    is_dated = trial.firing is not None and trial.firing.fired_on is not None
    return {"days": looked_until(trial) if after and is_dated else None, "look_after": after}


def not_settled(sound: "Sequence[Tried]") -> str:
    """That the fault can come later on tiles without it, and when to look; "" where it cannot.

    Parameters
    ----------
    sound : sequence of Tried
        None of which has it.
    """
    open_ = [e.look_after for e in sound if e.days is None or e.days < e.look_after]
    after = max(open_, default=0)
    return f"Not settled yet: look again {again_said(after)}." if after else ""


def looked_late(alike: "Sequence[Tried]") -> str:
    """How late trials without the fault were looked at, where it may come late; "" where not.

    Parameters
    ----------
    alike : sequence of Tried
        None of which has it.
    """
    early = [each for each in alike if each.is_early]
    days = [each.days for each in early or alike if each.days is not None]
    if not early:
        return f", looked at {looked_said(days)}" if days else ""
    if not days:
        return " so far, look again later"
    after = max(each.look_after for each in early)
    return f" so far, looked at {looked_said(days)}; look again {again_said(after)}"
