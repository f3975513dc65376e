"""``tiles change``: correct what is recorded of tiles."""

import re
from typing import Annotated

import typer

from tiles.cli import common, entry
from tiles.cli.prose import counted
from tiles.errors import InvalidValue, Questioned, UnknownName, shell_word

Text = str | None


def _option(text: str):
    return typer.Option(help=text)


def change(
    marks: Annotated[list[str], typer.Argument(help="Marks, or runs: M-41..M-52.")],
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
    method: Annotated[Text, _option("brush, dip, pour, spray, ...")] = None,
    applied_on: Annotated[Text, _option("greenware, bisque or fired glaze.")] = None,
    beneath: Annotated[Text, _option("The layer beneath was damp or dry.")] = None,
    batch: Annotated[Text, _option("Batch (bucket) of the top glaze.")] = None,
    bisque_cone: Annotated[Text, _option("Cone of the bisque.")] = None,
    bisque_firing: Annotated[Text, _option("The bisque firing.")] = None,
    firing: Annotated[Text, _option("The glaze firing.")] = None,
    shelf: Annotated[Text, _option("Shelf or place in the kiln.")] = None,
    cone_reached: Annotated[Text, _option("Cone reached there.")] = None,
    form: Annotated[Text, _option("flat, angle, curved, vessel or other.")] = None,
    stood: Annotated[Text, _option("upright, sloped or flat in the kiln.")] = None,
    made_on: Annotated[Text, _option("Day it was made, YYYY-MM-DD.")] = None,
    glazed_on: Annotated[Text, _option("Day it was glazed, YYYY-MM-DD.")] = None,
    clue: Annotated[list[str] | None, _option("A clue, such as bisque_wiped=no@2.")] = None,
    inspected_on: Annotated[Text, _option("Day of its last look, YYYY-MM-DD.")] = None,
    forget_inspection: Annotated[
        Text, _option("Take the look of this day off, YYYY-MM-DD; of several :2 is the second.")
    ] = None,
    note: Annotated[Text, _option("Anything else.")] = None,
    trial_of: Annotated[
        Text, _option('Mark of the failed tile it is a trial for; "" for none.')
    ] = None,
    trial_defect: Annotated[Text, _option("The fault that the trial is about.")] = None,
    trial_change: Annotated[Text, _option("The one thing changed in it.")] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Correct tiles, all or none; what is not named stays. An empty text ("") clears a field.

    --glaze names every layer; one whose glaze stays, or that has taken another's place, keeps what
    else is known of it. Example: tiles change M-41 --glaze "white slip=2" --glaze "pond green"
    For a change of areas: tiles show MARK --json > tile.json, edit it, and
    tiles import tile.json --replace.
    """
    from tiles.cli.load import expand
    from tiles.cli.notices import tell_bisques, tell_new_marks, tell_retired, tell_shelves
    from tiles.records import forms, questions, reading, store
    from tiles.records.spoken import some, spoken_make
    from tiles.records.store.named import Names

    wanted = expand(marks)
    if new_mark is not None and len(wanted) > 1:
        raise InvalidValue(f"{some(wanted)} cannot all be {new_mark!r}.", "one tile with --mark.")
    if trial_of == "":  # no trial after all: nothing of it stays
        trial_defect = trial_change = ""
    simple = {
        "body": body,
        "bisque_cone": bisque_cone,
        "bisque_firing": bisque_firing,
        "firing": firing,
        "shelf": shelf,
        "cone_reached": cone_reached,
        "form": form,
        "stood": stood,
        "made_on": made_on,
        "glazed_on": glazed_on,
        "note": note,
        "trial_of": trial_of,
        "trial_defect": trial_defect,
        "trial_change": trial_change,
    }
    layer = {"method": method, "applied_on": applied_on, "beneath": beneath, "batch": batch}
    lists = {"coats": coats, "thickness_mm": thickness_mm}
    lists["fired_thickness_mm"] = fired_thickness_mm

    def change_one(names, row, confirmed: bool) -> tuple | None:
        session, before = names.session, row.mark
        if new_mark is not None:
            store.rename_tile(session, before, new_mark)
        record = reading.tile_record(row)
        values = record.model_dump()
        _put_simple(values, simple)
        dropped = _put_glazes(values, glaze or [], coats)
        _put_layers(values, layer, lists)
        _put_clues(values, clue or [])
        forgotten = _forget(values, record.inspections, forget_inspection)
        _date_last_look(values, inspected_on)
        changed = forms.read(forms.TileRecord, values)
        if glaze:
            _take_only_recipes(session, changed, record)
        if inspected_on:
            questions.refuse_days_to_come(changed.mark, changed.inspections)
        if dropped and not confirmed:
            raise Questioned(
                f"{record.mark}: there would be no layer of {some(dropped)} any more.",
                "--glaze for every layer, from the clay up, or --yes if it really is so.",
                field="glaze",
            )
        stored = store.replace_tile(session, changed, row=row, names=names, confirmed=confirmed)
        return None if stored == record and record.mark == before else (before, stored, forgotten)

    def write(confirmed: bool) -> list[tuple]:
        with common.writing(db, create=False) as session:
            rows = dict(zip(wanted, store.get_tiles(session, wanted), strict=True))
            names = Names(session)
            found = _each(wanted, lambda mark: change_one(names, rows[mark], confirmed))
            if not found:
                raise InvalidValue(f"nothing of {some(wanted)} would change.", "'--help'.")
            return found

    found = common.confirmed(write, yes=yes)
    before, changed, _ = found[0]
    is_renamed, many = changed.mark != before, len(found) > 1
    are = f"now {changed.mark}" if is_renamed else "changed"
    print(f"{some([each for each, *_ in found])} {'are' if many else 'is'} {are}.")
    for _, stored, _ in found if glaze else ():
        print(spoken_make(stored))
    if is_renamed:
        tell_new_marks([changed.mark], db)
    for mark, _, forgotten in found:
        if forgotten:
            said = f"{forgotten.inspected_on}, {_spoken(forgotten)}."
            common.talk(f"Taken off{f' {mark}' if many else ''}: {said}")
    if firing or shelf or cone_reached == "":
        tell_shelves([changed for _, changed, _ in found])
    if bisque_firing or bisque_cone:
        tell_bisques([changed for _, changed, _ in found])
    if body:
        tell_retired([changed for _, changed, _ in found], db)


def _each(marks: list[str], change_one) -> list[tuple]:
    """What is changed of each tile; of several, each question once with the marks it is about."""
    from tiles.records.spoken import some

    found: list[tuple | None] = []
    asked: dict[str, list[str]] = {}
    for mark in marks:
        try:
            found.append(change_one(mark))
        except Questioned as error:
            question = error
            asked.setdefault(error.message.partition(": ")[2], []).append(mark)
        except (InvalidValue, UnknownName) as error:
            if len(marks) > 1 and not re.search(rf"(?<!\w){re.escape(mark)}(?!\w)", error.message):
                error.message = f"{mark}: {error.message}"
            raise
    if asked:
        if len(found) < len(marks) - 1:
            question.message = " ".join(f"{some(of)}: {said}" for said, of in asked.items())
        raise question
    return [each for each in found if each]


def _put_glazes(values: dict, texts: list[str], coats: str | None) -> list[str]:
    """Give the areas that are named, or all, these layers; the glazes that then lie on none."""
    layers = [entry.read_coat(text) for text in texts]
    numbers = [area["number"] for area in values["areas"]]
    for text, layer in zip(texts, layers, strict=True):
        if layer.area not in (None, *numbers):
            raise InvalidValue(f"glaze {text!r}: there is no area {layer.area}.",
                               "an area of the tile.", field="glaze", value=text)  # fmt: skip
    if coats and layers and layers[-1].coats is not None:
        raise InvalidValue("the coats of the top layer are given twice.",
                           "--glaze NAME=COATS or --coats, not both.", field="coats")  # fmt: skip
    dropped: list[str] = []
    for area in values["areas"]:
        here = [layer for layer in layers if layer.area in (None, area["number"])]
        if here:
            area["layers"], gone = _layers_anew(area["layers"], here)
            dropped += gone
    return list(dict.fromkeys(dropped))


def _layers_anew(old: list[dict], coats: list[entry.Coat]) -> tuple[list[dict], list[str]]:
    """These layers with what is known of the old ones; the glazes that have no place any more."""
    from tiles.records import forms
    from tiles.records.words import same_name

    left, layers = list(old), []
    for coat in coats:
        same = (each for each in left if same_name(each["glaze"]["name"], coat.glaze))
        layers.append(next(same, None))
        if layers[-1]:
            left.remove(layers[-1])
    if layers.count(None) == len(left):  # each new glaze was in truth what is gone
        others = iter(left)
        of_glaze = {"recipe": None, "batch": None}
        layers = [layer or next(others) | of_glaze | {"glaze": coat.glaze}
                  for layer, coat in zip(layers, coats, strict=True)]  # fmt: skip
        left = []
    blank = dict.fromkeys(forms.LayerRecord.model_fields)
    found = [
        (layer or blank | {"glaze": coat.glaze})
        | ({} if coat.coats is None else {"coats": coat.coats})
        for layer, coat in zip(layers, coats, strict=True)
    ]
    return found, [each["glaze"]["name"] for each in left]


def _take_only_recipes(session, changed, record) -> None:
    """A glaze that was not on the tile is of its one recipe, where there is no other version."""
    from tiles.records import models, reading, store

    known = {layer.glaze.name for area in record.areas for layer in area.layers}
    for area in changed.areas:
        for layer in area.layers:
            if layer.recipe is None and layer.glaze.name not in known:
                row = store.look_up(session, models.Glaze, layer.glaze.name)
                if row and len(row.recipe_versions) == 1:
                    layer.recipe = reading.recipe_record(row.recipe_versions[0])


def _put_simple(values: dict, given: dict) -> None:
    for key, value in given.items():
        if value is not None:
            values[key] = value or None


def _put_layers(values: dict, shared: dict, lists: dict) -> None:
    areas = values["areas"]
    for name, text in lists.items():
        if name == "coats":
            found = entry.numbers(text, name, int)
        else:
            found = entry.thicknesses(text, name, len(areas))
        differ = len({_top(area)[name] for area in areas}) > 1 if found else False
        if found and len(found) != len(areas) and (len(found) > 1 or differ):
            raise InvalidValue(
                f"{entry.said(name)} {text!r} has {counted(len(found), 'number')} for "
                f"{counted(len(areas), 'area')}{' that differ' if differ else ''}.",
                "one number for each area.",
                field=name,
                value=text,
            )
        for area, value in zip(areas, found * len(areas), strict=False):
            _top(area)[name] = value
        if found:
            entry.refuse_one_thickness([_top(area) for area in areas], {name: found})
    if lists["coats"]:
        _refuse_old_thickness(areas)
    for name, value in shared.items():
        if value is not None:
            for area in areas:
                _top(area)[name] = value or None


def _refuse_old_thickness(areas: list[dict]) -> None:
    """New coats that differ leave no single thickness that was on record true of all areas."""
    tops = [_top(area) for area in areas]
    for name in ("thickness_mm", "fired_thickness_mm"):
        on_record = {top[name] for top in tops}
        if len(on_record) == 1:
            entry.refuse_one_thickness(tops, {name: list(on_record)})


def _top(area: dict) -> dict:
    if not area["layers"]:
        raise InvalidValue(
            f"area {area['number']} has no glaze yet.", "--glaze NAME.", field="glaze"
        )
    return area["layers"][-1]


def _put_clues(values: dict, clues: list[str]) -> None:
    by_number = {area["number"]: area for area in values["areas"]}
    for text in clues:
        name, answer, area = entry.read_clue(text)
        if area is not None and area not in by_number:
            raise InvalidValue(f"clue {text!r}: there is no area {area}.", "an area of the tile.")
        holder = by_number[area] if area else values
        holder["clues"][name] = answer or None


def _forget(values: dict, looks: list, which: str | None):
    """Leave out the look of a day, or of several on one day the one that is named; gives it."""
    if which is None:
        return None
    day, _, number = which.partition(":")
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
