"""``tiles change``: correct what is recorded of tiles."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from tiles.cli import asked, change_layers, change_told, common, entry, put_on
from tiles.cli.marks import each_of
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, shell_word

if TYPE_CHECKING:
    from tiles.records.forms import InspectionRecord, TileRecord

_SIMPLE = (
    "body bisque_cone bisque_firing firing shelf cone_reached form stood made_on glazed_on note "
    "trial_of trial_defect trial_change"
).split()
_LAYER = "method beneath batch".split()
_LISTS = "coats thickness_mm fired_thickness_mm".split()

Text = str | None


def _option(text: str):
    return typer.Option(help=text)


@asked.spread
def change(
    marks: Annotated[list[str], typer.Argument(help="Marks, or runs: M-41..M-52.")],
    *,
    new_mark: Annotated[
        Text, typer.Option("--mark", help="Another mark; trials made for it follow.")
    ] = None,
    body: Annotated[Text, _option("Clay body.")] = None,
    glaze: Annotated[
        list[str] | None,
        _option("Its layers anew, from the clay up, as in tiles log: NAME, NAME=COATS, NAME@AREA."),
    ] = None,
    coats: Annotated[Text, _option("Coats of the top layer; 1,2,3 for three areas.")] = None,
    thickness_mm: Annotated[Text, _option("Dry coat as applied [mm]; or one an area.")] = None,
    fired_thickness_mm: Annotated[Text, _option("Coat after firing [mm]; or one an area.")] = None,
    top: asked.TopCoat,
    recipe_version: Annotated[Text, _option("Version of the top glaze's recipe.")] = None,
    tile: asked.OfTile,
    clue: Annotated[list[str] | None, _option("A clue, such as bisque_wiped=no@2.")] = None,
    inspected_on: Annotated[Text, common.day("Day of its last look, YYYY-MM-DD.")] = None,
    forget_inspection: Annotated[
        Text, _option("Take the look of this day off, YYYY-MM-DD; of several :2 is the second.")
    ] = None,
    other_is: Annotated[
        Text, _option('The fault that words kept as other mean: "milky=cloudiness".')
    ] = None,
    note: Annotated[Text, _option("Anything else.")] = None,
    trial_of: Annotated[
        Text, _option('Mark of the failed tile it is a trial for; "" for none.')
    ] = None,
    trial: asked.OfTrial,
    show_all: Annotated[
        bool, typer.Option("--all", help="Of many tiles: say of each what it was.")
    ] = False,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Correct tiles, all or none; what is not named stays. An empty text ("") clears a field.

    --glaze names every layer; one whose glaze stays, or that has taken another's place, keeps what
    else is known of it. Example: tiles change M-41 --glaze "white slip=2" --glaze "pond green"
    For a change of areas: tiles show MARK --json > tile.json, edit it, and
    tiles import tile.json --replace.
    """
    given = asked.by_name(locals())
    from tiles.cli.marks import expand
    from tiles.cli.notices import shelf_meant, tell_shelf_meant
    from tiles.records.spoken import some

    named = expand(marks)
    if new_mark is not None and len(named) > 1:
        raise InvalidValue(f"{some(named)} cannot all be {new_mark!r}.", "one tile with --mark.")
    if trial_of == "":  # no trial after all: nothing of it stays
        given |= {"trial_defect": "", "trial_change": ""}
    entry.ask_of_trial(given["trial_change"], yes=yes)
    simple, layer, lists = (common.fields(names, given) for names in (_SIMPLE, _LAYER, _LISTS))
    wanted = _Wanted(
        new_mark, simple, glaze or [], layer, top.applied_on or [], recipe_version, lists,
        clue or [], inspected_on, forget_inspection, other_is,
    )  # fmt: skip
    meant = shelf_meant(tile.shelf, db)
    found, same, again = common.confirmed(
        lambda confirmed: _write(wanted, named, db, confirmed), yes=yes
    )
    _tell(found, wanted, db, show_all=show_all)
    if again:
        common.talk(f"To put back: {again}")
    tell_shelf_meant([each.stored for each in found], meant)
    if same:
        common.talk(f"{some(same)} {'was' if len(same) == 1 else 'were'} so already.")


@dataclass(frozen=True)
class _Wanted:
    """What is to be changed of each tile; ``None`` stands for what is not named."""

    new_mark: Text
    simple: dict[str, Text]
    glazes: list[str]
    layer: dict[str, Text]
    applied_on: list[str]
    recipe_version: Text
    lists: dict[str, Text]
    clues: list[str]
    inspected_on: Text
    forget_inspection: Text
    other_is: Text


class _Changed(NamedTuple):
    """A tile as it was and as it is now, and the look that was taken off it."""

    before: "TileRecord"
    stored: "TileRecord"
    forgotten: "InspectionRecord | None"


def _write(
    wanted: _Wanted, marks: list[str], db: str | None, confirmed: bool
) -> tuple[list[_Changed], list[str], str]:
    """What is changed, the marks of tiles that were so already, and how to put it back."""
    from tiles.records import store
    from tiles.records.spoken import some
    from tiles.records.store.named import Names

    with common.writing(db, create=False) as session:
        rows = dict(zip(marks, store.get_tiles(session, marks), strict=True))
        names, before = Names(session), [row.mark for row in rows.values()]
        found = each_of(marks, lambda mark: _change_one(wanted, names, rows[mark], confirmed))
        if not found:
            raise InvalidValue(
                f"nothing of {some(marks)} would change.",
                "a value other than the one on record; '--help' lists the options.",
            )
        changed = {each.before.mark for each in found}
        return found, [mark for mark in before if mark not in changed], _keep(found, db)


def _keep(found: list[_Changed], db: str | None) -> str:
    """How to put several tiles back where facts on record went: as they were, in a file."""
    from tiles.cli.record import keep_beside, put_back
    from tiles.exchange.json_loss import loss_by

    went = [change_told.takes_off(each.before.model_dump(), each.stored.model_dump())
            for each in found]  # fmt: skip
    if len(found) == 1 or not any(went):
        return ""
    records = [each.before for each in found]
    kept, _ = keep_beside(records, db, "changed")
    # What only the change told.
    is_more = any(loss_by(each.stored, each.before) for each in found)
    return put_back(kept, "--replace", *(["--allow-loss"] if is_more else []))


def _change_one(wanted: _Wanted, names, row, confirmed: bool) -> _Changed | None:
    from tiles.records import forms, questions, reading, store

    session, before = names.session, row.mark
    if wanted.new_mark is not None:
        store.rename_tile(session, before, wanted.new_mark)
    record = reading.tile_record(row)
    was = record.model_copy(update={"mark": before})
    values = record.model_dump()
    _put_simple(values, wanted.simple)
    dropped = change_layers.put_glazes(values, wanted.glazes, wanted.lists["coats"])
    change_layers.put_layers(values, wanted.layer, wanted.lists)
    put_on.put(values["areas"], wanted.applied_on)
    change_layers.put_recipe(session, values, wanted.recipe_version)
    _put_clues(values, wanted.clues)
    forgotten = _forget(values, record.inspections, wanted.forget_inspection)
    _date_last_look(values, wanted.inspected_on)
    changed = _name_other(forms.read(forms.TileRecord, values), wanted.other_is)
    if wanted.glazes and wanted.recipe_version is None:
        change_layers.take_only_recipes(session, changed, record)
    if wanted.inspected_on:
        questions.refuse_days_to_come(changed.mark, changed.inspections)
    if dropped and not confirmed:
        raise change_layers.question(record.mark, dropped)
    stored = store.replace_tile(session, changed, row=row, names=names, confirmed=confirmed)
    return None if stored == was else _Changed(was, stored, forgotten)


def _tell(found: list[_Changed], wanted: _Wanted, db: str | None, *, show_all: bool) -> None:
    from tiles.cli.batch_versions import tell_other_version
    from tiles.cli.notices import (
        tell_bisques,
        tell_new_marks,
        tell_order,
        tell_retired,
        tell_shelves,
    )
    from tiles.records.spoken import some

    records, (first, *others) = [each.stored for each in found], found
    is_renamed = first.stored.mark != first.before.mark
    are = f"now {first.stored.mark}" if is_renamed else "changed"
    print(f"{some([each.before.mark for each in found])} {'are' if others else 'is'} {are}.")
    change_told.tell([(each.before, each.stored) for each in found], show_all=show_all)
    if wanted.other_is:
        words, _sign, fault = wanted.other_is.rpartition("=")
        print(f"  other ({words.strip()}) -> {fault.strip()} ({words.strip()})")
    if wanted.glazes:
        tell_order(records)
    if is_renamed:
        tell_new_marks([first.stored.mark], db)
    for each in found:
        if each.forgotten:
            said = f"{each.forgotten.inspected_on}, {_spoken(each.forgotten)}."
            common.talk(f"Taken off{f' {each.before.mark}' if others else ''}: {said}")
    simple = wanted.simple
    if simple["firing"] or simple["shelf"] or simple["cone_reached"] is not None:
        tell_shelves(records)
    if simple["bisque_firing"] or simple["bisque_cone"]:
        tell_bisques(records)
    if simple["body"]:
        tell_retired(records, db)
    if wanted.layer["batch"] or wanted.recipe_version:
        tell_other_version(records, db)
    for stored in records if wanted.layer["beneath"] else ():
        if bare := entry.left_bare(stored.model_dump()["areas"]):
            common.talk(f"{stored.mark}: {bare}")


def _put_simple(values: dict, given: dict) -> None:
    for key, value in given.items():
        if value is not None:
            values[key] = value or None


def _put_clues(values: dict, clues: list[str]) -> None:
    from tiles.records import words

    by_number = {area["number"]: area for area in values["areas"]}
    for text in clues:
        name, answer, area = entry.read_clue(text)
        if area is not None and area not in by_number:
            raise InvalidValue(
                f"clue {text!r}: there is no area {area}.",
                words.areas_to_name(f"{name}={answer}", by_number),
            )
        holder = by_number[area] if area else values
        holder["clues"][name] = answer or None


def _forget(values: dict, looks: list, which: str | None) -> "InspectionRecord | None":
    """Leave out the look of a day, or of several on one day the one that is named; gives it."""
    if which is None:
        return None
    day, _, number = which.partition(":")
    day = common.iso_day(day) or day
    places = [at for at, look in enumerate(looks) if str(look.inspected_on) == day.strip()]
    if not looks:
        raise _never_looked_at(values["mark"])
    if not places:
        days = ", ".join(str(look.inspected_on) for look in looks)
        raise InvalidValue(f"there was no inspection on {day}.", f"one of: {days}.", value=which)
    by_number = {str(at): place for at, place in enumerate(places, start=1)}
    number = number.strip() or ("1" if len(places) == 1 else "")
    if number not in by_number:
        told = "; ".join(f"{at} {_spoken(looks[place])}" for at, place in by_number.items())
        raise InvalidValue(
            f"{values['mark']} has {counted(len(places), 'look')} of {day}: {told}.",
            f"--forget-inspection {day}:{len(places)} for the last.",
            value=which,
        )
    del values["inspections"][by_number[number]]
    return looks[by_number[number]]


def _name_other(record: "TileRecord", told: Text) -> "TileRecord":
    """The fault of the list in place of words that were kept as another one."""
    from tiles.records import forms, looks
    from tiles.records.derived import own_words

    if told is None:
        return record
    words, sign, name = (each.strip() for each in told.rpartition("="))
    if not (words and name):
        raise InvalidValue(
            f"{told!r} does not say which fault it is.", "milky=cloudiness.", field="other_is"
        )
    fault = forms.read(forms.DefectSeen, {"defect": name}).defect
    seen = [each for look in record.inspections for each in look.defects]
    if not any(looks.is_kept_as(words, each) for each in seen):
        kept = ", ".join(dict.fromkeys(filter(None, map(own_words, seen))))
        raise InvalidValue(
            f"{record.mark} has no fault kept as {words!r}.",
            f"the words on record: {kept}." if kept else f"'tiles show {shell_word(record.mark)}'.",
            field="other_is",
            value=words,
        )
    named = looks.told_as(record.inspections, words, fault)
    return record.model_copy(update={"inspections": named})


def _spoken(look) -> str:
    from tiles.records.spoken import spoken_look

    return spoken_look(look, with_area=False).rstrip(".")


def _date_last_look(values: dict, day: str | None) -> None:
    if day is None:
        return
    if not values["inspections"]:
        raise _never_looked_at(values["mark"])
    max(values["inspections"], key=lambda look: look["inspected_on"])["inspected_on"] = day


def _never_looked_at(mark: str) -> InvalidValue:
    inspect = f"tiles inspect {shell_word(mark)}"
    return InvalidValue(f"{mark} was never looked at.", f"'{inspect}' to say how.")
