"""The causes of a fault over all tiles that show it: as `tiles why` weighs them, one by one."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.comparing.coat_in_mm import gainsays
from diagnose.comparing.exact_test import fails_more
from diagnose.own_tiles.glaze import as_glaze_did
from diagnose.own_tiles.jar import lesson_of_jar
from diagnose.own_tiles.occasions import lies_in
from diagnose.own_tiles.sisters import as_soon_as_sisters
from diagnose.report import defects_seen
from diagnose.rules import load
from diagnose.together import weigh_all
from diagnose.vocabulary import label_of
from diagnose.weighing import with_own
from tiles.records.derived import shows

if TYPE_CHECKING:
    from diagnose.comparing.counted import Counted
    from diagnose.comparing.set_apart import Difference
    from diagnose.comparing.weighed import ClearCount
    from tiles.records.forms import TileRecord


@dataclass(frozen=True)
class Pooled:
    """One cause over the failing tiles: its mean share, and on how many it comes first.

    ``ruled_out_on`` is on how many the record rules it out, or nothing speaks for what would be
    plain to see.
    """

    title: str
    mean_share: float
    first_on: int
    tiles: int
    ruled_out_on: int = 0


def pooled(
    failing: "Sequence[Counted]",
    defect: str,
    others: "Sequence[TileRecord]",
    beside: "Sequence[TileRecord]",
    count: "ClearCount | None" = None,
) -> tuple[list[Pooled], str, bool]:
    """The causes of each tile as `tiles why` weighs it before own tiles are counted.

    A glaze that failed always, beside others that did not, has no cut that could be counted: that
    is weighed, and told of the tile with the most others beside it. So is the clear ``count`` over
    all these tiles, by which their areas are set apart; last it is told whether that moved a cause.
    """
    shares: dict[str, list[float]] = {}
    firsts: dict[str, int] = {}
    ruled_out: Counter[str] = Counter()
    of_jar = []
    sisters = [each for each in others if any(shows(each, area, defect) for area in each.areas)]
    of_kiln: set[str] = set()
    is_moved = False
    for area in failing:
        record = area.record
        case = weigh_all(record, defects_seen(record))[defect]
        case = as_glaze_did(as_soon_as_sisters(case, sisters), others)
        rows = case.rows
        if beside and (lesson := lesson_of_jar([*others, *beside], record, case.area, defect)):
            of_jar.append(lesson)
            of_it = {row.name for row in rows if row.cause and lies_in(lesson.measure, row.cause)}
            rows = with_own(rows, {row.name: lesson.lift * (row.name in of_it) for row in rows})
        if count:
            unmoved, rows = rows, count.rows_of(rows, case, area)
            is_moved = is_moved or sum(each.own for each in rows) > sum(e.own for e in unmoved)
        of_kiln |= {row.title for row in rows if row.cause and lies_in("kiln", row.cause)}
        titles = [row.title for row in rows]
        firsts[titles[0]] = firsts.get(titles[0], 0) + 1
        ruled_out.update(row.title for row in rows if not row.is_in_question)
        for title, row in zip(titles, rows, strict=True):
            shares.setdefault(title, []).append(row.share)
    found = [
        Pooled(
            title, sum(each) / len(failing), firsts.get(title, 0), len(failing), ruled_out[title]
        )
        for title, each in shares.items()
    ]
    most = max(of_jar, key=lambda each: each.there_all, default=None)
    found.sort(key=lambda each: -each.mean_share)
    if most is None:
        return found, "", is_moved
    # A shelf or kiln that leads by its own cones is not sent away by what melts at less heat.
    bids = "" if found[0].title in of_kiln else ": look at the glaze itself, not the kiln"
    return found, f" {most.beside.capitalize()}{bids}.", is_moved


def against(
    found: "Sequence[Difference]",
    causes: Sequence[Pooled],
    defect: str,
    areas: "Sequence[Counted]",
) -> str:
    """That a count puts the failing tiles on the other side than the first cause has them."""
    title = causes[0].title if causes else ""
    first = next((each for each in load(defect).causes if each.title == title), None)
    for each in found if first else ():
        is_more = fails_more(each.with_, each.without)
        if gainsays(areas, each.name, is_more=is_more):
            continue
        if (each.is_firm or each.is_hint) and first.more_of(each.name) is (not is_more):
            side = "more" if is_more else "less"
            return (
                f"Against the first of these speaks your count by the {label_of(each.name)}: it "
                f"came where there was {side}."
            )
    return ""
