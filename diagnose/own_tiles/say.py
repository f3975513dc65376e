"""What the user's own tiles of a glaze say about one failed tile, and what it is worth.

Every recorded fact that a cause rests on is cut in two, other tiles of this tile's glaze are
counted on both sides (areas of one tile are no two witnesses), and the most uneven cut that puts
this tile on the failing side is told; where there is none, the most uneven of all. What a count is
worth is half the log of how many times more often tiles on this side failed, drawn towards nothing
while tiles are few; it is added to the log odds of the causes that rest on that fact. So is a count
by clay, or a clear one by kiln, shelf, batch or layer beneath, to the causes that come with it
(`occasions`).
Half, because a fact that goes with a defect need not be its cause; in full where chance hardly
parts tiles so. Counts that speak against a fact are told and not weighed: other causes hide in
them. All of it are estimates.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagnose.colour_layer import judged, lower_layer
from diagnose.comparing.coat_in_mm import gainsays
from diagnose.comparing.comparison_words import CLEAR, by_luck
from diagnose.comparing.counted import COLOUR_BENEATH, Counted, facts_of
from diagnose.comparing.of_load import LOAD
from diagnose.measures.of_area import measures
from diagnose.own_tiles.areas import judged_as
from diagnose.own_tiles.coat_elsewhere import COATS_OF, coat_is_sound
from diagnose.own_tiles.cut import lesson_of_cut
from diagnose.own_tiles.fit import FIT, FIT_CAUSES, lesson_of_fit
from diagnose.own_tiles.jar import lesson_of_jar
from diagnose.own_tiles.lesson import Lesson
from diagnose.own_tiles.lift import VERY_CLEAR
from diagnose.own_tiles.occasions import (
    CLAY,
    JAR,
    OCCASIONS,
    fails_least,
    is_in_no_cause,
    is_read,
    lies_in,
    occasion_of,
    sound_on,
)
from diagnose.own_tiles.remains import that_remain, with_what_explains
from diagnose.own_tiles.same_age import same_age
from diagnose.own_tiles.since import since_when
from diagnose.rules import load
from diagnose.view import View, area_of
from diagnose.weighing import strength_for, with_own, without_bonus
from diagnose.wording import DID
from tiles.records.derived import shows
from tiles.records.words import same_name

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.measures.of_area import Measure
    from diagnose.rules import Sign
    from diagnose.weighing import Weighed
    from tiles.records.forms import AreaRecord, TileRecord


_ANSWERS = {"batch": "new_batch_only", LOAD: "most_of_load_affected"}
"""The clue that a weighed count answers."""


@dataclass(frozen=True)
class YourTiles:
    """What own tiles of the same glaze say; ``failed`` of ``areas`` others had the defect.

    ``since`` says since when it comes more often on its clay, where that is clear; ``gainsaid`` are
    the counts by coats that the dry coat gainsays. ``counted`` are those others.
    """

    glaze: str
    defect: str
    failed: int
    areas: int
    lessons: list[Lesson]
    since: str = ""
    gainsaid: tuple[Lesson, ...] = ()
    counted: Sequence[Counted] = field(default=(), repr=False, compare=False)

    def lift_of(self, row: "Weighed", facts: "Mapping[str, Measure]") -> float:
        """What the lessons are worth for a cause. [log-odds].

        The strongest alone: counts over the same tiles are no two witnesses.
        """
        lifts = [0.0, *(each.lift for each in self.lessons_of(row, facts))]
        return max(lifts) or min(lifts)

    def lessons_of(self, row: "Weighed", facts: "Mapping[str, Measure]") -> list[Lesson]:
        """The counts that bear on a cause; on one not in the list what no other cause explains."""
        return [each for each in self.lessons if self._is_of(each, row, facts)]

    def causes_of(self, lesson: Lesson, case: "Case") -> frozenset[str]:
        """The causes that a count bears on, by name; "" for one not in the list."""
        return frozenset(row.name for row in case.rows if self._is_of(lesson, row, case.facts))

    def is_against(self, row: "Weighed", facts: "Mapping[str, Measure]") -> bool:
        """Whether a count that bears on a cause speaks against it."""
        return any(each.is_against for each in self.lessons_of(row, facts))

    def against(self, row: "Weighed") -> list[Lesson]:
        """The counts by a number that failed on the other side than a cause has it: told alone."""
        told = [each for each in self.lessons if each not in self.gainsaid]
        counts = [each for each in told if each.lift > 0 and each.is_more is not None]
        return [
            each
            for each in counts
            if row.cause and row.cause.more_of(each.measure) is (not each.is_more)
        ]

    @property
    def answered(self) -> frozenset[str]:
        """The questions that a weighed count answers: the same tiles would count twice."""
        weighed = {each.measure for each in self.lessons if each.lift > 0}
        return frozenset(clue for measure, clue in _ANSWERS.items() if measure in weighed)

    def _is_of(self, lesson: Lesson, row: "Weighed", facts: "Mapping[str, Measure]") -> bool:
        if lesson.measure in (FIT, *COATS_OF):
            return row.name in FIT_CAUSES if lesson.measure == FIT else row.name == lesson.measure
        if lesson.measure not in (*OCCASIONS, CLAY, JAR, LOAD):
            signs = row.cause.signs if row.cause else ()
            return any(_bears_on(lesson, sign, facts) for sign in signs)
        occasion = occasion_of(lesson.measure, facts)
        if row.cause is None:
            return lesson.lift > 0 and is_in_no_cause(occasion, self.defect)
        return lies_in(occasion, row.cause) and not is_read(row.cause, facts)


def your_tiles_say(
    records: "Sequence[TileRecord]", record: "TileRecord", area: int | None, defect: str
) -> YourTiles | None:
    """Count the other tiles of the same glaze that tell why this one failed.

    Parameters
    ----------
    records : sequence of TileRecord
        Every tile on record; inspected ones of the same glaze count, looked at late enough to tell.
    record : TileRecord
        The tile asked about; it does not count itself.
    area : int, optional
        Which of its areas; the first when not given.
    defect : str
        One word of the defect list.

    Returns
    -------
    YourTiles or None
        The most telling lessons first; None for a tile without a glaze.
    """
    own_area = area_of(record, area) or record.areas[0]
    seen = judged(View(record, own_area, defect))
    if seen.glaze_name is None:
        return None
    glaze, own = seen.glaze_name, lower_layer(seen)
    beside_it = (each for each in records if not same_name(each.mark, record.mark))
    alike = judged_as(glaze, beside_it, defect)
    at = same_age([*alike, (record, own_area)], defect)
    others = [Counted(*each, at.failed(*each), own) for each in alike if at.tells(*each)]
    ever = [Counted(*each, shows(*each, defect), own) for each in alike]
    every = others if at.by_day else ever
    failing = [each for each in ever if each.failed]
    lessons = _lessons((every, others, failing), _facts(record, own_area, defect), defect)
    if at.by_day or len(others) < len(every):
        left_out = f" ({at.beside})."
        lessons = [replace(each, say=each.say.removesuffix(".") + left_out) for each in lessons]
    asked = records, record, own_area, defect
    beside = [each for each in (lesson_of_jar(*asked), lesson_of_fit(*asked)) if each]
    if beside:
        lessons = sorted([*lessons, *beside], key=lambda each: (-each.lift, each.chance))
    since = since_when(every, others, record, defect)
    failed = sum(each.failed for each in others)
    both = [Counted(record, own_area, True, own), *others]
    gainsaid = tuple(e for e in lessons if gainsays(both, e.measure, is_more=bool(e.is_more)))
    return YourTiles(glaze, defect, failed, len(others), lessons, since, gainsaid, others)


def _facts(record: "TileRecord", area: "AreaRecord", defect: str) -> dict[str, float | str]:
    """What is recorded of a tile that a cause of the defect rests on, and its occasions."""
    asked = {sign.measure for cause in load(defect).causes for sign in cause.signs}
    facts = measures(record, area.number, defect)
    made = Counted(record, area, True, lower_layer(judged(View(record, area, defect)))).values
    shared = OCCASIONS if is_in_no_cause(CLAY, defect) else (*OCCASIONS, CLAY)
    return {name: fact.value for name, fact in facts.items() if name in asked} | {
        name: made[name] for name in shared if name in made
    }


def _lessons(
    areas: tuple[Sequence[Counted], Sequence[Counted], Sequence[Counted]],
    values: dict[str, float | str],
    defect: str,
) -> list[Lesson]:
    """The counts of each fact, the most telling first.

    ``areas`` are all, those that are compared, and those that failed at whatever age.
    """
    every, others, failing = areas
    lessons = []
    for name, cuts in facts_of(list(others), values.__contains__, values).items():
        lesson = lesson_of_cut(name, cuts, others, values[name], defect)
        if lesson and len(others) < len(every):
            lesson = _also_with(every, name, lesson, values[name], defect)
        if lesson and name in OCCASIONS:
            lesson = _of_occasion(lesson, values[name], others, failing, defect)
        if lesson and name == CLAY and lesson.lift <= 0:
            continue  # on a clay that does no worse it may be the clay all the same
        if lesson:
            lessons.append(lesson)
    lessons = with_what_explains(_beneath_once(lessons), others)
    lessons += coat_is_sound(lessons, others, values.get("coats"), DID.get(defect, "failed"))
    return sorted(lessons, key=lambda each: (-each.lift, each.chance, each.measure))


def _beneath_once(lessons: list[Lesson]) -> list[Lesson]:
    """What lies beneath is told by its kind or its coats, or by name where names part it better."""
    of_kind = [each for each in lessons if each.measure in COLOUR_BENEATH]
    by_name = [each for each in lessons if each.measure == "under"]
    if not of_kind or not by_name:
        return lessons
    is_by_name = by_name[0].lift > 0 and by_name[0].chance < min(each.chance for each in of_kind)
    left_out = of_kind if is_by_name else by_name
    return [each for each in lessons if each not in left_out]


def _of_occasion(
    lesson: Lesson, own: str, others: Sequence[Counted], failing: Sequence[Counted], defect: str
) -> Lesson | None:
    """A count by kiln, shelf, batch or layer beneath: very clear ones count, a hint is told."""
    if lesson.chance > VERY_CLEAR and (lesson.lift <= 0 or lesson.chance >= CLEAR):
        return None
    if lesson.lift <= 0:
        return lesson
    lesson = replace(
        lesson,
        instead=fails_least(lesson.measure, own, others),
        sound_on=sound_on(lesson.measure, own, others, failing, DID.get(defect, "failed")),
    )
    if lesson.chance <= VERY_CLEAR:
        return lesson
    luck = by_luck(lesson.chance, "")
    say = f"{lesson.say.removesuffix('.')} (a hint: {luck}, so it moves no cause)."
    return replace(lesson, lift=0.0, is_hint=True, say=say)


def _also_with(
    every: Sequence[Counted], name: str, lesson: Lesson, value: float | str, defect: str
) -> Lesson | None:
    """A count as far as it holds with the sound ones counted in that were looked at too early.

    Those that failed as early are in it: else it may be nothing but who was looked at again.
    """
    cuts = facts_of(list(every), {name}.__contains__, {name: value})[name]
    found = lesson_of_cut(name, cuts, every, value, defect)
    if found is None:
        return None
    lift, chance = min(found.lift, lesson.lift), max(found.chance, lesson.chance)
    return replace(lesson, lift=lift, chance=chance)


def joined(case: "Case", told: YourTiles | None) -> "Case":
    """The case with what own tiles say added to its causes, the likeliest first.

    What their counts speak against is no likelier for explaining another fault of the tile too.

    Parameters
    ----------
    case : Case
        The defect as common practice weighs it.
    told : YourTiles or None
        What own tiles say.
    """
    if told is None or not told.lessons:
        return case
    told = that_remain(told, case)
    lifts = {row.name: told.lift_of(row, case.facts) for row in case.rows}
    rows = [without_bonus(row) if told.is_against(row, case.facts) else row for row in case.rows]
    return replace(case, rows=with_own(rows, lifts), own=told)


def _bears_on(lesson: Lesson, sign: "Sign", facts: "Mapping[str, Measure]") -> bool:
    """Whether a count is about a sign of a cause: one that is met here.

    A number need not go as far as is unusual elsewhere: where own tiles failed with 3 coats and
    not with 2, three are many. It only must lie on the side that speaks for the cause: where tiles
    with more of an opacifier are sound, this one's much of it is not why.
    """
    if sign.measure != lesson.measure or not sign.weight_for or sign.measure not in facts:
        return False
    if lesson.lift > 0 and lesson.is_more is not None and sign.counts_from is not None:
        return (sign.counts_fully > sign.counts_from) is lesson.is_more
    return strength_for(sign, facts[sign.measure].value) > 0
