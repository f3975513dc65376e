"""``tiles log``: write down one tile."""

from datetime import date
from functools import partial
from typing import Annotated

import typer

from tiles.cli import asked, common, entry, food, notices, put_on, same_db
from tiles.errors import DatabaseProblem, InvalidValue, Questioned, shell_word

_LAYER = "method beneath batch".split()
_FIELDS = (
    "mark bisque_cone bisque_firing firing shelf cone_reached form stood made_on glazed_on note "
    "trial_of trial_defect trial_change"
).split()


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("log")(log)


def _option(text: str):
    return typer.Option(help=text)


@asked.spread
def log(
    *,
    mark: Annotated[str | None, _option("What is written on the tile's back.")] = None,
    body: Annotated[str | None, _option("Clay body.")] = None,
    glaze: Annotated[
        list[str] | None,
        _option("Glaze, from the clay up; NAME, NAME=COATS, NAME@AREA. Repeat for layers."),
    ] = None,
    coats: Annotated[
        str | None, _option("Coats of the top layer; 1,2,3 makes three areas.")
    ] = None,
    thickness_mm: Annotated[
        str | None, _option("Dry coat as applied, top layer [mm]; or one for each area.")
    ] = None,
    fired_thickness_mm: Annotated[
        str | None, _option("Coat after firing [mm]; or one for each area.")
    ] = None,
    top: asked.TopCoat,
    recipe_version: Annotated[
        int | None, _option("Version of the top glaze's recipe; default the newest.")
    ] = None,
    tile: asked.OfTile,
    defect: Annotated[
        list[str] | None, _option("Defect seen: crawling, severe crawling, crawling@3.")
    ] = None,
    clean: Annotated[
        bool, typer.Option("--clean", help="Looked at and found without a defect.")
    ] = False,
    inspected_on: Annotated[str | None, common.day("Day of the look; default today.")] = None,
    clue: Annotated[
        list[str] | None, _option("A clue, such as bisque_wiped=no. See 'tiles clues'.")
    ] = None,
    note: Annotated[str | None, _option("Anything else.")] = None,
    trial_of: Annotated[str | None, _option("Mark of the failed tile it is a trial for.")] = None,
    trial: asked.OfTrial,
    add_missing: Annotated[
        bool, typer.Option("--add-missing", help="Add bodies, glazes, firings not on record.")
    ] = False,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Write down a tile. Without --mark it asks, offering the last tile's answers.

    Example: tiles log --mark M-41 --body "red earthenware" --glaze "pond green" --coats 3
    --thickness-mm 0.9 --bisque-cone 04 --firing F12 --cone-reached 05 --defect crawling:severe
    """
    options = asked.by_name(locals())
    if mark is None:
        _refuse_options_without_mark(options)
        from tiles.cli.ask_log import ask_and_store

        ask_and_store(db)
        return
    from tiles.records.words import refuse_no_name

    refuse_no_name(mark, "mark")
    for name, what in (
        (body, "body"),
        *((entry.read_coat(each).glaze, "glaze") for each in glaze or []),
    ):
        if add_missing and name is not None:
            refuse_no_name(name, what, confirmed=yes)
    entry.ask_of_trial(trial.trial_change, yes=yes)
    recipe = recipe_of(glaze or [], recipe_version, db)
    if body is None:
        raise InvalidValue("the body is missing.", "--body, or 'tiles log' alone to be asked.")
    shared = common.fields(_LAYER, options) | {"recipe": recipe}
    values = common.fields(_FIELDS, options) | {
        "body": body,
        "areas": entry.areas(
            glaze or [],
            coats=coats,
            thickness_mm=thickness_mm,
            fired_thickness_mm=fired_thickness_mm,
            shared={key: value for key, value in shared.items() if value is not None},
        ),
        "inspections": inspections(defect, clean, inspected_on),
    }
    put_clues(values, clue or [])
    put_on.put(values["areas"], top.applied_on or [])
    if top.beneath and (bare := entry.left_bare(values["areas"])):
        common.talk(bare)
    meant = notices.shelf_meant(tile.shelf, db, create=True)
    stored = store_new(values, db=db, add_missing=add_missing, yes=yes)
    notices.tell_new_marks([stored.mark], db)
    notices.tell_shelf_meant([stored], meant)
    notices.tell_days([stored], inspected_on)


def _refuse_options_without_mark(options: dict[str, object]) -> None:
    given = [value for name, value in options.items() if name != "db"]
    if any(value is not None and value is not False for value in given):
        raise InvalidValue("the mark is missing.", "--mark, or 'tiles log' alone to be asked.")


def recipe_of(glazes: list[str], version: int | None, db: str | None) -> dict | None:
    """The lines of a version of the top glaze."""
    if version is None:
        return None
    from tiles.records import store

    if not glazes:
        raise InvalidValue("a recipe version without a glaze.", "--glaze NAME.", field="glaze")
    with common.reading(db) as session:
        name = entry.read_coat(glazes[-1]).glaze
        return store.find_recipe(session, name, version).model_dump()


def inspections(defects: list[str] | None, clean: bool, inspected_on: str | None) -> list[dict]:
    """The one look that is logged with a tile, or none.

    Raises
    ------
    InvalidValue
        Clean and a defect at once, or a day without saying what was seen.
    """
    if clean and defects:
        raise InvalidValue("--clean together with a defect.", "one of the two.")
    if not (clean or defects):
        if inspected_on:
            raise InvalidValue(
                "a day of inspection without what was seen.", "--clean or --defect as well."
            )
        return []
    from tiles.records.fault_words import says_nothing_seen

    told = [] if len(defects or []) == 1 and says_nothing_seen(defects[0]) else defects or []
    seen = [each for text in told for each in entry.read_defects(text)]
    return [{"inspected_on": inspected_on or date.today().isoformat(), "defects": seen}]


def ask_of_own_words(looks: list, *, yes: bool) -> None:
    """Ask about words kept as another fault that most often mean one of the list.

    Raises
    ------
    Questioned
        Nobody is there to ask.
    Declined
        The person will name that fault.
    """
    from tiles.records.words import OTHER_FAULT

    words = [each.note for look in looks for each in look.defects if each.defect == OTHER_FAULT]
    for said in filter(None, words):
        common.confirmed(partial(_ask_if_listed, said), yes=yes)


def _ask_if_listed(said: str, is_sure: bool) -> None:
    from tiles.records.fault_words import listed_fault

    fault = None if is_sure else listed_fault(said)
    if fault:
        raise Questioned(
            f"kept as another fault, {said!r} is not read as {fault}, which it most often means: "
            "'tiles why' knows the causes of that under its own name alone.",
            f"'{fault} ({said})', or --yes if it is none of the list.",
            field="defect",
            value=said,
        )


def put_clues(values: dict, clues: list[str]) -> None:
    """Put each clue on its area, or on the whole tile.

    Raises
    ------
    InvalidValue
        A clue names an area the tile does not have.
    """
    for text in clues:
        name, answer, area = entry.read_clue(text)
        if area is None:
            values.setdefault("clues", {})[name] = answer
            continue
        if area > len(values["areas"]):
            raise InvalidValue(f"clue {text!r}: there is no area {area}.", "an area of the tile.")
        values["areas"][area - 1].setdefault("clues", {})[name] = answer


def store_new(
    values: dict, *, db: str | None, add_missing: bool, yes: bool, asked_names: bool = False
):
    """Check, store and tell; the record as stored.

    ``asked_names``: whether a new glaze is one was asked where its name was typed.
    """
    from tiles.cli.batch_versions import tell_other_version
    from tiles.records import forms, questions, store
    from tiles.records.derived import all_seen
    from tiles.records.layered import ask_if_one
    from tiles.records.store.belongings import names_of_glazes
    from tiles.records.store.former import ask_if_renamed
    from tiles.records.store.named import Names
    from tiles.records.words import name_key

    record = forms.read(forms.TileRecord, values)
    questions.refuse_days_to_come(record.mark, record.inspections)
    ask_of_own_words(record.inspections, yes=yes)

    def write(confirmed: bool):
        with common.writing(db) as session:
            names = Names(session, add_missing=add_missing, newest_recipe=True)
            stored = store.add_tile(session, record, names=names, confirmed=confirmed)
            for each in () if confirmed or asked_names else names.added:
                ask_if_renamed(session, each.what, each.name)
                if each.what == "glaze":
                    ask_if_one(each.name, names_of_glazes(session) - {name_key(each.name)})
            return stored, names.added

    stored, added = common.confirmed(write, yes=yes)
    for name in added:
        common.talk(f"Added {name}.")
    tell(stored)
    food.tell_kept([(stored, [each.defect for each in all_seen(stored)])])
    notices.tell_shelves([stored])
    notices.tell_bisques([stored])
    notices.tell_unfired(stored)
    notices.tell_bare(stored)
    notices.tell_order([stored])
    if not questions.tells_heat(stored):  # else it was asked about
        notices.tell_mismatches([stored])
    try:
        notices.tell_over_label([stored], db)
        notices.tell_retired([stored], db)
        tell_other_version([stored], db)
    except DatabaseProblem as error:
        common.talk(f"{stored.mark} is stored, but not compared with all on record: {error}")
    return stored


def tell(record) -> None:
    """One line on what is now on record, and what to do next."""
    from tiles.records import derived
    from tiles.records.spoken import spoken_defect

    summary = derived.summary(record)
    if summary["clean"]:
        result = "clean"
    elif summary["clean"] is False:
        looks = sorted(record.inspections, key=lambda look: look.inspected_on)
        last = {(each.defect, each.area): each for look in looks for each in look.defects}
        many = len(record.areas) > 1
        faults = ", ".join(spoken_defect(each, with_area=many) for each in last.values())
        result = f"{faults}. Why? tiles why {shell_word(record.mark)}"
    else:
        result = f"{summary['stage']}, not inspected yet"
    print(same_db.with_db(f"{record.mark} is on record: {result}"))
