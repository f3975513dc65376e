"""How open the cause of a fault is, and what the next tiles tell of it, in words."""

from tiles.cli.prose import between_words
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

SETTLED, SURE = 0.9, 0.95
"""Shares of a cause that is as good as known, and of one beyond doubt (estimates)."""
LITTLE_PART = 0.1
"""Tiles that clear up less of the doubt tell little (estimate)."""
NEXT_TO_NOTHING = 0.05
"""Tiles that clear up less of the doubt of a settled cause need not be fired (estimate)."""


def is_settled(found) -> bool:
    """Whether the cause is as good as known."""
    return found.causes[0][1] >= SETTLED


def is_beyond_doubt(found) -> bool:
    """Whether nothing need be fired to tell the cause."""
    is_told = is_settled(found) and part_told(found) < NEXT_TO_NOTHING
    return is_told or round(found.causes[0][1], 2) >= SURE


def settled_told(found) -> list[str]:
    """That the cause is as good as known, and where its remedy stands."""
    mends = f"'tiles fix {shell_word(found.mark)}' says what mends it."
    start = "Settled: nothing need be fired to tell the cause."
    said = f"{start} {mends}" if is_beyond_doubt(found) else f"Little is open: {mends}"
    return between_words(with_db(said))


def to_fire(found) -> str:
    """The heading of the tiles: a choice, not an order, where the cause is beyond doubt."""
    where = f" in {found.kiln}" if found.kiln else ""
    is_one = len(found.trials) == 1
    how, changes = ("one tile", "one change") if is_one else ("side by side", "one change each")
    fire = "If you want to see it for yourself, fire" if is_beyond_doubt(found) else "Fire"
    return f"{fire} {how}{where}, {changes}:"


def part_told(found) -> float:
    """What part of the doubt all tiles together are expected to clear up."""
    return found.told_bits / found.open_bits if found.open_bits else 0


def tells_little(found) -> bool:
    """Whether the cause is open and stays so whatever comes of the tiles."""
    return found.causes[0][1] < SETTLED and part_told(found) < LITTLE_PART


def together(found) -> str:
    """What the tiles are expected to tell of the cause."""
    part = f"about {part_told(found):.0%} of the doubt"
    if part_told(found) >= LITTLE_PART:
        left = " that is left" if is_beyond_doubt(found) else ""
        return f"Together these tiles should clear up {part}{left}."
    # "0%" reads as if something were wrong
    told = " of the cause" if part.startswith("about 0%") else f": {part}"
    return f"Together these tiles tell little{told}."
