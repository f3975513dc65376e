"""What ``tiles change`` says of a tile: each thing as it was and is, what follows of itself too."""

from tiles.cli.marks import runs
from tiles.cli.prose import counted, say

_BLANK = "not recorded"
_TOLD = ("mark", "inspected")
"""What is told on a line of its own."""
MOST_TOLD = 12
"""Things told of many tiles where nobody asked for all (estimate)."""


def tell(pairs: list[tuple], *, show_all: bool) -> None:
    """A line for each thing that another value took the place of, so that it can be put back.

    Parameters
    ----------
    pairs : list of (TileRecord, TileRecord)
        Each tile before and after.
    show_all : bool
        Without it, of more than fit a screen, those of most tiles, and the first marks of each.
    """
    from tiles.records.spoken import some

    found: dict[str, list[str]] = {}
    for before, now in pairs:
        for line in moved(before, now):
            found.setdefault(line, []).append(now.mark)
    told = list(found.items())
    if len(told) > MOST_TOLD and not show_all:
        told = sorted(told, key=lambda each: -len(each[1]))[:MOST_TOLD]
    for line, marks in told:
        named = ", ".join(runs(marks)) if show_all else some(runs(marks))
        whose = "" if len(marks) == len(pairs) else f"{named}: "
        say(f"  {whose}{line}", "    ")
    if more := len(found) - len(told):
        print(f"  ... and {counted(more, 'more such line')} (--all tells each)")


def takes_off(was, now) -> bool:
    """Whether anything that was on record is no longer, or is another.

    Examples
    --------
    >>> takes_off({"note": None, "shelf": "top"}, {"note": "seen", "shelf": "top"})
    False
    >>> takes_off({"looks": ["2026-10-02"]}, {"looks": []})
    True
    """
    if isinstance(was, dict) and isinstance(now, dict):
        return any(takes_off(value, now.get(key)) for key, value in was.items())
    if isinstance(was, list) and isinstance(now, list):
        return any(map(takes_off, was, now)) or len(was) > len(now)
    return was not in (None, {}, []) and was != now


def moved(before, now) -> list[str]:
    """What is said of a tile otherwise than before, its cone and the days of its looks with it."""
    was, said = _by_label(before), _by_label(now)
    labels = [each for each in dict.fromkeys([*said, *was]) if each not in _TOLD]
    return [
        f"{label}: {was.get(label, _BLANK)} -> {said.get(label, _BLANK)}"
        for label in labels
        if was.get(label) != said.get(label)
    ]


def _by_label(record) -> dict[str, str]:
    from tiles.records.spoken import card

    found: dict[str, list[str]] = {}
    last = ""
    for label, text in card(record, {}):
        last = label or last
        if label == "clue":
            name, _, text = text.rpartition(": ")
            label = f"clue {name}"
        # How a layer went on stands below the layers, without a label of its own.
        found.setdefault(label or f"{last} applied", []).append(text)
    if days := _days_after_firing(record):
        found["last look, days after the firing"] = [days]
    return {label: "; ".join(texts) for label, texts in found.items()}


def _days_after_firing(record) -> str:
    days = [look.inspected_on for look in record.inspections]
    fired = record.firing and record.firing.fired_on
    return str((max(days) - fired).days) if days and fired else ""
