"""The question for the witness cones of a load, its answer, and where that is noted."""

import re
from functools import partial

from tiles.cli import common
from tiles.cli.ask import ask
from tiles.cli.prose import say
from tiles.errors import InvalidValue

_TOP = {"top", "upper", "uppermost", "highest"}
_BOTTOM = {"bottom", "lower", "lowest", "floor"}


def ask_load(records: list, db: str | None, *, confirmed: bool) -> tuple:
    """The cone of those tiles that have none yet; a doubtful one is asked about once for all.

    One that is not that of the whole load is asked for shelf by shelf, and is each tile's own only
    where no shelf is recorded.

    Returns
    -------
    (str or None, FiringRecord or None)
        The cone to note on each tile; the firing, where cones are noted there.
    """
    from tiles.cli.notices import tell_shelves
    from tiles.records.derived import cone_reached

    without = [record for record in records if not cone_reached(record)]
    shelves = _shelves(without)
    while without:
        cones = ask(question(without), check=lambda text: read(text, without))
        if not cones:
            break
        try:
            is_sure = _once_meant(without, cones, confirmed)
            if not any(each.shelf for each in cones) and not _is_of_all(shelves):
                if not shelves:
                    return cones[0].cone, None
                cones = _ask_shelves(shelves)
                if not cones:
                    common.talk("No witness cone is noted.")
                    break
                is_sure = _once_meant(without, cones, confirmed)
            noted = _note(without[0].firing, cones, db, confirmed=is_sure)
        except common.Declined:
            continue
        if any(each.shelf for each in cones):
            tell_shelves([record.model_copy(update={"firing": noted}) for record in without])
        return None, noted
    return None, None


def _is_of_all(shelves: list[str]) -> bool:
    """Whether a cone named without a shelf is that of the whole load."""
    otherwise = "asked shelf by shelf" if shelves else "the own cone of each tile looked at"
    return common.yes_or_no(f"The same for the whole load? (n: {otherwise})", default=True)


def _ask_shelves(shelves: list[str]) -> list:
    """The witness cones of those shelves that were read."""
    asked = [
        ask(f"Witness cone of shelf {each} (Enter: not read)", check=partial(_on_shelf, each))
        for each in shelves
    ]
    return list(filter(None, asked))


def _on_shelf(shelf: str, text: str):
    """The cone typed for one shelf, as it is noted."""
    from tiles.records import forms

    return forms.read(forms.WitnessCone, {"cone": text, "shelf": shelf})


def _once_meant(records: list, cones: list, confirmed: bool) -> bool:
    """Whether a person said of these cones that they are really so, where they are unlikely.

    Raises
    ------
    Declined
        They are not.
    """
    doubts = "" if confirmed else _doubts(records, cones)
    if doubts:
        say(doubts)
        if not common.yes_or_no("Is that really so?"):
            raise common.Declined
    return confirmed or bool(doubts)


def _doubts(records: list, cones: list) -> str:
    """What is unlikely about tiles of a load with these witness cones; empty for nothing."""
    from tiles.records.derived import witness_cone
    from tiles.records.spoken import some

    then = records[0].firing.model_copy(update={"witness_cones": cones})
    told = {each.mark: {"cone_reached": witness_cone(then, each.shelf)} for each in records}
    doubts = {r.mark: said for r in records if (said := new_questions(r, told[r.mark]))}
    return f"{some(list(doubts))}: {next(iter(doubts.values()))}" if doubts else ""


def _note(firing, cones: list, db: str | None, *, confirmed: bool):
    """The firing with these cones on record for its shelves or the whole load.

    So they hold for the tiles that are put off, too, and are not asked again.

    Raises
    ------
    Declined
        Other tiles of the load would not fit them.
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

    noted, gone = common.confirmed(write, yes=confirmed)
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
    from tiles.records.mark_looks import natural_key
    from tiles.records.words import name_key

    words = set(re.findall(r"[a-z]+", name_key(shelf or "")))
    place = 0 if words & _TOP else 2 if words & _BOTTOM else 1
    return bool(shelf), place, natural_key(name_key(shelf or ""))


def read(text: str, records: list) -> list:
    """One cone for all, or one for each shelf that is named with it: ``05@top 06@bottom``."""
    from tiles.cli.firing import witnesses
    from tiles.records import forms
    from tiles.records.words import name_key

    cones = [forms.read(forms.WitnessCone, each) for each in witnesses([text])]
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
