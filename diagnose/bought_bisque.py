"""Bisque that was bought: nobody in the studio fires it, or knows what clay it is.

It is told by the name of the body, as people who buy it call it ("white bisque"); there is no field
for it.
"""

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.rules import Advice
    from tiles.records.forms import BodyRecord

ASK_THE_SELLER = (
    "Ask the seller of the bisque for its clay and its cone, and glaze one piece of another "
    "maker's beside it."
)
_BISQUE = re.compile(r"\bbis(?:que|cuit)(?: ?ware)?s?\b", re.IGNORECASE)
_FIRES_IT = re.compile(
    r"^(?:(?:Low fire|Mid range): )?bisque (?!first)|\bin the bisque\b|\bbisque kiln\b",
    re.IGNORECASE,
)


def is_bought(body: "BodyRecord") -> bool:
    """Whether the clay is called bisque.

    Examples
    --------
    >>> from tiles.records.forms import BodyRecord
    >>> is_bought(BodyRecord(name="white bisque")), is_bought(BodyRecord(name="white clay"))
    (True, False)
    """
    return bool(_BISQUE.search(body.name))


def fires_it(text: str) -> bool:
    """Whether a piece of advice is about a bisque firing of one's own.

    Examples
    --------
    >>> fires_it("Bisque half a tile again."), fires_it("Wash the bisque.")
    (True, False)
    """
    return bool(_FIRES_IT.search(text))


def that_fit(body: "BodyRecord", texts: "Iterable[Advice]") -> "list[Advice]":
    """The advice that fits: of bought bisque none about firing it."""
    return [each for each in texts if not (is_bought(body) and fires_it(each.say))]


def fixes_that_fit(body: "BodyRecord", fixes: "Iterable[Advice]") -> "list[Advice]":
    """The fixes that fit, and whom to ask where firing the bisque was one."""
    from diagnose.rules import Advice

    fixes = list(fixes)
    kept = that_fit(body, fixes)
    return kept if len(kept) == len(fixes) else [*kept, Advice(ASK_THE_SELLER)]
