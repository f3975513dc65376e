"""The question for the witness cones of a load, its answer, and where that is noted."""

import re

from tiles.cli import common
from tiles.cli.ask import ask
from tiles.cli.prose import between_words
from tiles.errors import InvalidValue

_BETWEEN = re.compile(
    r"(?<![\s,;])(?<!cone)[\s,;]+(?=(?:\^|cone\s*|c)?[0o]?\d{1,2}(?:\s*½|\.5|\s1/2)?@)",
    re.IGNORECASE,
)
"""Before a cone, however it is written, with a shelf: that may have blanks and an @ in its name."""
_TOP = {"top", "upper", "uppermost", "highest"}
_BOTTOM = {"bottom", "lower", "lowest", "floor"}


def ask_load(records: list, db: str | None, *, confirmed: bool) -> tuple:
    """The cone of those tiles that have none yet; a doubtful one is asked about once for all.

    Returns
    -------
    (str or None, FiringRecord or None)
        The cone to note on each tile; the firing, where cones are noted there.
    """
    from tiles.cli.notices import tell_shelves
    from tiles.records.derived import cone_reached

    without = [record for record in records if not cone_reached(record)]
    while without:
        firing = without[0].firing
        cones = ask(question(without), check=lambda text: read(text, without))
        if not cones:
            break
        doubts = _doubts(without, cones)
        if doubts and not confirmed:
            print("\n".join(between_words(doubts)))
            if not common.yes_or_no("Is that really so?"):
                continue
        are_of_shelves = any(each.shelf for each in cones)
        if are_of_shelves or common.yes_or_no("The same for the whole load?", default=True):
            noted = _note(firing, cones, db, confirmed=confirmed or bool(doubts))
            if noted and are_of_shelves:
                tell_shelves([record.model_copy(update={"firing": noted}) for record in without])
            if noted:
                return None, noted
        if not are_of_shelves:
            return cones[0].cone, None
    return None, None


def _doubts(records: list, cones: list) -> str:
    """What is unlikely about tiles of a load with these witness cones; empty for nothing."""
    from tiles.records.derived import witness_cone
    from tiles.records.spoken import some

    then = records[0].firing.model_copy(update={"witness_cones": cones})
    told = {each.mark: {"cone_reached": witness_cone(then, each.shelf)} for each in records}
    doubts = {r.mark: said for r in records if (said := new_questions(r, told[r.mark]))}
    return f"{some(list(doubts))}: {next(iter(doubts.values()))}" if doubts else ""


def _note(firing, cones: list, db: str | None, *, confirmed: bool):
    """The firing with these cones on record for its shelves or the whole load; None if declined.

    So they hold for the tiles that are put off, too, and are not asked again.
    """
    from tiles.cli.firing import tell_gone
    from tiles.records import models, reading, store

    def write(is_sure: bool):
        with common.writing(db) as session:
            # Beside what another person may have read meanwhile.
            all_cones, gone = store.witness_cones_with(session, firing.name, cones)
            changes = {"witness_cones": all_cones}
            row = store.change(session, models.Firing, firing.name, changes, confirmed=is_sure)
            return reading.firing_record(row), gone

    try:
        noted, gone = common.confirmed(write, yes=confirmed)
    except common.Declined:  # other tiles of the load would not fit it
        return None
    tell_gone(gone)
    return noted


def new_questions(record, changes: dict) -> str:
    """What is unlikely about a tile with these changes, that was not so without them."""
    from tiles.records.answered import not_answered
    from tiles.records.questions import questions

    changed = record.model_copy(update=changes)
    return " ".join(not_answered(questions(changed), questions(record)))


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
