"""What is recorded of each row, as columns: the same measures that the rules read.

A column holds numbers (NaN where blank) or words (None where blank). Measures and clues that only
the finished fault can tell are left out, so that a forecast knows what it would know beforehand.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

from diagnose.learning import pairs
from diagnose.learning.rows import Row

if TYPE_CHECKING:
    import numpy as np

# Clues answered by looking at the fault, or at how other tiles came out.
TOLD_BY_THE_FAULT = frozenset(
    "wax_near new_batch_only fails_on_every_body sound_on_other_body used_to_be_sound "
    "fired_as_label_shows other_glazes_fail_too grey_core pinged_on_opening most_of_load_affected "
    "one_shelf_only stuck_to_shelf hot_or_cold_shock wrong_jar_possible".split()
)
TOLD_BY_COMPARING = frozenset(
    "rises_with_coat rises_with_texture rises_over_colour rises_in_overlap every_glaze_failed "
    "days_to_first_seen days_before_first_look severity".split()
)
FIRED_COAT = "fired_thickness_mm"
"""Measured on the finished tile: it is learned from, and a forecast of a tile passes over it."""
LOOKS = ("look", "use")
"""Groups of clues about the finished ware."""
KNOWN_OF_USE = ("washed_or_soaked",)
DAYS = "days_looked"
"""A measure of the learner's own: days from the firing to the look. [days]"""
STEPS = ("reached", "target", "bisque", "label_low", "label_high", "body_low", "body_high")
"""Places on the cone scale from which the cone measures follow. [cone steps]"""
GROUPS = (
    "glaze", "base", "body", "body_type", "kiln", "firing", "bisque", "tile",
    *map(pairs.group, pairs.COMPANY),
)  # fmt: skip


@dataclass
class Table:
    """Recorded measures of n rows by column.

    ``numbers``, ``steps`` : arrays of float, shape (n,), NaN where blank; ``words`` : arrays of
    object, None where blank; ``groups`` : what rows share, "" where not recorded; ``setting`` :
    which priors the rules take; ``days`` : day of the firing (or making) as a number, NaN unknown.
    """

    n: int
    numbers: "dict[str, np.ndarray]"
    words: "dict[str, np.ndarray]"
    steps: "dict[str, np.ndarray]"
    groups: "dict[str, np.ndarray]"
    setting: "np.ndarray"
    days: "np.ndarray"


@cache
def may_forecast(name: str) -> bool:
    """Whether a measure or clue can be known without having seen the fault."""
    from tiles.records.clues import clues

    if name in clues():
        is_look = clues()[name].group in LOOKS and name not in KNOWN_OF_USE
        return not is_look and name not in TOLD_BY_THE_FAULT
    return name not in TOLD_BY_COMPARING


def read(rows: Sequence[Row]) -> Table:
    """The table of some rows.

    Parameters
    ----------
    rows : sequence of Row
        As `diagnose.learning.rows` gives them.
    """
    import numpy as np

    n = len(rows)
    numbers: dict[str, np.ndarray] = {}
    words: dict[str, np.ndarray] = {}
    steps = {name: np.full(n, np.nan) for name in STEPS}
    groups = {name: np.full(n, "", dtype=object) for name in GROUPS}
    setting, days = np.full(n, "unknown", dtype=object), np.full(n, np.nan)
    for at, row in enumerate(rows):
        values, shared, places, where, day = _of(row)
        for name, value in values.items():
            columns, blank = (words, None) if isinstance(value, str) else (numbers, np.nan)
            if name not in columns:
                columns[name] = np.full(n, blank, dtype=object if blank is None else float)
            columns[name][at] = value
        for name, value in shared.items():
            groups[name][at] = value
        for name, value in places.items():
            steps[name][at] = value
        setting[at], days[at] = where, day
    return Table(n, numbers, words, steps, groups, setting, days)


def _of(row: Row) -> tuple[dict, dict, dict, str, float]:
    from diagnose.measures.of_area import choose_area, measures
    from diagnose.view import View, setting

    record = row.record
    view = View(record, choose_area(record, row.area))
    values = {
        name: measure.value
        for name, measure in measures(record, row.area).items()
        if may_forecast(name)
    }
    fired_on = record.firing.fired_on if record.firing else None
    if fired_on and row.looked_on and (row.looked_on - fired_on).days >= 0:
        values[DAYS] = float((row.looked_on - fired_on).days)
    day = fired_on or record.glazed_on or record.made_on or row.looked_on
    number = float(day.toordinal()) if isinstance(day, date) else float("nan")
    return values, _shared(view), _places(view), setting(view), number


def _shared(view) -> dict[str, str]:
    from tiles.exchange.flat_build import UNNAMED

    record = view.record
    body = record.body
    kind = " ".join(filter(None, (body.kind, body.colour and body.colour.casefold())))
    names = {
        "glaze": view.glaze_name,
        "base": _base(view),
        "body": body.name,
        "kiln": view.kiln,
        "firing": record.firing.name if record.firing else None,
        "bisque": record.bisque_firing.name if record.bisque_firing else None,
        "tile": record.mark,
    } | {pairs.group(kind): met for kind, met in pairs.company(view).items()}
    said = {key: name.casefold() for key, name in names.items() if name and name != UNNAMED}
    return said | ({"body_type": kind} if kind else {})


def _base(view) -> str | None:
    """What the uppermost glaze was mixed from but for its additions: "40 soda feldspar, ...".

    In whole parts of a hundred, the greatest first: colours of one base share it.
    """
    recipe = view.top.recipe if view.top else None
    whole = sum(parts for _, parts in recipe.base) if recipe else 0
    if not whole:
        return None
    shares = sorted((-round(100 * parts / whole), name) for name, parts in recipe.base)
    return ", ".join(f"{-share} {name}" for share, name in shares)


def _places(view) -> dict[str, float]:
    from tiles.chemistry.cones import step
    from tiles.records.derived import label_range

    low, high = view.label or (None, None)
    body_low, body_high = label_range(view.record.body) or (None, None)
    cones = {
        "reached": view.cone_reached,
        "target": view.target,
        "bisque": view.bisque_cone,
        "label_low": low,
        "label_high": high,
        "body_low": body_low,
        "body_high": body_high,
    }
    return {name: step(cone) for name, cone in cones.items() if cone is not None}
