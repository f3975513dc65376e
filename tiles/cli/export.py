"""``tiles export``: every tile into one file that ``tiles import`` reads."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common
from tiles.cli.prose import counted
from tiles.errors import InvalidValue


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("export")(export)


Semicolons = Annotated[
    bool,
    typer.Option(
        "--semicolons",
        help="For a spreadsheet with decimal commas: semicolons between cells, 0,9 for 0.9.",
    ),
]


def export(file: Path, semicolons: Semicolons = False, db: common.Db = None) -> None:
    """Write all tiles to FILE.csv, one row for each area, or all that is on record to FILE.json.

    A CSV leaves out what does not fit a row and what no tile names, and says so. JSON leaves out
    nothing but the pictures themselves.
    """
    from tiles.cli.flat import SUFFIXES
    from tiles.cli.studio import whole_studio
    from tiles.cli.user_files import refuse_existing, written

    suffix = file.suffix.casefold()
    if suffix not in (".csv", ".json"):
        raise InvalidValue(
            f"{file} ends neither in .csv nor in .json.", f"{file.stem}.csv.", value=str(file)
        )
    if semicolons and suffix not in SUFFIXES:
        raise InvalidValue(
            "--semicolons is for a CSV.", f"{file.with_suffix('.csv')}, or leave it."
        )
    refuse_existing(file)
    studio, records = whole_studio(db)
    if suffix in SUFFIXES:
        from tiles.exchange import flat_csv

        with written(file) as part:
            rows = flat_csv.write_file(part, records, semicolons=semicolons)
        _tell_flat(file, rows, studio, records)
    else:
        with written(file) as part:
            _write_json(part, studio, records)
        are = "is" if len(records) == 1 else "are"
        print(f"{counted(len(records), 'tile')} {are} in {file}")
        _tell_pictures(records, db)


def _tell_flat(file: Path, rows: int, studio, records: list) -> None:
    """How much is in it, and what is not."""
    from tiles.exchange import flat_csv
    from tiles.exchange.studio import without_tile
    from tiles.records.questions import all_questions
    from tiles.records.spoken import some

    are = "is" if len(records) == 1 else "are"
    print(f"{counted(len(records), 'tile')} in {counted(rows, 'row')} {are} in {file}")
    left_out: dict[str, list[str]] = {}
    for record in records:
        for what in flat_csv.not_carried(record):
            left_out.setdefault(what, []).append(record.mark)
    for what, marks in left_out.items():
        common.talk(f"Left out on {counted(len(marks), 'tile')} ({some(marks, 3)}): {what}.")
    if asked := [record.mark for record in records if all_questions(record)]:
        common.talk(f"What is unlikely of {some(asked, 3)} is asked about again when it comes back "
                    "from a CSV (--yes answers); JSON holds the answer.")  # fmt: skip
    if bare := without_tile(studio, records):
        common.talk(f"Left out, as no row holds it: {some(bare)}.")
    if left_out or bare:
        common.talk(f"To keep all of it: 'tiles export {file.with_suffix('.json')}'.")


def _tell_pictures(records: list, db: str | None) -> None:
    """Where the pictures are, of which JSON holds the names alone."""
    from tiles.settings import database_url, photo_folder

    if any(each.photos for each in records):
        folder = photo_folder(database_url(db))
        common.talk(f"The pictures themselves are not in it: copy the folder {folder} as well.")


def _write_json(file: Path, studio, records: list) -> None:
    import json

    from tiles.exchange.json_file import to_json

    told = {
        "studio": studio.model_dump(mode="json"),
        "tiles": [to_json(record) for record in records],
    }
    text = json.dumps(told, ensure_ascii=False, indent=2, default=str)
    file.write_text(text + "\n", encoding="utf-8")
