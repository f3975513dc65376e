"""What own tiles of the very layers say, before the chances of a forecast."""

from math import log

from tiles.cli.prose import wrap

ROUGH_BELOW = 100
"""With fewer inspected tiles chances are told in rough steps: finer ones would be invented."""
ROUGH = ((1, 50), (1, 20), (1, 10), (1, 5), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4), (9, 10))
FINE = ((1, 100), (1, 50), (1, 30), (1, 20), (1, 15), (1, 12), (1, 10), (1, 8), (1, 6), (1, 5),
        (1, 4), (1, 3), (2, 5), (1, 2), (3, 5), (2, 3), (3, 4), (4, 5), (9, 10),
        (19, 20))  # fmt: skip
"""So many of so many: told alike in a small studio and a large one, which has more steps."""
UNDER = 0.7
"""A chance below this part of the least step is told as under it."""
SEEN_OFTEN, OFTENER = 2, 0.25
"""A fault that came on so many own areas made so, oftener than usual by so much, stands out."""
LEAD = "Your tiles with these very layers, fired about as hot or less, go before the chances:"


def chance_said(chance: float, tiles: int) -> str:
    """A chance as it is printed, in rough steps where few tiles were inspected.

    Examples
    --------
    >>> chance_said(0.11, 60), chance_said(0.115, 200), chance_said(0.001, 200)
    ('1 in 10', '1 in 8', 'under 1 in 100')
    """
    steps = ROUGH if tiles < ROUGH_BELOW else FINE
    (few, many), odds = steps[0], chance / max(1.0 - chance, 1e-9)
    if chance < UNDER * few / many:
        return f"under {few} in {many}"
    part, whole = min(steps, key=lambda step: abs(log(odds * (step[1] - step[0]) / step[0])))
    return f"{part} in {whole}"


def goes_first(each) -> bool:
    """Whether own tiles of the very layers showed a fault often, or otherwise than its chance."""
    pair = each.pair
    is_often = pair.seen >= SEEN_OFTEN and pair.seen / pair.tiles >= (each.usual or 0.0) + OFTENER
    return is_often or each.is_far_from_own


def own_first(of_area) -> list[str]:
    """A line for each fault of which they tell most; none where there are no such tiles."""
    first = [each for each in of_area.forecasts if goes_first(each)]
    first.sort(key=lambda each: -each.pair.seen / each.pair.tiles)
    lines = [line for each in first for line in wrap(f"   {_said(each, of_area.tiles)}", "     ")]
    return [*wrap(LEAD), *lines, ""] if lines else []


def far(each, tiles: int, what: str = "that") -> str:
    """What is said beside own tiles that came out otherwise than a chance says."""
    chance = chance_said(each.chance, tiles)
    return f"The chance told, {chance}, is far from {what}: go by your tiles"


def _said(each, tiles: int) -> str:
    """The count of one fault, and that its chance is far from it."""
    from diagnose.next_tiles.safety import CATCHES

    pair = each.pair
    said = count_said(each) + (f" ({pair.how})" if pair.how else "")
    if each.is_far_from_own:
        said += f". {far(each, tiles)}"
    if each.defect == "running" and pair.seen:
        said += f". {CATCHES}"
    return f"{said.removesuffix('.')}."


def count_said(each) -> str:
    """What came of own tiles of the very same layers: "running: 4 of 4 ran"."""
    from diagnose.wording import DID

    pair = each.pair
    return f"{each.defect}: {pair.seen or 'none'} of {pair.tiles} {DID.get(each.defect, 'failed')}"
