"""What the areas of one tile say when compared: like with like, one difference at a time.

Each comparison gives a number from -1 to 1: 1 means only the areas with more of the thing failed,
0 means it made no difference, -1 means only the areas with less of it failed.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from diagnose.colour_layer import judged
from diagnose.measures.application import Reading
from diagnose.view import View, severity_step, sightings, total_of
from tiles.records.derived import defects_on
from tiles.records.words import name_key

WORSE = 0.7
"""Seen on both, but worse on one (estimate)."""
UNPLACED = 0.2
"""Logged for the whole tile without naming areas: seen on all, but not looked at one by one."""
MANY_COATS, ON_ALL = 3, 0.5
"""Where so many different coats all failed, how much worse it is with more of it counts by half:
the coat alone does not make it (common practice, no source; the half is an estimate)."""
COAT_MEASURES = ("thickness_mm", "fired_thickness_mm", "coats")


@dataclass(frozen=True)
class _Seen:
    """One area, and how badly it failed: 0 sound, 1 to 3 by severity, None seen but not graded."""

    view: View
    level: int | None
    is_placed: bool

    @property
    def label(self) -> str:
        return f"area {self.view.area.number}"


def read(view: View) -> Iterator[Reading]:
    """Coat, texture, colour beneath, overlap, and one glaze against another."""
    if view.defect is None or len(view.record.areas) < 2:
        return
    seen = _levels(view)
    if all(each.level == 0 for each in seen):
        return
    yield from _coat(seen)
    yield from _clear(seen)
    textured = {"textured": 1, "smooth": 0}
    yield from _compare(
        seen,
        "rises_with_texture",
        lambda v: textured.get(v.area.surface),
        lambda v: (v.stack, _coat_amount(v)),
        ("the textured area", "the smooth area"),
    )
    yield from _compare(
        [each for each in seen if each.view.glazes],
        "rises_over_colour",
        lambda v: int(bool(v.colours)),
        lambda v: (_glaze_names(v), v.area.surface, _coat_amount(v)),
        ("the area with underglaze, slip or oxide beneath", "the area without it"),
    )
    yield from _overlap(seen)
    yield from _glazes(seen)


def _levels(view: View) -> list[_Seen]:
    found = []
    all_seen = sightings(view.record, view.defect)
    for area in view.record.areas:
        here = [s for s in all_seen if s.area in (None, area.number)]
        steps = [severity_step(s) for s in here]
        level = 0 if not here else None if None in steps else max(steps)
        placed = not here or any(s.area is not None for s in here)
        found.append(_Seen(View(view.record, area, view.defect), level, placed))
    return found


def _glaze_names(view: View) -> tuple[str, ...]:
    return tuple(name_key(layer.glaze.name) for layer in view.glazes)


def _coat_amount(view: View) -> tuple[str, float] | None:
    """The glaze coat by the best measure there is: dry mm, fired mm, else coats."""
    for attribute in COAT_MEASURES:
        amount = total_of(view.glazes, attribute)
        if amount is not None:
            return attribute, amount
    return None


def _coat(seen: list[_Seen]) -> Iterator[Reading]:
    """The areas of the same layers and surface, from the thinnest coat to the thickest.

    Of a colour under a clear it is the coat of the colour, under as much of the clear.
    """
    for attribute in COAT_MEASURES:
        groups: dict[tuple, list[tuple[float, _Seen]]] = {}
        for each in seen:
            lower = judged(each.view)
            amount = total_of(lower.coated, attribute)
            if amount is not None:
                over = total_of(list(lower.over), attribute)
                key = (each.view.stack, each.view.area.surface, over)
                groups.setdefault(key, []).append((amount, each))
        if group := _unlike(groups):
            yield "rises_with_coat", *_by_amount(group, attribute)
            return


def _clear(seen: list[_Seen]) -> Iterator[Reading]:
    """Of a colour under a clear: the areas from the fewest coats of the clear to the most."""
    groups: dict[tuple, list[tuple[float, _Seen]]] = {}
    for each in seen:
        lower = judged(each.view)
        amount = total_of(list(lower.over), "coats")
        if amount is not None:
            key = (each.view.stack, each.view.area.surface, lower.top.coats)
            groups.setdefault(key, []).append((amount, each))
    if group := _unlike(groups):
        yield "rises_with_clear", *_by_amount(group, "coats")


def _unlike(groups: dict[tuple, list[tuple[float, _Seen]]]) -> list[tuple[float, _Seen]]:
    """The first group with unlike amounts on which the fault is at all, the least amount first."""
    for group in groups.values():
        ordered = sorted(group, key=lambda pair: pair[0])
        if ordered[0][0] < ordered[-1][0] and any(each.level != 0 for _, each in ordered):
            return ordered
    return []


def _by_amount(group: list[tuple[float, _Seen]], attribute: str) -> tuple[float, str]:
    """What sound areas beside failed ones say; where both ends failed, which one is worse.

    Of all pairs of a failed and a sound area: the part in which the failed one is the thicker less
    that in which it is the thinner. A sound area thicker than a failed one speaks against the
    thick coat.
    """
    failed = [pair for pair in group if pair[1].level != 0]
    sound = [pair for pair in group if pair[1].level == 0]
    (_, thin), (_, thick) = group[0], group[-1]
    if not sound or (thin.level != 0 and thick.level != 0):
        names = (_named(group[-1:], attribute), _named(group[:1], attribute))
        value, said = _judge(thick, thin, names)
        is_on_all = not sound and len({amount for amount, _ in group}) >= MANY_COATS
        return (value * ON_ALL if is_on_all and abs(value) == WORSE else value), said
    pairs = [more - less for more, _ in failed for less, _ in sound if more != less]
    value = sum(1 if by > 0 else -1 for by in pairs) / len(pairs)
    only = "only " if abs(value) == 1 else ""
    is_sound = "is sound" if len(sound) == 1 else "are sound"
    return value, (
        f"it is {only}on {_named(failed, attribute)}; {_named(sound, attribute)} {is_sound}"
    )


def _named(pairs: list[tuple[float, _Seen]], attribute: str) -> str:
    """Areas with their coats: "areas 2 and 3 (2 and 3 coats)"."""
    from diagnose.wording import listed

    numbers = listed([str(each.view.area.number) for _, each in pairs])
    amounts = listed([f"{amount:g}" for amount in sorted({amount for amount, _ in pairs})])
    return f"area{'s' if len(pairs) > 1 else ''} {numbers} ({amounts} {_unit(attribute, amounts)})"


def _unit(attribute: str, amounts: str) -> str:
    if attribute == "coats":
        return "coat" if amounts == "1" else "coats"
    return "mm dry" if attribute == "thickness_mm" else "mm fired"


def _compare(
    seen: list[_Seen],
    name: str,
    of: Callable[[View], int | None],
    alike: Callable[[View], tuple],
    names: tuple[str, str],
) -> Iterator[Reading]:
    """The first pair that is alike but for the one thing compared."""
    for more in seen:
        for less in seen:
            if (of(more.view), of(less.view)) != (1, 0) or alike(more.view) != alike(less.view):
                continue
            if more.level != 0 or less.level != 0:
                labels = (f"{names[0]} ({more.label})", f"{names[1]} ({less.label})")
                yield name, *_judge(more, less, labels)
                return


def _judge(more: _Seen, less: _Seen, names: tuple[str, str]) -> tuple[float, str]:
    if less.level == 0:
        return 1.0, f"it is only on {names[0]}; {names[1]} {_without(less)}"
    if more.level == 0:
        return -1.0, f"it is only on {names[1]}; {names[0]} {_without(more)}"
    if not (more.is_placed and less.is_placed):
        return UNPLACED, f"it was logged for the whole tile, {names[0]} and {names[1]} alike"
    if None in (more.level, less.level) or more.level == less.level:
        return 0.0, f"it is the same on {names[0]} and {names[1]}"
    if more.level > less.level:
        return WORSE, f"it is worse on {names[0]} than on {names[1]}"
    return -WORSE, f"it is worse on {names[1]} than on {names[0]}"


def _without(seen: _Seen) -> str:
    """That an area does not have the fault; sound only where it has no other one either."""
    return f"has no {seen.view.defect}" if _has_other(seen) else "is sound"


def _has_other(seen: _Seen) -> bool:
    return any(s.defect != seen.view.defect for s in defects_on(seen.view.record, seen.view.area))


def _overlap(seen: list[_Seen]) -> Iterator[Reading]:
    """An area of two glazes against an area with one of the two alone."""
    for double in seen:
        names = _glaze_names(double.view)
        singles = [each for each in seen if len(each.view.glazes) == 1]
        parts = [each for each in singles if _glaze_names(each.view)[0] in names]
        if len(set(names)) < 2 or not parts or not any(s.level != 0 for s in [double, *parts]):
            continue
        # Any part that fails alone shows that the overlap is not needed.
        single = max(parts, key=lambda each: 1 if each.level is None else each.level)
        alike = [each for each in parts if each.level == single.level]
        labels = (f"the overlap ({double.label})", f"one glaze alone ({_labels(alike)})")
        other = next((each for each in alike if _has_other(each)), single)
        yield "rises_in_overlap", *_judge(double, other, labels)
        return


def _labels(areas: list[_Seen]) -> str:
    """Areas by their numbers: "areas 1 and 3"."""
    from diagnose.wording import listed

    numbers = [str(each.view.area.number) for each in areas]
    return f"area{'s' if len(areas) > 1 else ''} {listed(numbers)}"


def _glazes(seen: list[_Seen]) -> Iterator[Reading]:
    """Whether every glaze on this tile failed, or another one on the same clay is sound."""
    tops: dict[str, bool] = {}
    for each in seen:
        names = _glaze_names(each.view)
        if len(names) == 1 and not each.view.colours:
            tops[names[0]] = tops.get(names[0], False) or each.level != 0
    if len(tops) < 2:
        return
    sound = sorted(name for name, failed in tops.items() if not failed)
    if sound:
        yield "every_glaze_failed", "no", f"{sound[0]} on the same tile is sound"
    else:
        names = " and ".join(sorted(tops))
        yield "every_glaze_failed", "yes", f"{names} both failed on this tile"
