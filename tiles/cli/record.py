"""One tile: show, inspect, remove, photo; and import, which reads what show --json prints."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import InvalidValue, Questioned, shell_line, shell_word


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    from tiles.cli import change

    app.command("show")(show)
    app.command("inspect")(inspect)
    app.command("change")(change.change)
    app.command("remove")(remove)
    app.command("photo")(photo)
    app.command("import")(import_file)


def show(
    mark: Annotated[str | None, typer.Argument(help="Its mark; none: the whole record.")] = None,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Show all that is recorded of a tile. --json prints what 'tiles import' reads.

    Without a mark: what the record holds, in counts, each with the command that lists it.
    """
    if mark is None:
        from tiles.cli.show_record import show_record

        show_record(as_json=as_json, db=db)
        return
    record = fetch(mark, db)
    if as_json:
        from tiles.exchange.json_file import to_json

        output.print_json(to_json(record))
        return
    from tiles.cli.prose import beside
    from tiles.exchange.json_file import confirmed_of
    from tiles.records.spoken import card

    told = [("confirmed", said) for said in confirmed_of(record)]
    for label, text in [*card(record, _newest_recipes(record, db)), *told]:
        print("\n".join(beside(f"{label:>13}  ", text)))


def _newest_recipes(record, db: str | None) -> dict[str, int]:
    """The newest version of the recipe of each glaze on a tile that has one."""
    from tiles.records import models, store
    from tiles.records.derived import layers_of

    layers = [layer for layer in layers_of(record) if layer.recipe]
    if not layers:
        return {}
    with common.reading(db) as session:
        names = {layer.glaze.name for layer in layers}
        rows = [store.find(session, models.Glaze, name) for name in names]
        return {row.name: row.recipe_versions[-1].version for row in rows}


def fetch(mark: str, db: str | None):
    """The record of one tile."""
    from tiles.records import reading, store
    from tiles.records.analyses import own_materials
    from tiles.records.derived import analysed

    with common.reading(db) as session:
        record = reading.tile_record(store.get_tile(session, mark))
        return analysed(record, own_materials(session))


def inspect(
    marks: Annotated[list[str], typer.Argument(help="Marks, or runs: M-41..M-45.")],
    defect: Annotated[
        list[str] | None, typer.Option(help="Defect seen: crazing, crazing:slight, crazing@2.")
    ] = None,
    clean: Annotated[bool, typer.Option("--clean", help="No defect seen.")] = False,
    inspected_on: Annotated[str | None, common.day("Day of the look; default today.")] = (None),
    cone_reached: Annotated[str | None, typer.Option(help="Cone reached at its place.")] = None,
    clue: Annotated[
        list[str] | None, typer.Option(help="A clue, such as washed_or_soaked=yes.")
    ] = None,
    note: Annotated[str | None, typer.Option(help="Anything else.")] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Write down a look at a tile: the first one, or another months later.

    Of several tiles all are said to look alike, and all are stored or none.

    Example: tiles inspect M-41 --defect crazing:slight --inspected-on 2026-05-02
    """
    from tiles.cli.food import tell_kept
    from tiles.cli.log import ask_of_own_words, inspections, tell
    from tiles.cli.marks import each_of, expand
    from tiles.cli.notices import tell_days, tell_earlier_fault, tell_kept_as_other
    from tiles.records import forms, looks, questions, reading, store

    told = inspections(defect, clean, inspected_on)
    if not told:
        raise InvalidValue("nothing was said of what was seen.", "--clean or --defect NAME.")
    look = forms.read(forms.InspectionRecord, told[0] | {"note": note})
    wanted = expand(marks)
    questions.refuse_days_to_come(wanted[0], [look])
    ask_of_own_words([look], yes=yes)
    clues = _whole_clues(clue or [], marks)
    again = set()

    def look_at(session, mark: str, confirmed: bool):
        before = reading.tile_record(store.get_tile(session, mark))
        if not confirmed and cone_reached is None:
            _require_firing(before)
        if looks.is_on_record(before, look):
            again.add(mark)
        return store.add_inspection(
            session, mark, look, cone_reached=cone_reached, clues=clues, confirmed=confirmed
        )

    def write(confirmed: bool) -> list:
        with common.writing(db) as session:
            known = dict.fromkeys(row.mark for row in store.get_tiles(session, wanted))
            return each_of(list(known), lambda mark: look_at(session, mark, confirmed))

    found = common.confirmed(write, yes=yes)
    for stored in found:
        tell(stored)
        if stored.mark in again:
            common.talk(f"{stored.mark}: that look of {look.inspected_on} was on record already, "
                        "and is one.")  # fmt: skip
    tell_kept((stored, [each.defect for each in look.defects]) for stored in found)
    tell_days(found, inspected_on)
    for stored in found:
        tell_earlier_fault(stored, look)
    tell_kept_as_other(found, look)


def _whole_clues(clues: list[str], marks: list[str]) -> dict[str, str]:
    """The answers to clues about whole tiles; one that names an area is for another command."""
    from tiles.cli.entry import read_clue

    told = {}
    for text in clues:
        name, answer, area = read_clue(text)
        if area is not None:
            raise InvalidValue(
                f"clue {text!r} names an area.",
                f"'tiles change {shell_line(marks)} --clue {shell_word(text)}'.",
            )
        told[name] = answer
    return told


def _require_firing(record) -> None:
    """A look at a tile that was not fired, as far as is recorded: a slip in the mark, perhaps."""
    from tiles.records.derived import stage

    at = stage(record)
    if at in ("planned", "glazed"):
        raise Questioned(
            f"{record.mark} is on record as {at}: no firing and no cone reached.",
            f"'tiles load FIRING {shell_word(record.mark)}' first, or --yes if it was fired "
            "all the same.",
            field="firing",
        )


def remove(
    marks: Annotated[list[str], typer.Argument(help="Marks, or runs: K-142..K-145.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print them whole.")] = False,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Take tiles off the record, a line for each; a file beside the database can put them back.

    With --json, or to a file or another command, they are printed whole.

    Example: tiles remove K-142..K-145
    """
    from tiles.cli.marks import expand
    from tiles.records import store
    from tiles.records.spoken import some, spoken_make

    wanted = expand(marks)
    is_whole = as_json or not common.is_screen()
    with common.reading(db) as session:
        named = some([row.mark for row in store.get_tiles(session, wanted)])
    if not yes:
        _ask_to_remove(named)
    with common.writing(db, create=False) as session:
        records = [store.remove_tile(session, mark) for mark in wanted]
        kept, found = keep_beside(records, db, "removed")
    are = "is" if len(records) == 1 else "are"
    off = f"{some([record.mark for record in records])} {are} off the record."
    common.talk(f"{off} To put back: {put_back(kept)}")
    if is_whole:
        output.print_json(found if len(found) > 1 else found[0])
    else:
        print("\n".join(spoken_make(record) for record in records))


def keep_beside(records: list, db: str | None, what: str, studio=None) -> tuple[Path, list[dict]]:
    """The file beside the database that can put these tiles back, and what stands in it of them.

    ``studio`` is put back with them, as of a whole export.
    """
    import json

    from tiles.cli.user_files import removed_beside
    from tiles.exchange.json_file import to_json
    from tiles.settings import database_url

    found = [to_json(record) for record in records]
    with removed_beside(database_url(db), what) as (kept, part):
        beside = studio and {"studio": studio.model_dump(mode="json"), "tiles": found}
        text = json.dumps(beside or found, ensure_ascii=False, indent=2, default=str)
        part.write_text(f"{text}\n", encoding="utf-8")
    return kept, found


def put_back(kept: Path, *options: str) -> str:
    """The command that reads the file into the same database."""
    from tiles.cli.same_db import is_secret

    again = shell_line(["tiles", "import", str(kept), *options])
    return f"{again} with the same --db" if is_secret() else again


def _ask_to_remove(named: str) -> None:
    if not common.is_interactive():
        raise InvalidValue(f"removing {named} needs a yes.", "--yes.")
    if not common.yes_or_no(f"Take {named} off the record?"):
        raise typer.Abort


def photo(
    mark: str,
    file: Path,
    caption: Annotated[str | None, typer.Option(help="What it shows.")] = None,
    db: common.Db = None,
) -> None:
    """Keep a picture of a tile: a copy, without the camera's data on place and time."""
    from tiles.records import store
    from tiles.records.photos import take_in
    from tiles.settings import database_url, photo_folder

    with common.writing(db, create=False) as session:
        tile, folder = store.get_tile(session, mark), photo_folder(database_url(db))
        known = [each.file for each in tile.photos]
        missing = [each for each in known if not (folder / each).exists()]
        name = take_in(file, folder, missing)
        if name not in missing:
            store.add_photo(session, tile.mark, name, caption)
    print(f"{tile.mark}: picture {'put back' if name in missing else 'kept'} as {name}")
    if caption and name in missing:
        common.talk("It was on record already, so its caption stays as it was.")


def import_file(
    file: Annotated[Path | None, typer.Argument(help="FILE.json or FILE.csv.")] = None,
    template: Annotated[
        bool, typer.Option("--template", help="Write an empty CSV to FILE, or to the screen.")
    ] = False,
    columns: Annotated[
        bool, typer.Option("--columns", help="List the columns of the CSV and what each says.")
    ] = False,
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over tiles of the same mark.")
    ] = False,
    keep_stored: Annotated[
        bool,
        typer.Option("--keep-stored", help="Keep yours where a body, glaze or firing contradicts."),
    ] = False,
    skip_refused: Annotated[
        bool,
        typer.Option("--skip-refused", help="Store the good ones; write the others to a file."),
    ] = False,
    allow_loss: Annotated[
        bool,
        typer.Option(
            "--allow-loss",
            help="With --replace: also where looks, pictures, recipes or a note would be lost.",
        ),
    ] = False,
    days: Annotated[
        str | None,
        typer.Option(help="How a CSV writes days: dmy (3/4/26 is in April) or mdy (in March)."),
    ] = None,
    looked_when_fired: Annotated[
        bool,
        typer.Option(
            "--looked-when-fired",
            help="A CSV's results without a day of the look: take the day of the firing.",
        ),
    ] = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Read tiles from JSON as 'show --json' or 'export' writes it, or a CSV of one row an area.

    Bodies, glazes, recipes, batches, kilns and firings that are new are added. A tile on record
    gains the looks, pictures and facts that only the file has. All or nothing, unless
    --skip-refused. --json and --csv are for the list that --columns prints.
    """
    from tiles.cli import flat, json_in

    if columns:
        flat.show_columns(as_json=as_json, as_csv=as_csv)
        return
    if template:
        flat.write_template(file)
        return
    if file is None:
        raise InvalidValue("no file was named.", "'tiles import FILE.json' or FILE.csv.")
    from tiles.exchange.json_file import Choices
    from tiles.exchange.text_file import refuse_workbook

    choices = Choices(replace, keep_stored, confirmed=yes, allow_loss=allow_loss)
    how = {"skip_refused": skip_refused, "db": db}
    if file.suffix.casefold() not in flat.SUFFIXES:
        refuse_workbook(file)
        if days or looked_when_fired:
            raise InvalidValue("--days and --looked-when-fired are for a CSV.", "without them.")
        json_in.read_in(file, choices, **how)
        return
    order = days and _day_order(days)
    flat.read_in(file, choices, days=order, looked_when_fired=looked_when_fired, **how)


def _day_order(text: str) -> str:
    from tiles.exchange.flat_cells import DAY_ORDERS
    from tiles.records.words import read_word

    return read_word(text, DAY_ORDERS, "order of day, month and year")
