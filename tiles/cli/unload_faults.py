"""What ``tiles unload`` asks of a fault: what it is, how bad, and where."""

from tiles.cli import unload_words
from tiles.cli.ask import BACK, CLEAR, ENTER, Word, key, line
from tiles.cli.prose import say

TAKEN_BACK = "take it back"
SEVERITY_KEYS = {"1": "slight", "2": "moderate", "3": "severe", ENTER: "not said how bad"}
HOW_BAD = ", ".join(f"{each} {said}" for each, said in SEVERITY_KEYS.items() if each != ENTER)


def ask_fault(named: dict, record, begun: str | None = None) -> dict | None:
    """What a fault is, how bad and where, as far as ``named`` does not say; None if taken back.

    ``begun`` is the key it was named by: another letter right after it spells a word.
    """
    from tiles.records.words import OTHER_FAULT

    seen = {"severity": None, "area": None} | named
    if seen["defect"] == OTHER_FAULT and "note" not in seen:  # at once, as words are typed
        seen["note"] = _ask_note()
        if seen["note"] == BACK:
            return None
        begun = None
    if seen["defect"] == OTHER_FAULT:
        _tell_meaning(seen["note"])
    asks_area = len(record.areas) > 1 and seen["area"] is None
    if seen["severity"] is None:
        seen["severity"] = ask_how_bad(begun, asks_on=asks_area)
        if seen["severity"] == BACK:
            return None
    if asks_area:
        seen["area"] = _ask_area([each.number for each in record.areas])
        if seen["area"] == BACK:
            return None
    return seen


def _tell_meaning(words: str | None) -> None:
    """Words that most often mean a fault of the list are kept as other all the same."""
    from tiles.records.fault_words import listed_fault

    if fault := listed_fault(words or ""):
        told = f"kept as other, but {words!r} most often means {fault}: {BACK}, then {fault}."
        say(f"      {told}", "      ")


def ask_how_bad(begun: str | None, *, asks_on: bool = False) -> str | None:
    """One of the severities, by its key or in words; None where it is not said.

    ``asks_on``: another question follows, which Enter typed with the key is not to answer.
    """
    keys = tuple(each for each in SEVERITY_KEYS if each != ENTER) if asks_on else ()
    try:
        pressed = key(
            f"      how bad? {HOW_BAD} (Enter: not said):",
            SEVERITY_KEYS | {BACK: TAKEN_BACK},
            begun=begun,
            alone=(*keys, BACK),
        )
    except Word as word:
        said = unload_words.read_severity(word.text.removeprefix(begun))
        if said is None:
            raise
        return said
    return {ENTER: None, BACK: BACK}.get(pressed, SEVERITY_KEYS.get(pressed))


def _ask_area(numbers: list[int]) -> int | str | None:
    """The area a defect is on, None for the whole tile; a number of two digits is typed."""
    areas = {str(each): f"area {each}" for each in numbers}
    which = f"      which area? {min(numbers)} to {max(numbers)} (Enter: the whole tile)"
    if max(numbers) < 10:
        on = key(f"{which}:", {ENTER: "the whole tile"} | areas | {BACK: TAKEN_BACK})
    else:
        while (on := line(which)) not in ("", BACK, *areas):
            print(f"      {on!r} is no area of this tile; {BACK} takes it back.")
    return int(on) if on in areas else BACK if on == BACK else None


def _ask_note() -> str | None:
    """A few words on a fault, None for none; - and < mean what they mean elsewhere."""
    while (note := line("      what is it? (Enter: not said)")) == "?" or note.isdecimal():
        print(f"      A few words of your own; {BACK} takes it back.")
    return None if note in ("", CLEAR) else note
