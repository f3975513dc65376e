"""Which tiles of a body tell of its limit, and what each of them says."""

from collections import Counter
from collections.abc import Iterable

from diagnose.body_limit.fit import Seen
from diagnose.body_limit.glaze_expansion import (
    JAR,
    LAYERED,
    NO_GLAZE,
    NO_RECIPE,
    Expansions,
    why_unknown,
)
from diagnose.own_tiles.late_looks import late_looks, later_looks
from tiles.records.derived import shows
from tiles.records.gone import is_in_pieces, telling_looks
from tiles.records.words import same_name

NOT_UNDERSTOOD, EARLY = "with a recipe that is not understood", "looked at too early"
_NEAREST_FIRST = (EARLY, NOT_UNDERSTOOD, NO_RECIPE, JAR, LAYERED, NO_GLAZE)
"""Of a tile with several areas the reason is told that lacks least."""


def seen_on_body(
    records: Iterable, body: str, defect: str = "crazing", own: Iterable = ()
) -> tuple[list[Seen], dict[str, int]]:
    """The tiles of a body that can tell, and of the inspected ones that cannot how many why.

    Parameters
    ----------
    records : iterable of TileRecord
        Every tile on record.
    body : str
        Name of the body.
    defect : str
        The defect looked for; sound tiles count where they were looked at late enough.
    own : iterable of Material
        The user's own analyses.

    Returns
    -------
    tuple[list[Seen], dict]
        A tile counts once for each glaze on it, and only where that glaze lies alone and its
        expansion can be computed. The others are counted by the reason, the most first.
    """
    expansions = Expansions(own)
    found: dict[tuple, Seen] = {}
    untold: Counter[str] = Counter()
    ours = _inspected(records, body)
    late = late_looks(((record, area) for record in ours for area in record.areas), defect)
    for record in ours:
        told = [(area, expansions.of_area(area)) for area in record.areas]
        told = [
            (area, glass)
            for area, glass in told
            if glass is not None and late.tells(record, area) and not is_in_pieces(record, area)
        ]
        if not told:
            untold[_why_untold(record, expansions)] += 1
        for area, glass in told:
            key = (record.mark, glass.glaze, glass.value)
            happened = shows(record, area, defect) or (key in found and found[key].happened)
            found[key] = Seen(glass.glaze, glass.value, glass.low, glass.high, happened)
    return list(found.values()), dict(untold.most_common())


def _why_untold(record, expansions: Expansions) -> str:
    reasons = {
        why_unknown(area) or (EARLY if expansions.of_area(area) else NOT_UNDERSTOOD)
        for area in record.areas
    }
    return min(reasons, key=_NEAREST_FIRST.index, default=NO_GLAZE)


def _inspected(records: Iterable, body: str) -> list:
    """The tiles of a body that were looked at."""
    return [
        record for record in records if same_name(record.body.name, body) and telling_looks(record)
    ]


def looked_at(records: Iterable, body: str, defect: str) -> tuple[int, int]:
    """How many inspected tiles of a body show a defect, whatever their glaze, and of how many.

    Parameters
    ----------
    records : iterable of TileRecord
        Every tile on record.
    body : str
        Name of the body.
    defect : str
        The defect looked for; late looks count.

    Returns
    -------
    tuple[int, int]
        Tiles that show it, and all inspected tiles.
    """
    seen = [
        any(shows(record, area, defect) for area in record.areas)
        for record in _inspected(records, body)
    ]
    return sum(seen), len(seen)


def looked_at_later(records: Iterable, body: str) -> str:
    """How many inspected tiles of a body were looked at again after months, in words."""
    return later_looks(_inspected(records, body))
