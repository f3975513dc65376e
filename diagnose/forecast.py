"""What may go wrong with a tile before it is fired: chances with a range, and what drives them.

The chance comes from the learner. What drives it is the learner's own sum, column by column, put
into words: common practice, the glaze, the body, and what own tiles teach beyond common practice.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING

from diagnose.learning import design
from diagnose.learning.model import LEARNED, Learned, Seen
from diagnose.rules import has_rules, load
from tiles.records.words import DEFECTS

if TYPE_CHECKING:
    from diagnose.learning.model import DefectModel
    from diagnose.learning.rows import Row

NOTHING_SPECIAL = (0.67, 1.5)
"""Between these times the usual rate nothing special is known."""
LEAST_DRIVE = 0.2
"""What moves the log-odds by less is not named."""
CLEARLY = 0.7
"""From here on it does so clearly; both estimates."""
MOST_DRIVERS = 3
LEAST_SHARE = 0.15
"""Causes that hold less of what common practice expects are not named."""
FAR = 0.15
"""A number this share of its span outside what was met is called so."""
COUNTED_LATE = ("days_looked",)


@dataclass(frozen=True)
class Driver:
    """One thing that moves a chance: by how much [log-odds], and whose word it is."""

    said: str
    log_odds: float
    source: str


@dataclass(frozen=True)
class Forecast:
    """One defect of one tile. Chances are None where own tiles do not carry a number.

    ``usual`` is the share of the studio's inspected tiles that had it; ``leans`` is ``more``,
    ``less`` or ``as usual``; ``state`` is that of the learner.
    """

    defect: str
    state: str
    inspected: int
    seen: int
    usual: float
    leans: str
    chance: float | None = None
    low: float | None = None
    high: float | None = None
    drivers: list[Driver] = field(default_factory=list)

    def as_dict(self) -> dict:
        """The documented JSON shape."""
        return asdict(self)


def forecast(learned: Learned, row: "Row", defects: Sequence[str] = DEFECTS) -> list[Forecast]:
    """The chances of one area of one tile.

    Parameters
    ----------
    learned : Learned
        What the studio's tiles teach.
    row : Row
        The area, without inspections.
    defects : sequence of str
        Which defects; all without it.

    Returns
    -------
    list[Forecast]
        The likeliest first.
    """
    seen = learned.see([row])
    found = [_one(learned, seen, defect) for defect in defects]
    return sorted(found, key=lambda each: -(each.chance or 0.0))


def _one(learned: Learned, seen: Seen, defect: str) -> Forecast:
    model = learned.defects[defect]
    chance = float(learned.chance(defect, seen)[0])
    low, high = (float(end[0]) for end in learned.span(defect, seen))
    usual = (model.seen + 0.5) / (model.inspected + 1)
    drivers = _drivers(learned, model, seen)
    if model.state != LEARNED:
        # The rules alone say which way, own tiles not yet how much.
        practice = sum(each.log_odds for each in drivers if each.source == "common practice")
        leans = "more" if practice > CLEARLY else "less" if practice < -CLEARLY else "as usual"
        return Forecast(defect, model.state, model.inspected, model.seen, usual, leans,
                        drivers=drivers)  # fmt: skip
    times = chance / usual
    leans = "more" if times > NOTHING_SPECIAL[1] else "less"
    leans = "as usual" if NOTHING_SPECIAL[0] <= times <= NOTHING_SPECIAL[1] else leans
    return Forecast(
        *(defect, model.state, model.inspected, model.seen, usual, leans, chance, low, high),
        drivers=drivers,
    )


def _drivers(learned: Learned, model: "DefectModel", seen: Seen) -> list[Driver]:
    """What moves the log-odds most, gathered by what it is about."""
    x = design.matrix(model.layout, seen.columns(model.defect), 1)[0, 1:]
    moved: dict[str, float] = {}
    for column, share in zip(model.layout.columns, x * model.fitted.b[1:], strict=True):
        subject = _subject(column)
        moved[subject] = moved.get(subject, 0.0) + float(share)
    glaze = seen.table.groups["glaze"][0]
    if glaze in learned.glazes and model.fitted.u.size:
        moved["glaze"] = float(model.fitted.u[learned.glazes.index(glaze)])
    by_size = sorted(moved.items(), key=lambda each: (-abs(each[1]), each[0]))
    worth = [(name, by) for name, by in by_size if abs(by) >= LEAST_DRIVE][:MOST_DRIVERS]
    return [_driver(name, by, model.defect, seen) for name, by in worth]


def _subject(column: str) -> str:
    """What a column is about: the rules, the body, the kiln, or one measure."""
    kind, _, rest = column.partition(":")
    if kind in ("body", "body_type"):
        return "body"
    if kind in (design.RULES, design.WANTED, "kiln"):
        return kind
    if kind == "cause":
        return f"cause:{rest}"
    return f"measure:{rest.partition('|')[0].partition('=')[0]}"


def _driver(name: str, by: float, defect: str, seen: Seen) -> Driver:
    groups = seen.table.groups
    kind, _, rest = name.partition(":")
    if name == design.RULES:
        return Driver(_practice(defect, seen, by), by, "common practice")
    if name == design.WANTED:
        return Driver("such a look can be meant with this glaze", by, "common practice")
    if kind in ("glaze", "body", "kiln"):
        return Driver(f"{groups[kind][0]}: {_more_or_less(by)} on your tiles", by, "own tiles")
    if kind == "cause":
        title = next((c.title for c in load(defect).causes if c.name == rest), rest)
        worth = "more" if by > 0 else "less"
        return Driver(f"counts for {worth} with you: {title}", by, "own tiles")
    return Driver(f"{_label(rest)}: {_more_or_less(by)} on your tiles", by, "own tiles")


def _more_or_less(by: float) -> str:
    clearly = "clearly " if abs(by) >= CLEARLY else ""
    return f"{clearly}{'more' if by > 0 else 'less'} often"


def _label(measure: str) -> str:
    from diagnose.vocabulary import clue_said, measure_words
    from tiles.records.clues import clues

    if measure in clues():
        return clue_said(measure, "yes")
    words = measure_words()
    return words[measure].label if measure in words else measure.replace("_", " ")


def _practice(defect: str, seen: Seen, by: float) -> str:
    """The causes that common practice fears here, or that it fears none."""
    if by < 0:
        return "common practice sees little that would cause it"
    evidence = seen.evidence(defect)
    titles = {each.name: each.title for each in load(defect).causes} if has_rules(defect) else {}
    held = sorted(zip(evidence.responsible[0], evidence.causes, strict=True), reverse=True)
    named = [titles[name] for share, name in held[:2] if share >= LEAST_SHARE]
    return f"common practice fears: {'; or '.join(named) or 'several things'}"


def unlike(learned: Learned, row: "Row") -> list[str]:
    """What about a tile was never met on the inspected tiles; empty for an ordinary one.

    Parameters
    ----------
    learned : Learned
        What was met.
    row : Row
        The area, without inspections.
    """
    table = learned.see([row]).table
    found = []
    glaze = table.groups["glaze"][0]
    if glaze and glaze not in learned.glazes:
        found.append(f"{glaze}: no inspected tile has it")
    for name, values in table.numbers.items():
        ends = learned.met.get(name)
        value = float(values[0])
        if ends and name not in COUNTED_LATE and value == value and _is_far(value, *ends):
            found.append(f"{_label(name)} {value:g}: yours were {ends[0]:g} to {ends[1]:g}")
    return found


def _is_far(value: float, least: float, most: float) -> bool:
    margin = FAR * (most - least)
    return not least - margin - 1e-9 <= value <= most + margin + 1e-9
