"""What the tiles of a body say of its limit, in words; or what is missing to say it."""

from diagnose.wording import DID

LEAST_TILES, LEAST_GLAZES, LEAST_EACH = 6, 3, 2
"""Fewer tell no limit, nor fewer that failed or came out sound (estimates): one may be a slip."""
RISES = {"crazing": 1.0, "shivering": -1.0}
"""1 where a higher glaze expansion makes the defect likelier, -1 where it makes it rarer."""
SIDE = {"crazing": "above", "shivering": "below"}
VERB = {"crazing": "crazes", "shivering": "shivers"}
AGAINST = {
    "crazing": "; yet glazes that crazed work out lower than sound ones, so doubt it",
    "shivering": "; yet glazes that shivered work out higher than sound ones, so doubt it",
}


def spoken(
    defect: str, failed: int, sound: int, glazes: int, value: float, low: float, high: float
) -> str:
    """The limit with its range, and the counts behind it."""
    return (
        f"{VERB[defect]} {SIDE[defect]} {value:.1f} ({low:.1f} to {high:.1f}) ppm/K in your kiln: "
        f"{counted(defect, failed, sound, glazes)}"
    )


def counted(defect: str, failed: int, sound: int, glazes: int) -> str:
    """The counts behind a limit."""
    tiles = "tile" if sound == 1 else "tiles"
    kinds = "glaze" if glazes == 1 else "glazes"
    return f"{failed} {DID[defect]}, {sound} sound {tiles} of {glazes} {kinds}"


def looked_at(
    failed: dict[str, int], tiles: int, untold: dict[str, dict[str, int]], later: str
) -> str:
    """What was seen on all tiles of a body, by defect, and how many cannot tell a limit, and why.

    ``untold`` : how many by the reason, by defect.
    """
    seen = " and ".join(f"{many or 'none'} {DID[defect]}" for defect, many in failed.items())
    said = f"of {tiles} inspected tile{'' if tiles == 1 else 's'} {seen}"
    said += f" ({later})" if later else ""
    is_alike = len({frozenset(each.items()) for each in untold.values()}) == 1
    towards = (
        {"a limit": next(iter(untold.values()))}
        if is_alike
        else {f"where it {VERB[defect]}": reasons for defect, reasons in untold.items()}
    )
    told = [_untold(where, reasons) for where, reasons in towards.items() if reasons]
    return "; ".join([said, *told])


def _untold(where: str, reasons: dict[str, int]) -> str:
    """How many cannot count, with the only reason or how many for each."""
    if len(reasons) == 1:
        ((reason, many),) = reasons.items()
        return f"{many} of them, {reason}, cannot count towards {where}"
    why = ", ".join(f"{many} {reason}" for reason, many in reasons.items())
    return f"{sum(reasons.values())} of them cannot count towards {where}: {why}"


def missing(defect: str, failed: int, sound: int, glazes: int, early: int) -> str:
    """What is missing to tell a limit; empty when nothing is.

    ``early`` : tiles of known recipe that cannot count, as they were looked at too early.
    """
    have = counted(defect, failed, sound, glazes)
    start = f"where it {VERB[defect]} cannot be told yet"
    if failed + sound == 0 and early:
        which = "tile with a known recipe was" if early == 1 else "tiles with known recipes were"
        return f"{start}: the {early} {which} looked at too early"
    if failed + sound == 0:
        return f"{start}: no inspected tile has a glaze whose recipe is understood"
    if failed + sound < LEAST_TILES or glazes < LEAST_GLAZES:
        needed = f"{LEAST_TILES} tiles of {LEAST_GLAZES} glazes"
        return f"{start}: {have}; it takes {needed} with known recipes"
    if min(failed, sound) >= LEAST_EACH:
        return ""
    way = "higher" if (defect == "crazing") == (failed <= sound) else "lower"
    return f"{start}: {have}; glazes of {way} expansion would find the limit"
