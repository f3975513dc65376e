"""Tile records as JSON: one, a list, or beside the studio of a whole export.

Each is in the shape of ``forms.TileRecord``.
"""

import json
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, TilesError
from tiles.exchange import json_layers, json_loss
from tiles.exchange.text_file import read_text
from tiles.records import derived, forms, questions, reading, store
from tiles.records.questions import refuse_days_to_come
from tiles.records.store import Joined
from tiles.records.store.named import Added, Names
from tiles.records.words import name_key

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
    text = read_text(file, "UTF-8")
    try:
        values = json.loads(text, object_pairs_hook=_each_key_once)
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
            loss = json_loss.loss_by(session, record, not_carried) if replace else ""
            if loss and not allow_loss:
                json_loss.refuse_loss(session, record, loss, parted)
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
