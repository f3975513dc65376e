"""``tiles forecast`` as text and as JSON."""

from tiles.cli.prose import wrap

ROUGH_BELOW = 100
"""With fewer inspected tiles chances are told in rough steps: two digits would be invented."""
ROUGH = ((0.03, "1 in 50"), (0.07, "1 in 20"), (0.15, "1 in 10"), (0.22, "1 in 5"),
         (0.29, "1 in 4"), (0.41, "1 in 3"), (0.58, "1 in 2"), (0.71, "2 in 3"), (0.85, "3 in 4"),
         (1.01, "9 in 10"))  # fmt: skip
STATES = {
    "too few tiles inspected": "fewer than 20 tiles inspected",
    "seen too rarely": "seen on fewer than 3 of your tiles",
    "never inspected": "no tile inspected",
    "not judged": "one glaze alone cannot tell of another",
    "no better than guessing": "held-back tiles were forecast no better than by guessing",
}
FEW_AREAS = 5
"""Where fewer areas on this body tell, those on all bodies are told as well."""
SEEN_OFTEN, OFTENER = 2, 0.25
"""A fault that came on so many own areas made so, oftener than usual by so much, stands out."""
AS_EARLY = "The chance is that of seeing it by the time you mostly look, so later it is greater."
NEARLY_ALL = "on all, or nearly all, of your tiles"


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


def screen(record, areas: list, *, is_planned: bool) -> list[str]:
    """What a person reads: what stands out first."""
    lines: list[str] = []
    for each, area in zip(areas, record.areas, strict=True):
        told = "\n".join(_area(each)).rstrip()
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
    return f"{who}{many}: {record.body.name}, {spoken_layers(area.layers)}{told}"


def _area(of_area) -> list[str]:
    from diagnose.wording import listed

    told = [each for each in of_area.forecasts if each.chance is not None]
    untold = [each for each in of_area.forecasts if each.chance is None]
    lines: list[str] = []
    if of_area.stop:
        habit = [f"{of_area.kiln_habit}."] if of_area.kiln_habit else []
        return _stopped([*habit, *of_area.stop])
    if of_area.kiln_habit:
        lines += [*wrap(f"{of_area.kiln_habit}."), ""]
    if of_area.unlike:
        lines += wrap(f"Unlike anything on your record: {'; '.join(of_area.unlike)}.")
        lines += [*wrap("Take the chances below with more doubt than their ranges say."), ""]
    special = [each for each in told if each.leans != "as usual" or _stands_out(each)]
    for each in sorted(special, key=lambda one: (one.leans == "less", -one.chance)):
        lines += _one(each, of_area.tiles)
    usual = [_usual(each, of_area.tiles) for each in told if each not in special]
    if usual:
        lines += wrap(f"Nothing special known, near what is usual with you: {listed(usual)}.")
        lines += [""]
    return [*lines, *_untold(untold, is_alone=len(of_area.forecasts) == 1)]


def _usual(each, tiles: int) -> str:
    chance, usual = _chance(each.chance, tiles), _chance(each.usual, tiles)
    return f"{each.defect} ({chance}{'' if chance == usual else f', usual {usual}'})"


def _stopped(stop: list[str]) -> list[str]:
    """No chance for what must not be fired: it would sound like leave to try."""
    return wrap(" ".join(["Stop:", *stop, "No chances are told for such a firing."]))


def _one(each, tiles: int) -> list[str]:
    span = f"{_chance(each.low, tiles)} to {_chance(each.high, tiles)}"
    lines = wrap(
        f"{each.defect:<14} {_chance(each.chance, tiles)}  ({span}; usual with you "
        f"{_chance(each.usual, tiles)})"
    )
    lines += [line for said in _alike(each) for line in wrap(f"   {said}", "     ")]
    if each.alike_left_out:
        lines += wrap(f"   {AS_EARLY}", "     ")
    if each.feared:
        lines += wrap(f"   if so, common practice blames: {'; or '.join(each.feared)}", "     ")
    for driver in each.drivers:
        sign = "+" if driver.log_odds > 0 else "-"
        lines += wrap(f"   {sign} {driver.said}", "     ")
    return [*lines, ""]


def _chance(chance: float, tiles: int) -> str:
    if tiles < ROUGH_BELOW:
        return "under 1 in 50" if chance < 0.015 else next(t for end, t in ROUGH if chance < end)
    return f"{chance:.0%}" if chance >= 0.01 else "under 1%"


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
        counted = each.alike_areas or each.layers_areas
        if each.alike_seen or each.layers_seen or (counted and is_alone):
            lines += wrap(f"   {each.defect}: {'. '.join(_alike(each))}", "     ")
        if each.leans == "more" and each.feared:
            feared = "; or ".join(each.feared)
            lines += wrap(f"   {each.defect}: if so, common practice blames: {feared}", "     ")
    return lines


def _alike(each) -> list[str]:
    """What the counts of areas made alike say, and which could not tell."""
    return [
        *([_counts(each)] if each.alike_tiles or each.layers_areas else []),
        *([each.alike_left_out] if each.alike_left_out else []),
    ]


def _stands_out(each) -> bool:
    """Whether own areas made so showed it oftener than the chance near the usual one tells."""
    counts = ((each.alike_seen, each.alike_areas), (each.closest_seen, each.closest_areas),
              (each.layers_seen, each.layers_areas))  # fmt: skip
    return any(
        seen >= SEEN_OFTEN and seen / areas >= (each.usual or 0.0) + OFTENER
        for seen, areas in counts
    )


def _counts(each) -> str:
    if not each.alike_areas:
        came = _came(each.layers_seen, each.layers_areas, "your", "area")
        return f"{came} with the very same layers on other bodies"
    unit = "tile" if each.alike_areas == each.alike_tiles else "area"
    over = f" over {each.alike_over}" if each.alike_over else ""
    said = f"{_came(each.alike_seen, each.alike_areas, 'your', unit)} of this glaze{over}"
    said = f"{said} on this body"
    here = each.alike_areas
    if 0 < each.closest_areas < each.alike_areas:
        here = each.closest_areas
        said = f"{said}, {_came(each.closest_seen, here, 'the')} {each.closest_how}"
    if each.layers_seen and here < min(FEW_AREAS, each.layers_areas):
        very = _came(each.layers_seen, each.layers_areas, "the")
        said = f"{said}; {very} with the very same layers on any body"
    return said


def _came(seen: int, areas: int, whose: str, unit: str = "") -> str:
    """On how many it came: "on 2 of your 3 tiles", "not on the one"."""
    if areas == 1:
        return f"{'' if seen else 'not '}on {whose} one{f' {unit}' if unit else ''}"
    return f"on {seen or 'none'} of {whose} {areas}{f' {unit}s' if unit else ''}"
