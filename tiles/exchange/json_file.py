"""Tile records as JSON: one, a list, or beside the studio of a whole export.

Each is in the shape of ``forms.TileRecord``.
"""

import json
from collections import Counter
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, TilesError, shell_word
from tiles.exchange import json_layers
from tiles.records import derived, forms, questions, reading, store
from tiles.records.questions import refuse_days_to_come
from tiles.records.store import Joined
from tiles.records.store.named import Added, Names
from tiles.records.store.split import way_apart
from tiles.records.words import OTHER_FAULT, name_key

_BY_TRIAL_OF = ("trial_defect", "trial_change")
"""Never told without the tile that the trial is of, so that naming that one is enough."""
_NEW = "no tile of that mark was on record, so it is new; see that it has no other mark there"
"""Told where tiles are to be written over: one may have got another mark since."""


def to_json(record: forms.TileRecord) -> dict:
    """A record as ``tiles show --json`` prints it: blanks as null, plus what is worked out."""
    told = record.model_dump(mode="json")
    return told | {"confirmed": confirmed_of(record), "derived": derived.summary(record)}


def confirmed_of(record: forms.TileRecord) -> list[str]:
    """What is unlikely of a record, word for word as an import would ask.

    It stands so on record, so that the same record is not asked about again, but one changed by
    hand is.
    """
    return [*questions.all_questions(record), *json_layers.layer_questions(record).values()]


def read_values(file: Path) -> list[Any]:
    """The records in a JSON file, unchecked.

    Raises
    ------
    InvalidValue
        The file is missing, not UTF-8 or not JSON; says where.
    """
    try:
        text = file.read_text(encoding="utf-8-sig")
        values = json.loads(text, object_pairs_hook=_each_key_once)
    except OSError as error:
        raise InvalidValue(f"{file} cannot be read: {error.strerror}.", "another path.") from error
    except UnicodeDecodeError as error:
        raise InvalidValue(f"{file} is not UTF-8 text.", "save it as UTF-8.") from error
    except json.JSONDecodeError as error:
        raise InvalidValue(
            f"{file} is not JSON: {error.msg} (line {error.lineno}, column {error.colno}).",
            "correct that line.",
            row=error.lineno,
        ) from error
    except TilesError:
        raise
    except (RecursionError, ValueError) as error:
        raise InvalidValue(
            f"{file} is nested too deeply or holds a number of thousands of digits.",
            "a file as 'tiles show MARK --json' prints it.",
        ) from error
    return values if isinstance(values, list) else [values]


def parted(values: list[Any], source: str) -> tuple[Any, list[Any]]:
    """The studio of a whole export, None of any other file, and the tiles.

    Raises
    ------
    InvalidValue
        There is something else beside the two, or no list of tiles.
    """
    only = values[0] if len(values) == 1 and isinstance(values[0], dict) else {}
    if "tiles" not in only:
        return None, values
    strange = next((key for key in only if key not in ("studio", "tiles")), None)
    if strange or not isinstance(only["tiles"], list):
        what = f"{strange!r} beside its tiles" if strange else "tiles that are no list"
        raise InvalidValue(
            f"{source} has {what}.",
            "'studio' and the list 'tiles' alone, as 'tiles export' writes them.",
        )
    return only.get("studio"), only["tiles"]


def _each_key_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A JSON object; of a key given twice the reader would lose one in silence."""
    keys = [key for key, _value in pairs]
    for key in keys:
        if keys.count(key) > 1:
            raise InvalidValue(f"{key!r} stands twice in one record.", "one of the two.", field=key)
    return dict(pairs)


@dataclass
class Outcome:
    """What an import did, or would have done.

    ``stored`` are new or written over, ``joined`` were on record and knew as much or less;
    ``told`` are marks, and what is stored otherwise; ``gained`` says what was blank of a body,
    glaze, bucket, firing or kiln, ``filled`` has each such field.
    """

    stored: list[forms.TileRecord] = field(default_factory=list)
    joined: list[Joined] = field(default_factory=list)
    refused: list[tuple[int, Any, TilesError]] = field(default_factory=list)
    added: list[Added] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    told: list[tuple[str, str]] = field(default_factory=list)
    gained: list[str] = field(default_factory=list)
    filled: list[Added] = field(default_factory=list)

    @property
    def looked_at(self) -> list[forms.TileRecord]:
        """The tiles of which looks were stored, those on record before with these alone."""
        more = [each.record.model_copy(update={"inspections": each.looks}) for each in self.joined]
        return [each for each in [*self.stored, *more] if each.inspections]


def _confirmed(value: Any, where: str) -> list[str]:
    """The questions that a record comes with the answer to."""
    told = value.get("confirmed") if isinstance(value, dict) else None
    if told is None:
        return []
    if not isinstance(told, list) or not all(isinstance(each, str) for each in told):
        raise InvalidValue(
            f"confirmed is no list of texts ({where}).",
            "it as it was exported, or leave it out; --yes says the same of a whole file.",
            field="confirmed",
            value=told,
        )
    return told


def import_records(
    session: Session,
    values: list[Any],
    source: str,
    *,
    replace: bool = False,
    keep_stored: bool = False,
    confirmed: bool = False,
    earlier: Iterable[Added] = (),
    known: dict | None = None,
    parted: Collection[Added] = (),
    allow_loss: bool = False,
    not_carried: Callable[[forms.TileRecord], list[str]] | None = None,
    is_same: Callable[[forms.TileRecord, forms.TileRecord], bool] | None = None,
) -> Outcome:
    """Put records on record, each wholly or not at all.

    Parameters
    ----------
    values : list
        From :func:`read_values`.
    source : str
        The file's name, for error lines.
    replace : bool
        Write over tiles that are on record under the same mark.
    keep_stored : bool
        See :class:`tiles.records.store.named.Names`.
    confirmed : bool
        What is unlikely is really so.
    earlier : iterable of Added
        What an import before this one has added, or filled, from the same file.
    known : dict, optional
        The rows it has found, and where those found here are noted.
    parted : collection of Added
        The names that a merge took off the record and that the same file puts there again.
    allow_loss : bool
        A tile that is written over may lose looks and recipes; ``lost`` then says which.
    is_same : callable, optional
        Whether a record tells all that such a file can hold of a tile on record, and nothing else:
        then nothing changes.
    not_carried : callable, optional
        What of a tile on record no such file can hold, and would be lost with it.

    Returns
    -------
    Outcome
        The caller decides whether to keep what was stored when some were refused.
    """
    outcome, of_file, marks = Outcome(), set(earlier), set()
    known, in_file = {} if known is None else known, json_layers.names_in(values)
    for number, value in enumerate(values, start=1):
        where = f"{source}, record {number}" if len(values) > 1 else source
        how = {"keep_stored": keep_stored, "ask_of_firings": not confirmed}
        names = Names(session, add_missing=True, earlier=of_file, known=known, **how)
        try:
            record = forms.read(forms.TileRecord, value, where)
            names.asked_before = before = _confirmed(value, where)
            _refuse_mark_twice(record, marks)
            refuse_days_to_come(record.mark, record.inspections)
            loss = loss_by(session, record, not_carried) if replace else ""
            if loss and not allow_loss:
                _refuse_loss(session, record, loss, parted)
            if not confirmed:
                json_layers.ask_of_layers(session, record, before, in_file)
            how = {"names": names, "confirmed": confirmed, "asked_before": before}
            is_new = replace and not store.has_mark(session, record.mark)
            done = _store(session, record, replace, how, is_same)
            (outcome.joined if isinstance(done, Joined) else outcome.stored).append(done)
            outcome.added += names.added
            outcome.gained += names.gained
            outcome.told += [(record.mark, said) for said in dict.fromkeys(names.told)]
            outcome.told += [(record.mark, _NEW)] if is_new else []
            outcome.lost += [f"{record.mark} lost {loss}"] if loss else []
            outcome.filled += names.filled
            of_file.update([*names.added, *names.filled])
        except TilesError as error:
            # Rows of the refused record are gone, and the next ones may get their numbers.
            session.expunge_all()
            if where not in error.message:
                error.message = f"{error.message.rstrip('.')} ({where})."
            error.row = number
            outcome.refused.append((number, value, error))
    return outcome


def _refuse_loss(
    session: Session, record: forms.TileRecord, loss: str, parted: Collection[Added]
) -> None:
    mark = record.mark
    apart = way_apart(reading.tile_record(store.get_tile(session, mark)), record, parted)
    ways = [f"'{apart}' to undo a merge"] if apart else []
    ways += [f"'tiles change {shell_word(mark)}'", "a JSON file that holds it", "or --allow-loss."]
    raise InvalidValue(
        f"{mark} would lose {loss}.",
        ", ".join(ways),
        field="mark",
        value=mark,
    )


def loss_by(
    session: Session,
    record: forms.TileRecord,
    not_carried: Callable[[forms.TileRecord], list[str]] | None = None,
) -> str:
    """What a tile on record would lose by being written over; "" when it is nothing."""
    mark = store.has_mark(session, record.mark)
    if not mark:
        return ""
    stored = reading.tile_record(store.get_tile(session, mark))
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


def _refuse_mark_twice(record: forms.TileRecord, marks: set[str]) -> None:
    """Two records of one mark in one file are two tiles, most often: a slip in one of the marks."""
    if name_key(record.mark) in marks:
        raise AlreadyOnRecord(
            f"a tile marked {record.mark!r} stands earlier in this file.",
            "one of the two, or another mark if it is another tile.",
            field="mark",
            value=record.mark,
        )
    marks.add(name_key(record.mark))


def _store(
    session: Session,
    record: forms.TileRecord,
    replace: bool,
    how: dict[str, Any],
    is_same: Callable[[forms.TileRecord, forms.TileRecord], bool] | None,
) -> forms.TileRecord | Joined:
    """A tile that is on record is written over only where that was said, else joined."""
    if replace and store.has_mark(session, record.mark):
        return store.replace_tile(session, record, **how)
    try:
        return store.add_tile(session, record, **how)
    except AlreadyOnRecord as error:
        if error.field != "mark":
            raise
    try:
        return store.join_tile(session, record, **how)
    except AlreadyOnRecord:
        kept = reading.tile_record(store.get_tile(session, record.mark))
        if is_same and is_same(kept, record):
            return Joined(kept)
        raise
