"""Faults of which ``tiles forecast`` tells no chance: what own tiles and practice say of them."""

from tiles.cli.forecast_counts import alike, came_on_own, made_so
from tiles.cli.prose import counted, wrap

STATES = {
    "too few tiles inspected": "fewer than 20 tiles inspected",
    "seen too rarely": "seen on fewer than 3 of your tiles",
    "never inspected": "no tile inspected",
    "not judged": "one glaze alone cannot tell of another",
    "failures only": "failures alone are on record",
    "not clearly better than guessing": "not clearly better than guessing on held-back tiles",
}
MOST_FEARED = 2
"""So many fears of common practice are told without --all."""
NEARLY_ALL = "on all, or nearly all, of your tiles"


def reason(state: str, seen: int, inspected: int) -> str:
    """Why nothing was learned of a defect, in words."""
    is_usual = state == "seen too rarely" and 2 * seen > inspected
    return NEARLY_ALL if is_usual else STATES[state]


def can_come(others: int) -> str:
    """That so many more faults can come."""
    of = "it" if others == 1 else "them"
    said = counted(others, "other fault")
    return f"{said} can come too; your tiles tell no chance of {of} (--all)."


def untold_in_full(untold: list, *, is_alone: bool) -> list[str]:
    """No number where own tiles carry none: only which way common practice leans.

    Of one defect that was asked for the counts are told even where it never came.
    """
    from diagnose.wording import listed

    if not untold:
        return []
    lines: list[str] = []
    for why in (*STATES.values(), NEARLY_ALL):
        here = [e.defect for e in untold if reason(e.state, e.seen, e.inspected) == why]
        if here:
            lines += wrap(f"No chance told, {why}: {listed(here)}.")
    for each in untold:
        lines += _own(each, even_none=is_alone)
        if is_feared(each):
            lines += _fear(each)
    return lines


def untold_short(untold: list, *, counts: bool, others: bool) -> list[str]:
    """That more faults can come, and what own tiles and common practice say of them."""
    if not untold:
        return []
    lines = wrap(can_come(len(untold))) if others else []
    feared = [each for each in untold if is_feared(each)]
    if not counts:
        seen = ((each.defect, came_on_own(each)) for each in untold)
        came = [f"{defect} {few} of {many}" for defect, (few, many) in seen if few]
        by_fit = [line for each in untold if each.by_fit for line in _by_fit(each)]
        lines += wrap(f"   came on tiles like it: {', '.join(came)}", "     ") if came else []
        return [*lines, *by_fit, *_fears([each.defect for each in feared], "fears")]
    lines += [line for each in untold for line in _own(each, even_none=False)]
    lines += [line for each in feared[:MOST_FEARED] for line in _fear(each)]
    return lines + _fears([each.defect for each in feared[MOST_FEARED:]], "fears, too")


def _fears(defects: list[str], how: str) -> list[str]:
    from diagnose.wording import listed

    return wrap(f"   common practice {how}: {listed(defects)}", "     ") if defects else []


def none_seen(untold: list) -> list[str]:
    """Where no chance can be told: that own tiles made so show no fault at all."""
    most = max(untold, key=lambda each: each.alike_areas, default=None)
    if most is None or not most.alike_areas or any(each.alike_seen for each in untold):
        return []
    unit, made = made_so(most)
    many = f"{most.alike_areas} {unit}s" if most.alike_areas > 1 else f"one {unit}"
    return wrap(f"   no fault on record on your {many} {made}", "     ")


def _own(each, *, even_none: bool) -> list[str]:
    """The counts of own tiles for a fault without a chance, where there are any."""
    is_counted = each.alike_areas or each.layers_areas
    by_fit = _by_fit(each) if each.by_fit else []
    if not (came_on_own(each)[0] or (is_counted and even_none)):
        return by_fit
    return [*by_fit, *wrap(f"   {each.defect}: {'. '.join(alike(each, 0))}", "     ")]


def _by_fit(each) -> list[str]:
    return wrap(f"   {each.defect}: {each.by_fit}", "     ")


def is_feared(each) -> bool:
    """Whether common practice fears a fault of which own tiles carry no chance."""
    return each.leans == "more" and bool(each.feared)


def _fear(each) -> list[str]:
    causes = "; or ".join(each.feared)
    return wrap(f"   {each.defect}: if so, common practice blames: {causes}", "     ")
