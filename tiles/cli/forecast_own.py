"""What own tiles of the very layers say, before the chances of a forecast."""

from tiles.cli.prose import wrap

ROUGH_BELOW = 100
"""With fewer inspected tiles chances are told in rough steps: two digits would be invented."""
ROUGH = ((0.03, "1 in 50"), (0.07, "1 in 20"), (0.15, "1 in 10"), (0.22, "1 in 5"),
         (0.29, "1 in 4"), (0.41, "1 in 3"), (0.58, "1 in 2"), (0.71, "2 in 3"), (0.85, "3 in 4"),
         (1.01, "9 in 10"))  # fmt: skip
SEEN_OFTEN, OFTENER = 2, 0.25
"""A fault that came on so many own areas made so, oftener than usual by so much, stands out."""
LEAD = "Your tiles with these very layers, fired about as hot, go before the chances:"


def chance_said(chance: float, tiles: int) -> str:
    """A chance as it is printed, in rough steps where few tiles were inspected."""
    if tiles < ROUGH_BELOW:
        return "under 1 in 50" if chance < 0.015 else next(t for end, t in ROUGH if chance < end)
    return f"{chance:.0%}" if chance >= 0.01 else "under 1%"


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


def _said(each, tiles: int) -> str:
    """The count of one fault, and that its chance is far from it: "running: 4 of 4 ran"."""
    from diagnose.next_safety import CATCHES
    from diagnose.wording import DID

    pair = each.pair
    how = f" ({pair.how})" if pair.how else ""
    said = f"{each.defect}: {pair.seen or 'none'} of {pair.tiles} {DID.get(each.defect, 'failed')}"
    said += how
    if each.is_far_from_own:
        chance = chance_said(each.chance, tiles)
        said += f". The chance told, {chance}, is far from that: go by your tiles"
    if each.defect == "running" and pair.seen:
        said += f". {CATCHES}"
    return f"{said.removesuffix('.')}."
