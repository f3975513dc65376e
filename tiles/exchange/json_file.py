"""Tile records as JSON: one, a list, or beside the studio of a whole export.

Each is in the shape of ``forms.TileRecord``.
"""

import json
from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from tiles.errors import AlreadyOnRecord, InvalidValue, TilesError, UnknownName, shell_word
from tiles.exchange import json_layers, json_loss
from tiles.exchange.text_file import read_text
from tiles.records import derived, forms, models, questions, reading, store
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

    def take(self, record: forms.TileRecord, done: forms.TileRecord | Joined, names: Names) -> None:
        """Add what became of one record, and of what it names."""
        (self.joined if isinstance(done, Joined) else self.stored).append(done)
        self.added += names.added
        self.gained += names.gained
        self.filled += names.filled
        self.told += [(record.mark, said) for said in dict.fromkeys(names.told)]


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


@dataclass(frozen=True)
class Choices:
    """What is said beforehand of how records are to be put on record.

    Parameters
    ----------
    replace : bool
        Write over tiles that are on record under the same mark.
    keep_stored : bool
        See :class:`tiles.records.store.named.Names`.
    confirmed : bool
        What is unlikely is really so.
    allow_loss : bool
        A tile that is written over may lose looks and recipes; `Outcome.lost` then says which.
    not_carried : callable, optional
        What of a tile on record no such file can hold, and would be lost with it.
    is_same : callable, optional
        Whether a record tells all that such a file can hold of a tile on record, and nothing else:
        then nothing changes.
    """

    replace: bool = False
    keep_stored: bool = False
    confirmed: bool = False
    allow_loss: bool = False
    not_carried: Callable[[forms.TileRecord], list[str]] | None = None
    is_same: Callable[[forms.TileRecord, forms.TileRecord], bool] | None = None


@dataclass
class SoFar:
    """What the same file has brought before, and where an import notes what it brings.

    Parameters
    ----------
    earlier : set of Added
        What was added, or filled.
    known : dict
        The rows that were found.
    parted : collection of Added
        The names that a merge took off the record and that the file puts there again.
    stored : Stored, optional
        The tiles of the file that were on record before it, where the caller has them.
    """

    earlier: set[Added] = field(default_factory=set)
    known: dict = field(default_factory=dict)
    parted: Collection[Added] = ()
    stored: store.Stored | None = None


def import_records(
    session: Session,
    values: list[Any],
    source: str,
    choices: Choices | None = None,
    so_far: SoFar | None = None,
) -> Outcome:
    """Put records on record, each wholly or not at all.

    Parameters
    ----------
    values : list
        From :func:`read_values`.
    source : str
        The file's name, for error lines.
    choices : Choices, optional
        Without it nothing is written over and all that is unlikely is questioned.
    so_far : SoFar, optional
        Where the file comes in several parts.

    Returns
    -------
    Outcome
        The caller decides whether to keep what was stored when some were refused.
    """
    choices, so_far = choices or Choices(), so_far or SoFar()
    outcome, marks, in_file = Outcome(), set(), json_layers.names_in(values)
    stored = so_far.stored or store.Stored(session, _marks_in(values))
    for number, value in enumerate(values, start=1):
        where = f"{source}, record {number}" if len(values) > 1 else source
        try:
            record = forms.read(forms.TileRecord, value, where)
            names = _names(session, choices, so_far, _confirmed(value, where))
            _refuse_mark_twice(record, marks)
            refuse_days_to_come(record.mark, record.inspections)
            was = stored.records.get(name_key(record.mark)) if choices.replace else None
            loss = _loss(was, record, choices, so_far.parted)
            if not choices.confirmed:
                json_layers.ask_of_layers(session, record, names.asked_before, in_file)
            done = _store(session, record, stored.row(record.mark), names, choices)
        except TilesError as error:
            # Rows of the refused record are gone, and the next ones may get their numbers.
            session.expunge_all()
            if where not in error.message:
                error.message = f"{error.message.rstrip('.')} ({where})."
            error.row = number
            outcome.refused.append((number, value, error))
            continue
        outcome.take(record, done, names)
        outcome.told += [(record.mark, _NEW)] if choices.replace and was is None else []
        outcome.lost += [f"{record.mark} lost {loss}"] if loss else []
        so_far.earlier.update([*names.added, *names.filled])
    return outcome


def _names(session: Session, choices: Choices, so_far: SoFar, asked_before: list[str]) -> Names:
    return Names(
        session,
        add_missing=True,
        keep_stored=choices.keep_stored,
        ask_of_firings=not choices.confirmed,
        asked_before=asked_before,
        earlier=so_far.earlier,
        known=so_far.known,
    )


def _loss(
    was: forms.TileRecord | None,
    record: forms.TileRecord,
    choices: Choices,
    parted: Collection[Added],
) -> str:
    """What would be lost where the record is written over; refused unless that was allowed."""
    if not choices.replace:
        return ""
    if was is None:
        if parted:
            raise _not_as_merged(record.mark)
        return ""
    loss = json_loss.loss_by(was, record, choices.not_carried)
    if loss and not choices.allow_loss:
        json_loss.refuse_loss(was, record, loss, parted)
    return loss


def _not_as_merged(mark: str) -> TilesError:
    """The file of a merge holds tiles of the record: one that is none now would be a second one."""
    return UnknownName(
        f"{mark} was on record when the two were merged, and no tile has that mark now.",
        f"'tiles change MARK --mark {shell_word(mark)}' first if it has another mark now, or "
        "--skip-refused to part the others.",
        field="mark",
        value=mark,
    )


def _marks_in(values: list[Any]) -> list[str]:
    """The marks that unchecked records bear; what can be none is refused with its record."""
    found = []
    for told in (value.get("mark") for value in values if isinstance(value, dict)):
        with suppress(TilesError):
            found.append(forms.read(forms.TileRecord, {"mark": told, "body": "any"}).mark)
    return found


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
    row: models.Tile | None,
    names: Names,
    choices: Choices,
) -> forms.TileRecord | Joined:
    """A tile that is on record, ``row``, is written over only where that was said, else joined."""
    how = {"names": names, "confirmed": choices.confirmed, "asked_before": names.asked_before}
    if row is None:
        return store.add_tile(session, record, **how)
    if choices.replace:
        return store.replace_tile(session, record, row=row, **how)
    try:
        return store.join_tile(session, record, row=row, **how)
    except AlreadyOnRecord:
        kept = reading.tile_record(row)
        if choices.is_same and choices.is_same(kept, record):
            return Joined(kept)
        raise
