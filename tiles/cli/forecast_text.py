"""``tiles forecast`` as text and as JSON."""

from dataclasses import dataclass, replace
from functools import partial

from tiles.cli.forecast_counts import alike, came_on, very_same
from tiles.cli.forecast_own import OFTENER, SEEN_OFTEN, chance_said, far, goes_first, own_first
from tiles.cli.forecast_untold import can_come, none_seen, untold_in_full, untold_short
from tiles.cli.prose import fitting, wrap

MOST_DRIVERS = 2
"""So many drivers of a chance are told without --all."""
AS_EARLY = "The chance is that of seeing it by the time you mostly look, so later it is greater."
LATER = "It can come later than you mostly look."
BARE = "No glaze is on record here: only faults that bare clay can have are told."
NOT_OF_CLAY = "The one asked for is not among them."


@dataclass(frozen=True)
class Detail:
    """How much is told without ``--all``.

    ``counts``: on how many own tiles each fault came that has no chance, in full; ``causes`` what
    would be to blame, ``drivers`` what moves a chance, ``general`` what it is on own tiles in
    general, ``late`` which looks came too early and when to look again, ``others`` that more
    faults can come. ``is_brief``: of own tiles the first count alone, and what is usual or less in
    one sentence. ``is_dense``: without blank lines.
    """

    counts: bool = True
    drivers: int | None = MOST_DRIVERS
    causes: bool = True
    late: bool = True
    general: bool = True
    others: bool = True
    is_brief: bool = False
    is_dense: bool = False


FULL = Detail()
IN_FULL = Detail(drivers=None)
_SHORT = Detail(counts=False, general=False, is_dense=True)
_LESS_AND_LESS = (
    FULL,
    Detail(counts=False),
    _SHORT,
    replace(_SHORT, drivers=1),
    replace(_SHORT, drivers=0),
    replace(_SHORT, drivers=0, causes=False),
    replace(_SHORT, drivers=0, causes=False, late=False),
    replace(_SHORT, drivers=0, causes=False, late=False, is_brief=True),
)


def as_dict(record, areas: list) -> dict:
    """The documented JSON shape."""
    return {
        "mark": record.mark,
        "areas": [
            {
                "area": each.area,
                "inspected_tiles": each.tiles,
                "unlike": each.unlike,
                "stop": each.stop,
                "kiln_habit": each.kiln_habit,
                "forecasts": [] if each.stop else [one.as_dict() for one in each.forecasts],
            }
            for each in areas
        ],
    }


def screen(record, areas: list, *, is_planned: bool, show_all: bool, note: str = "") -> list[str]:
    """What a person reads: what stands out first, as much as fits unless all is asked for.

    ``note`` is what must be known of all own tiles.
    """
    told = partial(_screen, record, areas, is_planned=is_planned, show_all=show_all, note=note)
    return fitting(told, [IN_FULL] if show_all else _LESS_AND_LESS)


def _screen(
    record, areas: list, detail: Detail, *, is_planned: bool, show_all: bool, note: str
) -> list[str]:
    lines: list[str] = [*wrap(note), ""] if note else []
    others = {_others(each) for each in areas}
    is_said_once = detail.is_dense and len(areas) > 1 and len(others) == 1
    detail = replace(detail, others=not is_said_once)
    for each, area in zip(areas, record.areas, strict=True):
        told = _area(each, show_all, detail)
        while told and not told[-1]:
            told.pop()
        if detail.is_dense:
            lines += [*wrap(_heading(record, area, is_planned)), *filter(None, told), ""]
        else:
            lines += [*wrap(_heading(record, area, is_planned)), "", *told, ""]
    lines += wrap(can_come(*others)) if is_said_once and others != {0} else []
    left_out = f"{record.mark} itself was left out of what this was learned from. "
    is_left_out = not is_planned and record.inspections
    is_told = any(
        one.chance is not None for each in areas if not each.stop for one in each.forecasts
    )
    span = "A range holds nine of ten such chances, as far as your record tells. "
    return lines + wrap(
        f"{left_out if is_left_out else ''}{span if is_told else ''}"
        "No forecast shows that a glaze is safe for food."
    )


def _others(of_area) -> int:
    """Of how many faults no chance is told."""
    return 0 if of_area.stop else sum(each.chance is None for each in of_area.forecasts)


def _heading(record, area, is_planned: bool) -> str:
    from tiles.records.spoken import spoken_layers

    who = "Before firing" if is_planned else record.mark
    many = f", area {area.number}" if len(record.areas) > 1 else ""
    cone = record.firing.target_cone if record.firing else None
    told = f", for cone {cone}" if cone else ""
    made = f"{spoken_layers(area.layers)}{_put_on(area.layers)}"
    return f"{who}{many}: {record.body.name}, {made}{told}"


def _put_on(layers: list) -> str:
    """What the layers were put on, as far as that is known: " (leaf on greenware)"."""
    told = [f"{each.glaze.name} on {each.applied_on}" for each in layers if each.applied_on]
    return f" ({', '.join(told)})" if told else ""


def _area(of_area, show_all: bool, detail: Detail = FULL) -> list[str]:
    if of_area.stop:
        habit = [f"{of_area.kiln_habit}."] if of_area.kiln_habit else []
        return _stopped([*habit, *of_area.stop])
    told = [each for each in of_area.forecasts if each.chance is not None]
    untold = [each for each in of_area.forecasts if each.chance is None]
    is_alone = len(of_area.forecasts) == 1
    lines = [*wrap(f"{of_area.kiln_habit}."), ""] if of_area.kiln_habit else []
    if of_area.is_bare:
        lines += [*wrap(BARE if of_area.forecasts else f"{BARE} {NOT_OF_CLAY}"), ""]
    if of_area.unlike:
        lines += wrap(f"Unlike anything on your record: {'; '.join(of_area.unlike)}.")
        doubt = "Take the chances below with more doubt than their ranges say."
        lines += [*(wrap(doubt) if told else []), ""]
    lines += own_first(of_area)
    lines += _told(told, of_area.tiles, show_all=show_all or is_alone, detail=detail)
    if is_alone or show_all:
        lines += untold_in_full(untold, is_alone=is_alone)
    else:
        lines += untold_short(untold, counts=detail.counts, others=detail.others)
    return lines if told or is_alone else [*lines, *none_seen(untold)]


def _told(told: list, tiles: int, *, show_all: bool, detail: Detail = FULL) -> list[str]:
    """The chances: those that are more than usual first, the ones near it in one line."""
    from diagnose.trials.clues import BY_HAND
    from diagnose.wording import listed

    more = more_than_usual(told)
    mind = [] if show_all else minded(told)
    less = [each for each in told if each.leans == "less" and each not in (*more, *mind)]
    early = [each for each in told if each.early_sound and each not in more]
    near = [each for each in told if each not in (*more, *less, *early)]
    full = [*more, *([*less, *near, *early] if show_all else [])]
    lines = [line for each in mind for line in wrap(f"Mind {each.defect}: {_on_like(each)}.")]
    lines += [""] if mind else []
    lines += [line for each in full for line in _one(each, tiles, IN_FULL if show_all else detail)]
    if detail.is_brief and (less or near):
        said = [f"{each.defect} ({chance_said(each.chance, tiles)})" for each in (*near, *less)]
        lines += wrap(f"As usual on your tiles, or less: {listed(said)}.")
    elif less and not show_all:
        low = listed([_beside_usual(each, tiles, detail) for each in less])
        lines += wrap(f"Less likely than on your tiles in general: {low}.")
    if near and not (show_all or detail.is_brief):
        said = {each.defect: _beside_usual(each, tiles, IN_FULL) for each in near}
        apart = [each for each in said.values() if ", in general " in each]
        usual = [each for each in said.values() if each not in apart]
        hows = (("About as likely as", usual), ("Not clearly more or less likely than", apart))
        for how, of in hows:
            lines += wrap(f"{how} on your tiles in general: {listed(of)}.") if of else []
    for each in [] if show_all else early:
        chance = chance_said(each.chance, tiles)
        lines += wrap(f"No telling yet of {each.defect} ({chance} so far): {_too_early(each)}.")
    for each in [] if show_all else (*less, *near):
        if each.own_count_by in BY_HAND:
            lines += wrap(f"   {each.defect}: {each.own_count}", "     ")
    return [*lines, ""] if not show_all and (near or less or early) else lines


def more_than_usual(told: list) -> list:
    """The forecasts with a chance that stand out, what own tiles of the very layers say first."""
    more = [each for each in told if each.leans == "more" or stands_out(each)]
    return sorted(more, key=lambda each: not goes_first(each))


def _beside_usual(each, tiles: int, detail: Detail) -> str:
    chance, usual = chance_said(each.chance, tiles), chance_said(each.usual, tiles)
    general = f", in general {usual}" if detail.general and chance != usual else ""
    return f"{each.defect} ({chance}{general})"


def _too_early(each) -> str:
    """That the tiles of the glaze without a fault were looked at too early to tell of it."""
    many = f"{each.early_sound} tile{'' if each.early_sound == 1 else 's'}"
    within = f"{each.early_within} day{'' if each.early_within == 1 else 's'}"
    did = "was" if each.early_sound == 1 else "were"
    of = f"of this glaze without it {did} looked at within {within}"
    return f"{many} {of} (a look tells from {each.early_until} on): {each.defect} can come later"


def _stopped(stop: list[str]) -> list[str]:
    """No chance for what must not be fired: it would sound like leave to try."""
    return wrap(" ".join(["Stop:", *stop, "No chances are told for such a firing."]))


def _one(each, tiles: int, detail: Detail = IN_FULL) -> list[str]:
    span = f"{chance_said(each.low, tiles)} to {chance_said(each.high, tiles)}"
    general = "on your tiles in general" if detail.general else "in general"
    lines = wrap(
        f"{each.defect:<14} {chance_said(each.chance, tiles)}  ({span}; "
        f"{general} {chance_said(each.usual, tiles)})"
    )
    if each.by_cone:
        parts = [f"{chance_said(p, tiles)} at cone {cone}" for cone, p in each.by_cone.items()]
        lines += wrap(f"   {', '.join(parts)}", "     ")
    told = [*([each.by_fit] if each.by_fit else []), *alike(each, tiles, in_brief=detail.is_brief)]
    lines += [line for said in told for line in wrap(f"   {said}", "     ")]
    if each.alike_left_out:
        lines += wrap(f"   {AS_EARLY}", "     ") if detail.late else []
    elif each.early_sound:
        lines += wrap(f"   {_too_early(each)}", "     ")
    if each.late_said and each.leans == "more" and detail.late:
        lines += wrap(f"   {each.late_said}", "     ")
    elif (each.alike_left_out or each.late_said) and not detail.late:
        lines += wrap(f"   {LATER}", "     ")
    if each.own_count and (each.own_count_is_far or not detail.is_brief):
        said = each.own_count.removesuffix(".")
        said += f". {far(each, tiles)}" if each.own_count_is_far and not each.alike_is_far else ""
        lines += wrap(f"   {said}", "     ")
    if each.feared and detail.causes:
        lines += wrap(f"   if so, common practice blames: {'; or '.join(each.feared)}", "     ")
    for said in _driven(each.drivers[: detail.drivers]):
        lines += wrap(f"   {said}", "     ")
    return [*lines, ""]


def _driven(drivers: list) -> list[str]:
    """What makes it likelier than usual, and what less likely."""
    ways = {
        "raised by": [each.said for each in drivers if each.log_odds > 0],
        "lowered by": [each.said for each in drivers if each.log_odds <= 0],
    }
    return [f"{way}: {'; '.join(said)}" for way, said in ways.items() if said]


def stands_out(each) -> bool:
    """Whether own areas made so showed it oftener than the chance tells, or the recipe says so."""
    told = ((each.alike_seen, each.alike_areas + each.alike_early),
              (each.closest_seen, each.closest_areas),
              (each.made_so.seen, each.made_so.looked_at),
              (each.pair.near_seen, each.pair.near_tiles))  # fmt: skip
    return (
        bool(each.by_fit)
        or goes_first(each)
        or any(
            seen >= SEEN_OFTEN and seen / areas >= (each.usual or 0.0) + OFTENER
            for seen, areas in told
        )
    )


def minded(told: list) -> list:
    """Those that do not stand out, but came on half of the own areas with the very same layers.

    What is sound so far counts among these, and of a fault of fit only its own clay where it can.
    Few as these may be, nobody should go ahead without knowing of them.
    """
    more = more_than_usual(told)
    return [
        each
        for each in told
        if each not in more and 0 < each.made_so.looked_at <= 2 * each.made_so.seen
    ]


def _on_like(each) -> str:
    made = each.made_so
    came = came_on(made.seen, made.areas, "your", "area")
    return f"it came {came} with {very_same(each)}, on {made.on}{so_far(made)}"


def so_far(made) -> str:
    """Those of which a look was too early to tell, behind the count of the others."""
    return f"; {made.early} more sound so far, looked at too early to tell" if made.early else ""
