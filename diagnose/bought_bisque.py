"""Bisque that was bought: nobody in the studio fires it, or knows what clay it is.

It is told by the name of the body, as people who buy it call it ("white bisque"), or by a note
("bought bisque"); there is no field for it.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.rules import Advice
    from diagnose.weighing import Weighed
    from tiles.records.forms import TileRecord

ASK_THE_SELLER = (
    "Ask the seller of the bisque for its clay and its cone, and glaze one piece of another "
    "maker's beside it."
)
_BISQUE = re.compile(r"\bbis(?:que|cuit)(?: ?ware)?s?\b", re.IGNORECASE)
_WARE = r"bis(?:que|cuit)(?: ?ware)?\b(?! (?:kilns?|cones?|firings?|fired|clay)\b)"
_BOUGHT = re.compile(
    r"\b(?:bought|purchased|commercial)(?:[- ](?:in|as|ready))?[- ](?:\w+[- ])?"
    rf"{_WARE}|\b(?:shop|store)[- ]{_WARE}|"
    rf"\b{_WARE} (?:was |is )?(?:bought|purchased)\b|\bbought[- ](?:already |ready )?bisqued\b",
    re.IGNORECASE,
)
OF_ITS_FIRING = frozenset(
    "bisque_cones_below_04 bisque_minus_glaze_cones bisque_rate_c_per_h bisque_hold_min "
    "bisque_packed_airless cones_over_body".split()
)
"""What only who fired the bisque knows, or who knows the clay."""
_FIRES_IT = re.compile(
    r"^(?:(?:Low fire|Mid range): )?bisque (?!first)|\bin the bisque\b|\bbisque kiln\b",
    re.IGNORECASE,
)


def is_bought(record: "TileRecord") -> bool:
    """Whether the clay is called bisque, or a note says that the bisque was bought.

    Examples
    --------
    >>> from tiles.records.forms import TileRecord as Tile
    >>> [is_bought(Tile(mark="A", body={"name": name})) for name in ("white bisque", "white clay")]
    [True, False]
    >>> is_bought(Tile(mark="A", body={"name": "white clay"}, note="bought as bisque"))
    True
    """
    notes = filter(None, (record.body.remark, record.note))
    return is_called_bisque(record.body.name) or any(map(_BOUGHT.search, notes))


def is_called_bisque(body: str) -> bool:
    """Whether a clay goes by the name of bisque."""
    return bool(_BISQUE.search(body))


def fires_it(text: str) -> bool:
    """Whether a piece of advice is about a bisque firing of one's own.

    Examples
    --------
    >>> fires_it("Bisque half a tile again."), fires_it("Wash the bisque.")
    (True, False)
    """
    return bool(_FIRES_IT.search(text))


def not_asked(rows: "Sequence[Weighed]", record: "TileRecord") -> "tuple[Weighed, ...]":
    """The causes, of bought bisque without what is asked of its firing."""
    if not is_bought(record):
        return tuple(rows)
    return tuple(
        replace(row, missing=tuple(s for s in row.missing if s.measure not in OF_ITS_FIRING))
        for row in rows
    )


def that_fit(record: "TileRecord", texts: "Iterable[Advice]") -> "list[Advice]":
    """The advice that fits: of bought bisque none about firing it."""
    return [each for each in texts if not (is_bought(record) and fires_it(each.say))]


def fixes_that_fit(record: "TileRecord", fixes: "Iterable[Advice]") -> "list[Advice]":
    """The fixes that fit, and whom to ask where firing the bisque was one."""
    from diagnose.rules import Advice

    fixes = list(fixes)
    kept = that_fit(record, fixes)
    return kept if len(kept) == len(fixes) else [*kept, Advice(ASK_THE_SELLER)]
