"""Changing what tiles refer to, held against the tiles that refer to it."""

from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from tiles.errors import InvalidValue, Questioned, UnknownName, shell_line
from tiles.records import forms, label_questions, lost_zeros, models, questions, reading
from tiles.records.answered import is_as_far_from_target, not_answered
from tiles.records.store import belongings
from tiles.records.store.whole import wholly
from tiles.records.words import name_key


@wholly
def change(
    session: Session,
    model: type[models.SQLModel],
    name: str,
    changes: dict,
    *,
    confirmed: bool = False,
):
    """Change fields of a body, glaze, kiln or firing; None clears a field.

    Raises
    ------
    InvalidValue
        The changed record would not be possible, beside the tiles in it; nothing is changed.
    Questioned
        A changed firing would be unlikely, or show tiles a cone far outside their labels; the
        changed label of a body or glaze would leave tiles far outside.
    """
    row = belongings.find(session, model, name)
    asks = _ASKS.get(model, set()) & changes.keys()
    already = asked_of_tiles(session, row) if asks else set()
    form, read_row = belongings.FORMS[model]
    before = read_row(row)
    _refuse_blanks(row, changes)
    if isinstance(row, models.Glaze) and changes.get("kind") == "jar":
        _refuse_jar(row)
    record = forms.read(form, before.model_dump() | changes | {"name": row.name})
    values = record.model_dump(exclude={"kiln", "witness_cones"})
    for key in changes.keys() & values.keys():
        setattr(row, key, values[key])
    if "kiln" in changes:
        row.kiln = belongings.find(session, models.Kiln, record.kiln) if record.kiln else None
    if "witness_cones" in changes and not _are_same(record.witness_cones, before.witness_cones):
        belongings.set_witness_cones(session, row, record.witness_cones)
    session.flush()
    if isinstance(row, models.Firing):
        if "kind" in changes:
            _refuse_kind(session, row)
        refuse_contradictions(session, row)
    if asks and not confirmed:
        new = asked_of_tiles(session, row) - already
        of_others = []
        if isinstance(row, models.Firing) and asks & _OF_TARGET:
            answered = belongings.questions_of_target(session, before)
            of_others = not_answered(belongings.questions_of_target(session, record), answered)
        _require_confirmation(record, before, new, already, of_others)
    return row


def _are_same(cones: list[forms.WitnessCone], others: list[forms.WitnessCone]) -> bool:
    """Whether the same was read on the same shelves, in whatever order."""
    return sorted(map(str, cones)) == sorted(map(str, others))


_OF_TARGET = {"target_cone", "witness_cones", "kiln", "kind"}
_ASKS = {
    models.Firing: set(forms.FiringRecord.model_fields),
    models.ClayBody: {"cone_low", "cone_high"},
    models.Glaze: {"cone_low", "cone_high", "food_label"},
}
"""What may raise a question, of the thing itself or of the tiles that name it."""


def _require_confirmation(
    record,
    before,
    of_tiles: set[tuple[str, str]],
    already: set[tuple[str, str]],
    of_others: Collection[str],
) -> None:
    if isinstance(record, forms.FiringRecord):
        of_tiles = _not_answered(of_tiles, already)
        asked = questions.firing_questions(before)
        try:
            questions.require_firing_confirmation(record, asked, of_tiles, of_others)
        except Questioned as question:
            is_other = record.target_cone and record.target_cone != before.target_cone
            if is_other and (cones := lost_zeros.other_witnesses(record, record.target_cone)):
                # What was read before its target was mended lost the same 0, most often.
                also = f", {shell_line(cones)} as well if that was one, or --yes"
                question.hint = question.hint.replace(", or --yes", also)
            raise
    else:
        # Outside the label before is confirmed, though the question now names another cone.
        known = {mark for mark, said in already if repr(record.name) in said}
        of_tiles = {each for each in of_tiles if each[0] not in known}
        label_questions.require_confirmation(record, before, of_tiles)


def _not_answered(new: set[tuple[str, str]], already: set[tuple[str, str]]) -> set[tuple[str, str]]:
    """The questions of tiles but for those that the same tile has answered."""
    answered: dict[str, list[str]] = {}
    for mark, said in already:
        answered.setdefault(mark, []).append(said)
    return {
        (mark, said)
        for mark, said in new
        if not_answered([said], answered.get(mark, ()))
        and not is_as_far_from_target(said, answered.get(mark, ()))
    }


def witness_cones_with(
    session: Session,
    name: str,
    read: list[forms.WitnessCone],
    off: Collection[str] = (),
    is_all: bool = False,
) -> tuple[list[forms.WitnessCone], list[forms.WitnessCone]]:
    """The witness cones of a firing with some more read, and those on record that go.

    A reading takes the place of that of its own shelf only: two people may each read one.

    Parameters
    ----------
    read : list of WitnessCone
        What was read.
    off : collection of str
        Shelves whose reading is to go; ``is_all``: that of every shelf not read now.

    Raises
    ------
    UnknownName
        Nothing was read on a shelf whose reading is to go.
    """
    before = reading.firing_record(belongings.find(session, models.Firing, name)).witness_cones
    known = [each.shelf and name_key(each.shelf) for each in before]
    for shelf in off:
        if name_key(shelf) not in known:
            shelves = ", ".join(each.shelf for each in before if each.shelf) or "none"
            raise UnknownName(
                f"{name} has no witness cone of shelf {shelf!r}.",
                f"a shelf that has one: {shelves}.",
                field="shelf",
                value=shelf,
            )
    new = {each.shelf and name_key(each.shelf): each.cone for each in read}
    gone = {name_key(shelf) for shelf in off} | new.keys() | set(known if is_all else ())
    by_shelf = list(zip(known, before, strict=True))
    kept = [each for shelf, each in by_shelf if shelf not in gone]
    lost = [each for shelf, each in by_shelf if shelf in gone and new.get(shelf) != each.cone]
    return [*kept, *read], lost


def _refuse_blanks(row, changes: dict) -> None:
    """What every one has, such as the role of a glaze, can be changed but not cleared."""
    columns = type(row).__table__.columns
    for key, value in changes.items():
        if value is None and key in columns and not columns[key].nullable:
            raise InvalidValue(
                f"the {key} of {row.name!r} cannot be left blank.",
                f"one of the words in '{belongings.command(type(row))} change --help'.",
                field=key,
            )


def _refuse_jar(glaze: models.Glaze) -> None:
    """What a recipe is on record of was mixed and not bought."""
    if glaze.recipe_versions:
        raise InvalidValue(
            f"{glaze.name!r} has a recipe on record, so it is no jar.",
            "a glaze of its own for the jar, under another name.",
            field="kind",
            value="jar",
        )


def _refuse_kind(session: Session, firing: models.Firing) -> None:
    """A glaze firing does not become a bisque firing while tiles were glazed for it, nor back."""
    held_as, other = models.Tile.firing_id, "glaze"
    if firing.kind == "glaze":
        held_as, other = models.Tile.bisque_firing_id, "bisque"
    mark = session.scalar(select(models.Tile.mark).where(held_as == firing.firing_id).limit(1))
    if mark is not None:
        raise InvalidValue(
            f"{firing.name} is the {other} firing of {mark}, so it is no {firing.kind} firing.",
            f"its tiles into another {other} firing first, with 'tiles change'.",
            field="kind",
            value=firing.kind,
        )


def _tiles_of(session: Session, row) -> list[forms.TileRecord]:
    """The tiles in a firing, of a body, or with a glaze."""
    tile = models.Tile
    if isinstance(row, models.Firing):
        named = (tile.firing_id == row.firing_id) | (tile.bisque_firing_id == row.firing_id)
    elif isinstance(row, models.ClayBody):
        named = tile.clay_body_id == row.clay_body_id
    else:
        named = reading.has_layer(models.Layer.glaze_id == row.glaze_id)
    rows = session.scalars(reading.whole_tiles().where(named)).unique()
    return [reading.tile_record(each) for each in rows]


def asked_of_tiles(session: Session, row) -> set[tuple[str, str]]:
    """Mark and question of each tile in a firing, of a body or with a glaze that raises one."""
    tiles = _tiles_of(session, row)
    return {(tile.mark, text) for tile in tiles for text in questions.questions(tile)}


def refuse_contradictions(session: Session, firing: models.Firing) -> None:
    """A changed firing must still fit the tiles in it."""
    for tile in _tiles_of(session, firing):
        try:
            questions.refuse_contradictions(tile)
        except InvalidValue as error:
            error.message = f"firing {firing.name}: {error.message}"
            raise
