"""``tiles forecast`` as text and as JSON."""

from tiles.cli.forecast_own import OFTENER, SEEN_OFTEN, chance_said, far, goes_first, own_first
from tiles.cli.prose import wrap

STATES = {
    "too few tiles inspected": "fewer than 20 tiles inspected",
    "seen too rarely": "seen on fewer than 3 of your tiles",
    "never inspected": "no tile inspected",
    "not judged": "one glaze alone cannot tell of another",
    "failures only": "failures alone are on record",
    "not clearly better than guessing": "not clearly better than guessing on held-back tiles",
}
MOST_DRIVERS, MOST_FEARED = 2, 2
"""So many drivers of a chance, and so many fears of common practice, are told without --all."""
AS_EARLY = "The chance is that of seeing it by the time you mostly look, so later it is greater."
NEAREST = "none of your tiles is made and fired just so; the nearest"
NEARLY_ALL = "on all, or nearly all, of your tiles"
BARE = "No glaze is on record here: only faults that bare clay can have are told."
NOT_OF_CLAY = "The one asked for is not among them."


def reason(state: str, seen: int, inspected: int) -> str:
    """Why nothing was learned of a defect, in words."""
    is_usual = state == "seen too rarely" and 2 * seen > inspected
    return NEARLY_ALL if is_usual else STATES[state]


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
    """What a person reads: what stands out first, the rest in a line unless all is asked for.

    ``note`` is what must be known of all own tiles.
    """
    lines: list[str] = [*wrap(note), ""] if note else []
    for each, area in zip(areas, record.areas, strict=True):
        told = "\n".join(_area(each, show_all)).rstrip()
        lines += [*wrap(_heading(record, area, is_planned)), "", told, ""]
    if not is_planned and record.inspections:
        lines += wrap(f"{record.mark} itself was left out of what this was learned from.")
    is_told = any(
        one.chance is not None for each in areas if not each.stop for one in each.forecasts
    )
    span = "A range holds nine of ten such chances, as far as your record tells. "
    return lines + wrap(
        f"{span if is_told else ''}No forecast shows that a glaze is safe for food."
    )


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


def _area(of_area, show_all: bool) -> list[str]:
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
    lines += _told(told, of_area.tiles, show_all=show_all or is_alone)
    if is_alone or show_all:
        lines += _untold(untold, is_alone=is_alone)
    else:
        lines += _untold_short(untold)
    return lines if told or is_alone else [*lines, *_none_seen(untold)]


def _told(told: list, tiles: int, *, show_all: bool) -> list[str]:
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
    lines += [line for each in full for line in _one(each, tiles, show_all=show_all)]
    if less and not show_all:
        low = listed([_beside_usual(each, tiles) for each in less])
        lines += wrap(f"Less likely than on your tiles in general: {low}.")
    if near and not show_all:
        # The general chance is left out: rounded otherwise it would look far from this one.
        usual = [f"{each.defect} ({chance_said(each.chance, tiles)})" for each in near]
        lines += wrap(f"About as likely as on your tiles in general: {listed(usual)}.")
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


def _beside_usual(each, tiles: int) -> str:
    chance, usual = chance_said(each.chance, tiles), chance_said(each.usual, tiles)
    return f"{each.defect} ({chance}{'' if chance == usual else f', in general {usual}'})"


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


def _one(each, tiles: int, *, show_all: bool = True) -> list[str]:
    span = f"{chance_said(each.low, tiles)} to {chance_said(each.high, tiles)}"
    lines = wrap(
        f"{each.defect:<14} {chance_said(each.chance, tiles)}  ({span}; on your tiles "
        f"in general {chance_said(each.usual, tiles)})"
    )
    if each.by_cone:
        parts = [f"{chance_said(p, tiles)} at cone {cone}" for cone, p in each.by_cone.items()]
        lines += wrap(f"   {', '.join(parts)}", "     ")
    told = [*([each.by_fit] if each.by_fit else []), *_alike(each, tiles)]
    lines += [line for said in told for line in wrap(f"   {said}", "     ")]
    if each.alike_left_out:
        lines += wrap(f"   {AS_EARLY}", "     ")
    elif each.early_sound:
        lines += wrap(f"   {_too_early(each)}", "     ")
    if each.late_said and each.leans == "more":
        lines += wrap(f"   {each.late_said}", "     ")
    if each.own_count:
        said = each.own_count.removesuffix(".")
        said += f". {far(each, tiles)}" if each.own_count_is_far and not each.alike_is_far else ""
        lines += wrap(f"   {said}", "     ")
    if each.feared:
        lines += wrap(f"   if so, common practice blames: {'; or '.join(each.feared)}", "     ")
    for said in _driven(each.drivers[: None if show_all else MOST_DRIVERS]):
        lines += wrap(f"   {said}", "     ")
    return [*lines, ""]


def _driven(drivers: list) -> list[str]:
    """What makes it likelier than usual, and what less likely."""
    ways = {
        "raised by": [each.said for each in drivers if each.log_odds > 0],
        "lowered by": [each.said for each in drivers if each.log_odds <= 0],
    }
    return [f"{way}: {'; '.join(said)}" for way, said in ways.items() if said]


def _untold(untold: list, *, is_alone: bool) -> list[str]:
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


def _untold_short(untold: list) -> list[str]:
    """How many faults have no chance, and what own tiles and common practice say of them."""
    from diagnose.wording import listed

    if not untold:
        return []
    states = [reason(each.state, each.seen, each.inspected) for each in untold]
    why = max(states, key=states.count)
    mostly = "mostly " if len(set(states)) > 1 else ""
    lines = wrap(f"No chance told of {len(untold)} faults (--all names them), {mostly}{why}.")
    lines += [line for each in untold for line in _own(each, even_none=False)]
    feared = [each for each in untold if is_feared(each)]
    lines += [line for each in feared[:MOST_FEARED] for line in _fear(each)]
    if more := [each.defect for each in feared[MOST_FEARED:]]:
        lines += wrap(f"   common practice fears, too: {listed(more)}", "     ")
    return lines


def _none_seen(untold: list) -> list[str]:
    """Where no chance can be told: that own tiles made so show no fault at all."""
    most = max(untold, key=lambda each: each.alike_areas, default=None)
    if most is None or not most.alike_areas or any(each.alike_seen for each in untold):
        return []
    unit, made = _made_so(most)
    many = f"{most.alike_areas} {unit}s" if most.alike_areas > 1 else f"one {unit}"
    return wrap(f"   no fault on record on your {many} {made}", "     ")


def _own(each, *, even_none: bool) -> list[str]:
    """The counts of own tiles for a fault without a chance, where there are any."""
    counted = each.alike_areas or each.layers_areas
    by_fit = wrap(f"   {each.defect}: {each.by_fit}", "     ") if each.by_fit else []
    if not (came_on_own(each)[0] or (counted and even_none)):
        return by_fit
    return [*by_fit, *wrap(f"   {each.defect}: {'. '.join(_alike(each, 0))}", "     ")]


def came_on_own(each) -> tuple[int, int]:
    """On how many own tiles a fault came and on how many it might have; those made alike first."""
    told = ((each.alike_seen, each.alike_areas), (each.layers_seen, each.layers_areas),
            (each.pair.near_seen, each.pair.near_tiles))  # fmt: skip
    return next((each for each in told if each[0]), (0, 0))


def is_feared(each) -> bool:
    """Whether common practice fears a fault of which own tiles carry no chance."""
    return each.leans == "more" and bool(each.feared)


def _fear(each) -> list[str]:
    causes = "; or ".join(each.feared)
    return wrap(f"   {each.defect}: if so, common practice blames: {causes}", "     ")


def _alike(each, tiles: int) -> list[str]:
    """What the counts of areas made alike say, and which could not tell."""
    is_far = each.alike_is_far and not goes_first(each)
    return [
        *([counts(each)] if each.alike_tiles or each.layers_areas else []),
        *([far(each, tiles, "what came on this body")] if is_far else []),
        *([each.alike_left_out] if each.alike_left_out else []),
        *([f"{NEAREST}: {each.pair.near}"] if _tells_near(each) else []),
    ]


def _tells_near(each) -> bool:
    """Whether own tiles of the layers in another heat or other coats say more than the chance."""
    return bool(each.pair.near) and (each.pair.near_seen > 0 or each.leans == "more")


def stands_out(each) -> bool:
    """Whether own areas made so showed it oftener than the chance tells, or the recipe says so."""
    told = ((each.alike_seen, each.alike_areas), (each.closest_seen, each.closest_areas),
              (each.layers_seen, each.layers_areas),
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

    Few as these may be, nobody should go ahead without knowing of them.
    """
    more = more_than_usual(told)
    return [
        each
        for each in told
        if each not in more and each.layers_seen > 0 and 2 * each.layers_seen >= each.layers_areas
    ]


def _on_like(each) -> str:
    came = _came(each.layers_seen, each.layers_areas, "your", "area")
    return f"it came {came} with {_very_same(each)}, on whatever body"


def counts(each) -> str:
    """On how many own areas it came, made alike or with the very same layers, if there are any."""
    if not each.alike_areas:
        came = _came(each.layers_seen, each.layers_areas, "your", "area")
        said = f"{came} with {_very_same(each)} on other bodies"
        return said + (f"; {each.clues_apart}" if each.clues_apart else "")
    unit, made = _made_so(each)
    said = f"{_came(each.alike_seen, each.alike_areas, 'your', unit)} {made}"
    said += f", {each.alike_recipe}" if each.alike_recipe else ""
    if 0 < each.closest_areas < each.alike_areas:
        came = _came(each.closest_seen, each.closest_areas, "the")
        said = f"{said}, {came} {each.closest_how}"
    elif each.closest_how and not each.closest_areas:
        said += "" if each.alike_recipe else f" (none on record {each.closest_how})"
    if each.layers_areas and not each.layers_are_alike:
        very = _came(each.layers_seen, each.layers_areas, "the")
        said = f"{said}; {very} with {_very_same(each)} on any body"
    return said + (f"; {each.clues_apart}" if each.clues_apart else "")


def _very_same(each) -> str:
    """What areas with its layers are alike in; of coats that are not recorded that any count."""
    return f"the very same layers{f' ({each.layers_how})' if each.layers_how else ''}"


def _made_so(each) -> tuple[str, str]:
    """What the areas made alike are counted in, and how they are made."""
    over = f" over {each.alike_over}" if each.alike_over else ""
    unit = "tile" if each.alike_areas == each.alike_tiles else "area"
    return unit, f"of this glaze{over} on this body"


def _came(seen: int, areas: int, whose: str, unit: str = "") -> str:
    """On how many it came: "on 2 of your 3 tiles", "not on the one"."""
    if areas == 1:
        unit = unit and "tile"
        return f"{'' if seen else 'not '}on {whose} one{f' {unit}' if unit else ''}"
    return f"on {seen or 'none'} of {whose} {areas}{f' {unit}s' if unit else ''}"
