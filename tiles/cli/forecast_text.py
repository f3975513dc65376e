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
    special = [each for each in told if each.leans != "as usual"]
    for each in sorted(special, key=lambda one: (one.leans == "less", -one.chance)):
        lines += _one(each, of_area.tiles)
    usual = [_usual(each, of_area.tiles) for each in told if each.leans == "as usual"]
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
        if each.alike_seen or (each.alike_areas and is_alone):
            lines += wrap(f"   {each.defect}: {'. '.join(_alike(each))}", "     ")
        if each.leans == "more" and each.feared:
            feared = "; or ".join(each.feared)
            lines += wrap(f"   {each.defect}: if so, common practice blames: {feared}", "     ")
    return lines


def _alike(each) -> list[str]:
    """What the counts of areas made alike say, and which could not tell."""
    return [
        *([_counts(each)] if each.alike_tiles else []),
        *([each.alike_left_out] if each.alike_left_out else []),
    ]


def _counts(each) -> str:
    from tiles.cli.prose import counted

    unit = "tile" if each.alike_areas == each.alike_tiles else "area"
    over = f" over {each.alike_over}" if each.alike_over else ""
    said = f"on {each.alike_seen or 'none'} of your {counted(each.alike_areas, unit)} of this glaze"
    said = f"{said}{over} on this body"
    if not 0 < each.closest_areas < each.alike_areas:
        return said
    ones = "the one" if each.closest_areas == 1 else f"the {each.closest_areas}"
    came = f"on {each.closest_seen or 'none'} of {ones}"
    if each.closest_areas == 1:
        came = f"{'' if each.closest_seen else 'not '}on {ones}"
    return f"{said}, {came} {each.closest_how}"
