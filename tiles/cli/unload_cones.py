"""The question for the witness cones of a load, and its answer."""

import re

from tiles.errors import InvalidValue

_BETWEEN = re.compile(
    r"(?<![\s,;])(?<!cone)[\s,;]+(?=(?:\^|cone\s*|c)?[0o]?\d{1,2}(?:\s*½|\.5|\s1/2)?@)",
    re.IGNORECASE,
)
"""Before a cone, however it is written, with a shelf: that may have blanks and an @ in its name."""


def question(records: list) -> str:
    """Tiles on several shelves may each have a witness cone of their own."""
    first, *others = _shelves(records) or [""]
    several = f"05, or 05@{first} 06@{others[0]}; " if others else ""
    return f"Cone reached, by the witness cone ({several}Enter: not read)"


def _shelves(records: list) -> list[str]:
    from tiles.records.words import name_key

    return sorted({name_key(each.shelf): each.shelf for each in records if each.shelf}.values())


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
