"""The question for the witness cones of a load, and its answer."""

import re

from tiles.errors import InvalidValue

_BETWEEN = re.compile(
    r"(?<![\s,;])(?<!cone)[\s,;]+(?=(?:\^|cone\s*|c)?[0o]?\d{1,2}(?:\s*½|\.5|\s1/2)?@)",
    re.IGNORECASE,
)
"""Before a cone, however it is written, with a shelf: that may have blanks and an @ in its name."""
_TOP = {"top", "upper", "uppermost", "highest"}
_BOTTOM = {"bottom", "lower", "lowest", "floor"}


def question(records: list) -> str:
    """Tiles on several shelves may each have a witness cone of their own."""
    from tiles.chemistry.cones import CONES, step

    first, *others = _shelves(records) or [""]
    # An example from the other end of the scale would be copied by a tired hand.
    cone = (records[0].firing and records[0].firing.target_cone) or "05"
    other = next((each for each in reversed(CONES) if step(each) < step(cone)), CONES[0])
    several = f"{cone}, or {cone}@{first} {other}@{others[0]}; " if others else ""
    return f"Cone reached, by the witness cone ({several}Enter: not read)"


def _shelves(records: list) -> list[str]:
    from tiles.records.words import name_key

    shelves = {name_key(each.shelf): each.shelf for each in records if each.shelf}
    return sorted(shelves.values(), key=from_the_top)


def from_the_top(shelf: str | None) -> tuple:
    """Sorts shelves as a kiln is emptied: the top ones first, those at the bottom last."""
    from tiles.queries.search import natural_key
    from tiles.records.words import name_key

    words = set(re.findall(r"[a-z]+", name_key(shelf or "")))
    place = 0 if words & _TOP else 2 if words & _BOTTOM else 1
    return bool(shelf), place, natural_key(name_key(shelf or ""))


def read(text: str, records: list) -> list:
    """One cone for all, or one for each shelf that is named with it: ``05@top 06@bottom``."""
    from tiles.cli.firing import witness
    from tiles.records import forms
    from tiles.records.words import name_key

    parts = _BETWEEN.split(text.strip()) if "@" in text else [text]
    cones = [forms.read(forms.WitnessCone, witness(part)) for part in parts]
    named = [name_key(each.shelf or "") for each in cones]
    if len(set(named)) < len(named):
        raise InvalidValue("two cones for one place.", "one for each shelf.")
    shelves = _shelves(records)
    known = {"", *(name_key(each) for each in shelves)}
    if unknown := [each for each, name in zip(cones, named, strict=True) if name not in known]:
        raise InvalidValue(
            f"no tile that waits for its cone lies on shelf {unknown[0].shelf!r}.",
            f"{', '.join(shelves)}." if shelves else "the cone alone.",
        )
    return cones
