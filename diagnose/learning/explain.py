"""What drives a forecast, what own tiles say of the causes, and what makes a tile unlike others."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from diagnose.curves import COAT, COAT_AS_ONE
from diagnose.learning import design, pairs
from diagnose.learning.model import MET, Learned
from diagnose.learning.rows import Row
from diagnose.learning.seen import Seen
from diagnose.learning.table import DAYS
from diagnose.vocabulary import recipe_measures

if TYPE_CHECKING:
    from diagnose.learning.table import Table

STEPS_BEHIND = {
    "cone reached": (("reached",), ("cone_reached", "cones_over_target", "cones_over_label",
                                    "cones_from_label_middle", "cones_over_body",
                                    "bisque_minus_glaze_cones", "wrong_band", "firing_band",
                                    "melt_stiffest_log10_pa_s", "melt_thinnest_log10_pa_s"),
                     (pairs.group("cone"),)),
    "bisque": (("bisque",), ("bisque_cones_below_04", "bisque_minus_glaze_cones",
                             "cones_over_body"), (pairs.group("bisque"),)),
    COAT_AS_ONE: ((), COAT, (pairs.group("coat"),)),
    "label": (("label_low", "label_high"), ("cones_over_label", "cones_from_label_middle",
                                            "set_over_label", "wrong_band"), ()),
    "colour_beneath": ((), ("colour_beneath", "colour_coats_beneath"),
                       (pairs.group("beneath"), pairs.group("layer"),
                        pairs.group("coats beneath"))),
    "cooled_slowly": ((), ("cooled_slowly",), (pairs.group("cooling"),)),
}  # fmt: skip
"""What goes blank together when one fact is taken away: cones, measures, and what a glaze met."""
BEYOND, LEAST_SPAN = 0.25, 0.2
"""A number so much of its met span outside it is unlike anything seen; the span is taken to be at
least this share of the greatest number met."""
ROOM_ABOUT_ZERO = 1.0
"""The same where nothing but 0 was met: 0 cones, 0 min. [unit of the measure]."""
HALF = 0.5
PAIR = "with this "
"""How the fact begins that a glaze met what it met."""
NOT_A_FACT = (DAYS,)
MOST_LESSONS = 12
COATS_BENEATH = "colour_coats_beneath"


@dataclass(frozen=True)
class Driver:
    """One recorded fact and how much it moves the forecast. ``effect`` in log-odds; + is worse."""

    fact: str
    effect: float


class LeftOpen:
    """One row, ``seen`` as it is and once more for each recorded fact, that one left open again."""

    def __init__(self, learned: Learned, row: Row):
        self.learned, self.row = learned, row
        self.seen = learned.see([row])
        self.facts = _facts(self.seen.table, learned.known_pairs)

    @cached_property
    def _without_each(self) -> Seen:
        without = self.learned.see([self.row] * len(self.facts))
        for at, (measures, steps, groups) in enumerate(self.facts.values()):
            _forget(without.table, at, measures, steps, groups)
        return without

    def drivers(self, defect: str) -> list[Driver]:
        """Each recorded fact with its effect on a defect, the strongest first.

        The effect is the forecast as it is less the forecast with that fact left open, so facts
        that tell the same share their effect between them.
        """
        if not self.facts:
            return []
        whole, _ = self.learned.log_odds(defect, self.seen)
        parts, _ = self.learned.log_odds(defect, self._without_each)
        found = [
            Driver(name, float(whole[0] - part))
            for name, part in zip(self.facts, parts, strict=True)
        ]
        return sorted(found, key=lambda each: -abs(each.effect))


def _facts(table: "Table", known: pairs.Known) -> dict[str, tuple]:
    """Name of each recorded fact: its measures, cone places and groups."""
    import numpy as np

    recorded = {name for name, column in table.words.items() if column[0] is not None}
    recorded |= {name for name, column in table.numbers.items() if not np.isnan(column[0])}
    recorded -= set(NOT_A_FACT)
    facts: dict[str, tuple] = {}
    recipe = recorded & recipe_measures()
    if recipe:
        facts["recipe"] = (tuple(sorted(recipe)), (), ())
    taken = set(recipe)
    for name, (steps, measures, met) in STEPS_BEHIND.items():
        here = recorded & set(measures)
        if here - taken or (here and steps):
            facts[name] = (tuple(sorted(here)), steps, met)
            taken |= here
    facts |= {name: ((name,), (), ()) for name in sorted(recorded - taken)}
    for name in ("glaze", design.BASE, "body", "kiln"):
        if table.groups[name][0]:
            met = (pairs.group(name),) if name in pairs.COMPANY else ()
            facts[f"this {name}"] = ((), (), (name, *met))
    for kind, (name,) in zip(pairs.COMPANY, pairs.names(table)[:, :1], strict=True):
        if table.groups[pairs.group(kind)][0] and known.has_contrast(name):
            facts[f"{PAIR}{kind}"] = ((), (), (pairs.group(kind),))
    return facts


def _forget(table: "Table", at: int, measures, steps, groups) -> None:
    import numpy as np

    for name in measures:
        if name in table.words:
            table.words[name][at] = None
        else:
            table.numbers[name][at] = np.nan
    for name in steps:
        table.steps[name][at] = np.nan
    for name in groups:
        table.groups[name][at] = ""


def cause_bonus(learned: Learned, seen: Seen, at: int, defect: str) -> dict[str, float]:
    """What own tiles add to the causes of one defect on one row, for ``diagnose.weighing.weigh``.

    Returns
    -------
    dict[str, float]
        Log-odds by the name of the cause: how much commoner it is here than common practice has
        it, and ``b (s - mean s / 2)`` for each of its signs, shared out among the causes that have
        the sign and halved where its measure is blank.
    """
    evidence = seen.evidence(defect)
    b = learned.defects[defect].coefficients()
    layout = learned.defects[defect].layout
    bonus = {cause: b.get(f"cause:{cause}", 0.0) for cause in evidence.causes}
    for place, (key, owners) in enumerate(zip(evidence.keys, evidence.owners, strict=True)):
        name = design.sign_column(key)
        if name not in b:
            continue
        met = evidence.signs[at, place] - HALF * layout.centre[name]
        known = seen.drawn.recorded.get(key.partition("|")[0])
        trust = 1.0 if known is not None and known[at] else HALF
        for owner in owners:
            bonus[owner] += float(trust * b[name] * met / len(owners))
    return bonus


def unlike(learned: Learned, table: "Table") -> list[list[str]]:
    """For each row the measures that lie well outside everything met; none for a usual tile."""
    import numpy as np

    found: list[list[str]] = [[] for _ in range(table.n)]
    for name, values in table.numbers.items():
        met = learned.met.get(name)
        if name in NOT_A_FACT or not met:
            continue
        if name == COATS_BENEATH and met[1] == 0 and learned.met.get("colour_beneath"):
            continue  # colour was met, but nobody counted its coats
        room = BEYOND * max(met[1] - met[0], LEAST_SPAN * abs(met[1])) or ROOM_ABOUT_ZERO
        for at in np.flatnonzero((values < met[0] - room) | (values > met[1] + room)):
            found[at].append(name)
    for name, values in table.words.items():
        met = learned.met.get(name)
        if name == "cone_reached" or not met:
            continue
        for at, value in enumerate(values):
            # What is noted only where it is so ("dusty") is met without it everywhere else.
            is_telling = value not in (None, "no")
            if is_telling and value not in met and not set(value.split()) & _words(met):
                found[at].append(name)
    return found


def is_unmet(learned: Learned, table: "Table", at: int) -> bool:
    """Whether the glaze or the body of a row is named, and on no tile seen."""
    named = ((kind, table.groups[kind][at]) for kind in MET)
    return any(name and not learned.has_met(kind, name) for kind, name in named)


def _words(met: list[str]) -> set[str]:
    return {word for value in met for word in value.split()}


def strongest_lessons(learned: Learned, defect: str) -> list[tuple[str, float]]:
    """Columns that own tiles moved furthest from what was believed, with the move. [log-odds]."""
    model = learned.defects[defect]
    moved = [
        (name, value - learned.widths.of(name, defect)[0])
        for name, value in model.coefficients().items()
        if name not in design.BELIEVED
    ]
    moved += [
        (f"glaze:{name}", float(u)) for name, u in zip(learned.glazes, model.fitted.u, strict=False)
    ]
    if model.paired is not None:
        moved += [
            (f"pair:{name}", float(u))
            for name, u in zip(learned.known_pairs.names, model.paired.u, strict=True)
            if learned.known_pairs.has_contrast(name)
        ]
    return sorted(moved, key=lambda each: -abs(each[1]))[:MOST_LESSONS]
