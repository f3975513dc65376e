"""A record that comes in for a tile on record: what it tells beside, and what it contradicts.

Two people keep the same tiles on two computers. What one record knows and the other leaves blank
is no contradiction; a later look, or a picture, comes beside those on record.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, Questioned
from tiles.records import forms, models, reading
from tiles.records.derived import recipe_key
from tiles.records.problems import shown
from tiles.records.spoken import some, spoken_day, spoken_layers
from tiles.records.store.mark import get_tile
from tiles.records.store.named import Names
from tiles.records.store.tile import PLAIN_FIELDS, replace_tile
from tiles.records.store.whole import wholly
from tiles.records.words import same_name, same_value


def _plain(form: type[forms.BaseModel], *others: str) -> list[str]:
    """The fields of a form that hold one value each, and so are blank or told."""
    return [name for name in form.model_fields if name not in others]


_OF_AREA = _plain(forms.AreaRecord, "number", "layers", "clues")
_OF_LAYER = _plain(forms.LayerRecord, "glaze", "recipe", "batch")
_HINT = (
    "'tiles change' or the file corrected if it is the same tile, another mark if it is not, "
    "--replace to write over it, or --skip-refused to store the others."
)


@dataclass
class Joined:
    """A tile on record with what a further record told beside; nothing where it told the same."""

    record: forms.TileRecord
    looks: list[forms.InspectionRecord] = field(default_factory=list)
    pictures: int = 0
    fields: list[str] = field(default_factory=list)

    @property
    def has_more(self) -> bool:
        """Whether the record told anything that was not on record."""
        return bool(self.looks or self.pictures or self.fields)


@wholly
def join_tile(
    session: Session,
    record: forms.TileRecord,
    *,
    row: models.Tile | None = None,
    names: Names,
    confirmed: bool = False,
    asked_before: Collection[str] = (),
) -> Joined:
    """Add to a tile on record what a record of the same mark knows beside.

    Parameters
    ----------
    session, record, row, names, confirmed, asked_before
        As for :func:`tiles.records.store.replace_tile`.

    Returns
    -------
    Joined
        Where it ``has_more``, that is stored; else nothing was written.

    Raises
    ------
    AlreadyOnRecord
        The two contradict each other; names the fields with both values.
    Questioned
        Both were looked at, but they have no look in common: two tiles of one mark, perhaps.
    """
    row = row or get_tile(session, record.mark)
    before = reading.tile_record(row)
    join = _Join(before, record)
    whole, found = join.whole(), join.found
    if join.differing:
        told = "; with ".join(join.differing)
        raise AlreadyOnRecord(
            f"a tile marked {before.mark!r} is already on record with {told}.",
            _HINT,
            field="mark",
            value=record.mark,
        )
    if not confirmed:
        _ask_if_it_is_one(before, record, found.looks)
    _refuse_other_parts(record, names)
    if found.has_more:
        how = {"names": names, "confirmed": confirmed, "asked_before": asked_before}
        found.record = replace_tile(session, whole, row=row, **how)
    return found


def _refuse_other_parts(record: forms.TileRecord, names: Names) -> None:
    """Look up all that the record names, so that none of it is described otherwise."""
    names.body(record.body)
    names.firing(record.bisque_firing, "bisque")
    names.firing(record.firing, "glaze")
    for area in record.areas:
        for layer in area.layers:
            glaze = names.glaze(layer.glaze, has_recipe=layer.recipe is not None)
            names.recipe(glaze, layer.recipe)
            names.batch(glaze, layer.batch)


def _ask_if_it_is_one(before: forms.TileRecord, record: forms.TileRecord, further: list) -> None:
    if before.inspections and further and len(further) == len(record.inspections):
        known, new = (
            some([spoken_day(record, look) for look in looks], 3)
            for looks in (before.inspections, further)
        )
        raise Questioned(
            f"{before.mark} is on record with {known}, and comes with none of that but {new}: "
            "another tile of that mark, perhaps.",
            "another mark if it is another tile, or --yes if it is the same one.",
            field="mark",
            value=record.mark,
        )


@dataclass
class _Join:
    """Two records of one tile put together, the one on record first."""

    before: forms.TileRecord
    given: forms.TileRecord
    differing: list[str] = field(default_factory=list)
    found: Joined = field(init=False)

    def __post_init__(self) -> None:
        self.found = Joined(self.before)

    def whole(self) -> forms.TileRecord:
        """The tile with all that either knows; what they contradict each other in is noted."""
        before, given = self.before, self.given
        parts = {"areas": self._areas(), "inspections": self._looks(), "photos": self._pictures()}
        clues = self._clues(before.clues, given.clues)
        by = dict.fromkeys(("body", "bisque_firing", "firing"), _of_one_name)
        plain = self._filled(before, given, [*PLAIN_FIELDS, "trial_of", *by], by)
        return before.model_copy(update={**parts, "clues": clues, **plain})

    def _filled(
        self,
        before: Any,
        given: Any,
        fields: Collection[str],
        alike: dict[str, Callable[[Any, Any], bool]] | None = None,
        of: str = "",
    ) -> dict[str, Any]:
        """What of these fields is blank on record and given; ``of`` says of what they are."""
        filled = {}
        for name in fields:
            kept, new = getattr(before, name), getattr(given, name)
            if new is None or (kept is not None and (alike or {}).get(name, same_value)(kept, new)):
                continue
            if kept is None:
                filled[name] = new
                self.found.fields.append(f"{name}{of}")
            else:
                self._differ(name, kept, new, of)
        return filled

    def _differ(self, what: str, kept: Any, new: Any, of: str = "") -> None:
        self.differing.append(f"{what} {_spoken(kept)}{of}, and comes with {_spoken(new)}")

    def _clues(
        self,
        before: dict[str, str],
        given: dict[str, str],
        of_tile: dict[str, str] | None = None,
        of: str = "",
    ) -> dict[str, str]:
        """All answers; one about the whole tile holds on its areas."""
        known, more = (of_tile or {}) | before, {}
        for clue, answer in given.items():
            if clue not in known:
                more[clue] = answer
                self.found.fields.append(f"clue {clue}{of}")
            elif known[clue] != answer:
                self._differ(f"clue {clue}", known[clue], answer, of)
        return before | more

    def _areas(self) -> list[forms.AreaRecord]:
        given = {area.number: area for area in self.given.areas}
        before = {area.number: area for area in self.before.areas}
        if given.keys() != before.keys():
            numbers = (", ".join(map(str, sorted(areas))) for areas in (before, given))
            kept, new = (f"area{'s' * (',' in each)} {each}" for each in numbers)
            self.differing.append(f"{kept}, and comes with {new}")
            return self.before.areas
        return [self._area(area, given[area.number]) for area in self.before.areas]

    def _area(self, before: forms.AreaRecord, given: forms.AreaRecord) -> forms.AreaRecord:
        at = f" on area {before.number}" if len(self.before.areas) > 1 else ""
        values = self._filled(before, given, _OF_AREA, of=at)
        values["clues"] = self._clues(before.clues, given.clues, self.before.clues, at)
        values["layers"] = self._layers(before.layers, given.layers, at)
        return before.model_copy(update=values)

    def _layers(self, before: list, given: list, at: str) -> list[forms.LayerRecord]:
        if not given:
            return before
        if not before:
            self.found.fields.append(f"{spoken_layers(given)}{at}")
            return given
        pairs = list(zip(before, given, strict=False))
        is_same = all(_of_one_name(kept.glaze, new.glaze) for kept, new in pairs)
        if len(before) != len(given) or not is_same:
            kept, new = (" + ".join(each.glaze.name for each in of) for of in (before, given))
            self._differ("glaze", kept, new, at)
            return before
        return [self._layer(kept, new, at) for kept, new in pairs]

    def _layer(self, before: forms.LayerRecord, given: forms.LayerRecord, at: str):
        by = {"recipe": _of_same_lines, "batch": _of_one_name}
        of = f" of {before.glaze.name}{at}"
        return before.model_copy(update=self._filled(before, given, [*_OF_LAYER, *by], by, of))

    def _pictures(self) -> list[forms.PhotoRecord]:
        kept = {photo.file: photo for photo in self.before.photos}
        for photo in self.given.photos:
            if photo.file not in kept:
                kept[photo.file] = photo
                self.found.pictures += 1
                continue
            of = f" of picture {photo.file}"
            more = self._filled(kept[photo.file], photo, ["caption"], of=of)
            kept[photo.file] = kept[photo.file].model_copy(update=more)
        return list(kept.values())

    def _looks(self) -> list[forms.InspectionRecord]:
        """Those on record, with what the others know of them, and the others beside."""
        looks, left = list(self.before.inspections), list(range(len(self.before.inspections)))
        further = list(self.given.inspections)
        only = self.before.areas[0].number if len(self.before.areas) == 1 else None
        for pair in (_pairs_whole, _pairs):
            for look in list(further):
                at = next((at for at in left if pair(looks[at], look, only) is not None), None)
                if at is None:
                    continue
                looks[at] = self._look(looks[at], look, pair(looks[at], look, only))
                left.remove(at)
                further.remove(look)
        for look in further:
            of_day = [looks[at] for at in left if looks[at].inspected_on == look.inspected_on]
            if of_day:
                kept, new = (spoken_day(self.before, each) for each in (of_day[0], look))
                self.differing.append(f"{kept}, and comes with {new}")
            else:
                self.found.looks.append(look)
        return looks + self.found.looks

    def _look(self, before: forms.InspectionRecord, given: forms.InspectionRecord, pairs: list):
        of = f" of the look of {before.inspected_on}"
        values = self._filled(before, given, ["note"], of=of)
        values["defects"] = [
            kept.model_copy(
                update=self._filled(kept, new, ["severity", "place", "note"],
                                    of=f" of {kept.defect} in the look of {before.inspected_on}")
            )
            for kept, new in pairs
        ]  # fmt: skip
        return before.model_copy(update=values)


def _pairs(before: forms.InspectionRecord, given: forms.InspectionRecord, only: int | None):
    """The faults of two looks by twos, where both can be the same look; else None.

    ``only`` is the number of the one area of a tile, which a fault need not name.
    """
    is_one = before.inspected_on == given.inspected_on and _agree(before.note, given.note)
    if not is_one or len(before.defects) != len(given.defects):
        return None
    left, found = list(given.defects), {}
    for can_be_one in (_is_one, _can_be_one):
        for at, kept in enumerate(before.defects):
            new = next((each for each in left if can_be_one(kept, each, only)), None)
            if at not in found and new is not None:
                found[at] = new
                left.remove(new)
    return None if left else [(kept, found[at]) for at, kept in enumerate(before.defects)]


def _pairs_whole(before: forms.InspectionRecord, given: forms.InspectionRecord, only: int | None):
    """The same, where they are alike in all: of several looks of a day each finds its own."""
    pairs = _pairs(before, given, only)
    is_same = pairs is not None and before.note == given.note
    return pairs if is_same and all(_is_one(*pair, only) for pair in pairs) else None


def _is_one(kept: forms.DefectSeen, new: forms.DefectSeen, only: int | None) -> bool:
    return _can_be_one(kept, new, only) and _told(kept) == _told(new)


def _can_be_one(kept: forms.DefectSeen, new: forms.DefectSeen, only: int | None) -> bool:
    if kept.defect != new.defect or (kept.area or only) != (new.area or only):
        return False
    return all(_agree(one, other) for one, other in zip(_told(kept), _told(new), strict=True))


def _told(seen: forms.DefectSeen) -> tuple[str | None, ...]:
    return seen.severity, seen.place, seen.note


def _agree(kept: str | None, new: str | None) -> bool:
    return kept is None or new is None or same_value(kept, new)


def _of_one_name(kept: Any, new: Any) -> bool:
    return same_name(kept.name, new.name)


def _of_same_lines(kept: forms.RecipeRecord, new: forms.RecipeRecord) -> bool:
    return recipe_key(kept) == recipe_key(new)


def _spoken(value: Any) -> str:
    """A value as it is repeated: a body or a firing by its name, a recipe by its version."""
    if isinstance(value, forms.RecipeRecord):
        lines = "; ".join(f"{line.material}={line.parts:g}" for line in value.lines)
        return shown(lines)
    return shown(getattr(value, "name", value))
