"""The CSV side of ``tiles import``: the columns, the empty file, and a filled one read in."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from tiles.cli import alike, common, joined, output, studio
from tiles.cli.prose import counted, wrap
from tiles.cli.refusals import stop, tell_refused
from tiles.cli.user_files import refuse_existing, refused_beside, written
from tiles.errors import InvalidValue, Questioned

if TYPE_CHECKING:
    from tiles.exchange.json_file import Choices

SUFFIXES = (".csv", ".tsv", ".txt")
_OF_HEAT = {"cone_reached", "bisque_cone", "firing", "bisque_firing"}
"""What a tile on record may gain from a sheet that tells how hot it was fired."""
ABOUT_CONES = "Cones: type ^06, not 06; a spreadsheet turns 06 into 6, which is another cone."


def show_columns(*, as_json: bool, as_csv: bool) -> None:
    """Every column of the flat CSV with its unit and what it says."""
    from tiles.exchange.flat_csv import columns

    if as_json or as_csv:
        found = [{"column": each.name, "unit": each.unit, "says": each.says} for each in columns()]
        output.rows(found, {}, as_json=as_json, as_csv=as_csv, empty="")
        return
    for line in (*map(_explained, columns()), *_about_faults()):
        print("\n".join(wrap(line, "    ")))
    common.talk(ABOUT_CONES)


def _explained(column) -> str:
    return f"{column.name} [{column.unit}]: {column.says}"


def _about_faults() -> list[str]:
    from tiles.exchange import flat_fault_words
    from tiles.exchange.flat_columns import FAULT_WORDS
    from tiles.exchange.flat_faults import FAULTS, SAYS

    return [f"{FAULTS} [words]: {SAYS}", f"{FAULT_WORDS} [words]: {flat_fault_words.SAYS}"]


def write_template(file: Path | None) -> None:
    """Write the empty CSV, and beside it the list that explains its columns; - is the screen."""
    from tiles.exchange.flat_csv import columns, template

    if file is None or str(file) == "-":
        print(template(), end="")
        return
    explained = file.with_name(f"{file.stem}.columns.txt")
    for each in (file, explained):
        refuse_existing(each)
    lines = [*map(_explained, columns()), *_about_faults()]
    with written(explained) as list_part, written(file) as part:
        part.write_text(template(), encoding="utf-8-sig")
        list_part.write_text("\n".join([ABOUT_CONES, "", *lines]) + "\n", encoding="utf-8")
    print(f"{file} has a header for every column; {explained} says what each one means.")


def read_in(
    file: Path,
    choices: "Choices",
    *,
    skip_refused: bool,
    days: str | None,
    looked_when_fired: bool,
    db: str | None,
) -> None:
    """Store the tiles of a CSV: all of them, or with ``skip_refused`` the good ones."""
    from tiles.cli.notices import tell_imported, tell_own_words
    from tiles.exchange.flat_layers import ask_of_layers
    from tiles.exchange.flat_recipes import fill_recipes
    from tiles.exchange.flat_said import lines
    from tiles.exchange.flat_zeros import ask_of_zeros
    from tiles.queries.alike import names_alike, tiles_on_shelves
    from tiles.records import store
    from tiles.records.store.belongings import names_of_glazes

    yes = choices.confirmed
    reading = _read(file, days, looked_when_fired=looked_when_fired, db=db, yes=yes)
    for line in lines(reading.said):
        common.talk(line)
    with common.importing(db) as session:
        if not yes:
            ask_of_layers(reading, names_of_glazes(session))
            ask_of_zeros(session, reading)
        stored = store.Stored(session, [record.mark for _number, record in reading.tiles])
        had = set(map(_cones, stored.records.values())) if choices.replace else set()
        stood = tiles_on_shelves(session)
        untold = fill_recipes(session, reading)
        done = _store(session, reading, choices, stored)
        refused = [error for _number, _value, error in done.refused]
        problems = sorted(reading.problems + refused, key=lambda error: error.row)
        _tell_refused(problems, reading, file, goes_on=skip_refused)
        if not yes:
            heated = [each.record for each in done.joined if _OF_HEAT.intersection(each.fields)]
            new = [record for record in done.stored if _cones(record) not in had]
            _require_zeros(reading, new + heated)
        to_check = names_alike(session, done.added, done.stored)
        alike.tell_marks(session, [record.mark for record in done.stored])
        alike.tell_shelves(session, done.stored, stood)
        said_kept = _keep_refused(problems, reading, file)
    for line in untold:
        common.talk(line)
    joined.tell(done)
    alike.tell(to_check, file, reading.names())
    print(joined.on_record(done, len(reading.groups), "tile"))
    tell_own_words(_own_words(reading, done))
    tell_imported(done.stored, db)
    if problems:
        common.talk(said_kept)
        common.talk("Correct them and import that file.")
        raise typer.Exit(3)


def _own_words(reading, done) -> list[tuple[str, str]]:
    """The words about another fault of the looks that were stored, with their rows."""
    from tiles.exchange.flat_fault_words import of_others
    from tiles.records.words import name_key

    new = {name_key(record.mark) for record in done.looked_at}
    told = of_others(reading.readable)
    return [(f"row {row.number}", words) for row, words in told
            if name_key(row.cells.get("mark", "")) in new]  # fmt: skip


def _read(file: Path, days: str | None, *, looked_when_fired: bool, db: str | None, yes: bool):
    """The rows of a CSV with what is wrong in them; a file without any is refused."""
    from tiles.exchange.flat_csv import read_file
    from tiles.records.words import SAID_UNKNOWN

    fired_on, kept = _on_record(db)
    kept = {*kept, *(SAID_UNKNOWN if yes else ())}
    reading = read_file(
        file, days=days, looked_when_fired=looked_when_fired, fired_on=fired_on, kept=kept
    )
    if not reading.rows:
        raise InvalidValue(f"{file} has no tile, only headers.", "a row for each area of a tile.")
    return reading


def _tell_refused(problems: list, reading, file: Path, *, goes_on: bool) -> None:
    """What is wrong, each thing once; unless it goes on without those rows, nothing is stored."""
    things = counted(len(tell_refused(problems, reading.source, "row")), "thing")
    if any("cone" in str(each) for each in problems) and reading.has_lost_zeros():
        common.talk(f"No cone in {file.name} has a 0. {ABOUT_CONES}")
    if problems and not goes_on:
        rows, of = len({error.row for error in problems}), counted(len(reading.rows), "row")
        wrong = f"{things} {'is' if things.startswith('1 ') else 'are'} wrong in {rows} of {of}"
        stop(problems, wrong, ", or --skip-refused to store the other tiles")


def _keep_refused(problems: list, reading, file: Path) -> str:
    """Write the refused rows into a file of their own. Returns what to say of it; "" of none."""
    from tiles.exchange.flat_csv import write_refused

    if not problems:
        return ""
    with refused_beside(file) as (kept, part):
        rows = write_refused(part, reading, problems)
    return f"Refused, with the reason beside each: {counted(rows, 'row')} in {kept}."


def _on_record(db: str | None) -> tuple[dict[str, date], set[str]]:
    """When the firings on record were, by name, and which marks and names there are none."""
    from tiles.queries.summaries import days_of_firings, no_names

    with studio.looking(db, aloud=False) as session:
        return (days_of_firings(session), no_names(session)) if session is not None else ({}, set())


def _cones(record) -> tuple:
    """The mark and the cones of a tile: what is on record so was confirmed by then."""
    from tiles.records.derived import bisque_cone, cone_reached

    target = record.firing and record.firing.target_cone
    return record.mark, target, cone_reached(record), bisque_cone(record)


def _require_zeros(reading, stored: list) -> None:
    """Ask once whether 6 is 06, where no label and no kind of clay tells one from the other."""
    from tiles.records.lost_zeros import tells_low_from_mid

    cones = reading.digits_for_cones()
    if cones and stored and not any(map(tells_low_from_mid, stored)):
        raise Questioned(
            f"No cone in {reading.source} has a 0 ({', '.join(cones)}), and no label or kind of "
            f"clay tells 6 from 06; a spreadsheet turns 06 into 6.",
            "^06 for 06, or --yes if they really are as they stand.",
            field="cone",
        )


def _store(session, reading, choices: "Choices", stored):
    """What became of the tiles, each by itself: what is wrong with one is told with its row."""
    from dataclasses import fields, replace

    from tiles.exchange.flat_csv import not_carried_of_tile
    from tiles.exchange.flat_spread import tells_the_same
    from tiles.exchange.json_file import Outcome, SoFar, import_records

    done, so_far = Outcome(), SoFar(stored=stored)
    choices = replace(choices, not_carried=not_carried_of_tile, is_same=tells_the_same)
    for number, record in reading.tiles:
        where = f"{reading.source}, row {number}"
        of_tile = import_records(session, [record], where, choices, so_far)
        for _number, _value, error in of_tile.refused:
            error.row = number
        for part in fields(Outcome):
            getattr(done, part.name).extend(getattr(of_tile, part.name))
    return done
