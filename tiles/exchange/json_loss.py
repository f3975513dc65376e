"""What a tile on record would lose where a record of a file is written over it."""

from collections import Counter
from collections.abc import Callable, Collection, Iterable
from datetime import date

from tiles.errors import InvalidValue, shell_word
from tiles.records import forms
from tiles.records.store.named import Added
from tiles.records.store.split import way_apart
from tiles.records.words import OTHER_FAULT, name_key

_BY_TRIAL_OF = ("trial_defect", "trial_change")
"""Never told without the tile that the trial is of, so that naming that one is enough."""


def refuse_loss(
    stored: forms.TileRecord, record: forms.TileRecord, loss: str, parted: Collection[Added]
) -> None:
    """Refuse to write over a tile that would lose something, see `loss_by`.

    ``stored`` is that tile, ``parted`` are the names that a merge took off the record and that the
    same file puts there again.

    Raises
    ------
    InvalidValue
        With the ways to keep it.
    """
    mark = record.mark
    apart = way_apart(stored, record, parted)
    ways = [f"'{apart}' to undo a merge"] if apart else []
    ways += [f"'tiles change {shell_word(mark)}'", "a JSON file that holds it", "or --allow-loss."]
    raise InvalidValue(
        f"{mark} would lose {loss}.",
        ", ".join(ways),
        field="mark",
        value=mark,
    )


def loss_by(
    stored: forms.TileRecord,
    record: forms.TileRecord,
    not_carried: Callable[[forms.TileRecord], list[str]] | None = None,
) -> str:
    """What ``stored``, a tile on record, would lose by being written over; "" where nothing."""
    if lost := not_carried(stored) if not_carried else []:
        return f"{' and '.join(lost)}, which a CSV does not hold"
    looks, stored = record.inspections, _named_as(stored, record)
    lost = [
        _said(look) for look in stored.inspections if not any(_holds(new, look) for new in looks)
    ]
    lost += [f"the words about {defect}" for defect in _without_words(stored, record)]
    if pictures := {each.file for each in stored.photos} - {each.file for each in record.photos}:
        lost.append(f"{len(pictures)} picture{'s' * (len(pictures) > 1)}")
    lost += [f"the recipe of {glaze}" for glaze in _without_recipe(stored, record)]
    lost += _blanked(stored, record)
    return " and ".join(lost)


def _named_as(stored: forms.TileRecord, record: forms.TileRecord) -> forms.TileRecord:
    """The tile on record, another fault called as the new record does with the very same words."""
    names = {
        (look.inspected_on, name_key(seen.note)): seen.defect
        for look in record.inspections
        for seen in look.defects
        if seen.note
    }

    def named(seen: forms.DefectSeen, day: date) -> forms.DefectSeen:
        is_other = seen.defect == OTHER_FAULT
        name = names.get((day, name_key(seen.note or "")), seen.defect) if is_other else None
        return seen.model_copy(update={"defect": name}) if name else seen

    looks = [
        look.model_copy(update={"defects": [named(each, look.inspected_on)
                                            for each in look.defects]})
        for look in stored.inspections
    ]  # fmt: skip
    return stored.model_copy(update={"inspections": looks})


def _blanked(stored: forms.TileRecord, record: forms.TileRecord) -> list[str]:
    """What is told of the tile on record, and no longer of the new one: "the note"."""
    told, new = dict(stored), dict(record)
    blank = [name for name in told if told[name] is not None and new[name] is None]
    lost = [name.replace("_", " ") for name in blank if name not in _BY_TRIAL_OF]
    lost += [f"note {stored.note!r}"] if record.note and _is_gone(stored.note, [record]) else []
    lost += [
        f"note {look.note!r} of the look of {look.inspected_on}"
        for look in stored.inspections
        if (same := [each for each in record.inspections if _holds(each, look)])
        and _is_gone(look.note, same)
    ]
    lost += _clues_gone(stored, record)
    return [f"the {name}" for name in lost]


def _is_gone(note: str | None, of: Iterable[forms.TileRecord | forms.InspectionRecord]) -> bool:
    """Whether none of these holds a note word for word, perhaps with more beside."""
    return bool(note) and not any(name_key(note) in name_key(each.note or "") for each in of)


def _clues_gone(stored: forms.TileRecord, record: forms.TileRecord) -> list[str]:
    """The clues answered of the tile on record, or of an area of it, and no longer of the new."""
    after = {area.number: record.clues | area.clues for area in record.areas}
    lost = [name for name in stored.clues if any(name not in clues for clues in after.values())]
    of_areas = [
        f"{name} of area {area.number}" if len(stored.areas) > 1 else name
        for area in stored.areas
        for name in area.clues
        if name not in after.get(area.number, record.clues)
    ]
    return [f"clue {name}".replace("_", " ") for name in (*lost, *of_areas)]


def _without_recipe(stored: forms.TileRecord, record: forms.TileRecord) -> list[str]:
    """The glazes on record with a recipe that lie on the same area of the new one without any."""
    before, after = (
        {(area.number, name_key(layer.glaze.name)): layer for area in of.areas
         for layer in area.layers}
        for of in (stored, record)
    )  # fmt: skip
    lost = [
        layer.glaze.name
        for place, layer in before.items()
        if layer.recipe and place in after and not after[place].recipe
    ]
    return list(dict.fromkeys(lost))


def _holds(new: forms.InspectionRecord, look: forms.InspectionRecord) -> bool:
    """Whether a look is still there: of the same day, with every fault that it saw."""
    seen, before = ({each.defect for each in of.defects} for of in (new, look))
    return new.inspected_on == look.inspected_on and before <= seen


def _without_words(stored: forms.TileRecord, record: forms.TileRecord) -> list[str]:
    """The defects of which a look would tell fewer words than on record."""
    lost = _words(stored) - _words(record)
    return list(dict.fromkeys(defect for _day, defect, _what in lost))


def _words(record: forms.TileRecord) -> Counter:
    """How often a look tells where a defect is, and anything else about it."""
    return Counter(
        (look.inspected_on, seen.defect, what)
        for look in record.inspections
        for seen in look.defects
        for what in ("place", "note")
        if getattr(seen, what)
    )


def _said(look: forms.InspectionRecord) -> str:
    seen = ", ".join(dict.fromkeys(each.defect for each in look.defects)) or "clean"
    return f"the look of {look.inspected_on} ({seen})"
