"""``tiles demo``: an invented studio to try things on, and the three main answers."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common
from tiles.errors import IS_WINDOWS, AlreadyOnRecord, shell_setting
from tiles.settings import DB_VARIABLE

FILE_NAME = "sample.db"
CRAWLER = "M-41"


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("demo")(demo)


def demo(
    folder: Annotated[Path, typer.Argument(help="Where to put it.")] = Path("tiles-demo"),
) -> None:
    """Build a sample database in a folder and show the three main jobs on it."""
    file = folder / FILE_NAME
    if file.exists():
        raise AlreadyOnRecord(
            f"{file} is already there.",
            f"'tiles find --db {file}', or another folder: tiles demo FOLDER.",
        )
    db = str(file)
    tiles = _build(db)
    print(f"A sample studio with {tiles} test tiles is in {file}. All of it is invented.\n")
    _show_log(db)
    _show_find(db)
    _show_why(db)
    _tell_next(db)


def _build(db: str) -> int:
    from sample_db.build import build
    from tiles.records.photos import take_in
    from tiles.settings import database_url, photo_folder

    pictures = photo_folder(database_url(db))
    with common.writing(db) as session:
        return len(build(session, keep_photo=lambda file: take_in(file, pictures)).tiles)


def _heading(number: int, text: str, command: str) -> None:
    if IS_WINDOWS:  # whose two shells go on in another line with signs of their own
        command = command.replace(" \\\n   ", "")
    print(f"--- {number}. {text} ---\n{'>' if IS_WINDOWS else '$'} {command}")


def _show_log(db: str) -> None:
    from tiles.cli.log import log

    _heading(
        1,
        "A tile is written down after unloading",
        'tiles log --mark DEMO-1 --body "red earthenware" --glaze "pond green" --coats 3 \\\n'
        "    --thickness-mm 1.5 --bisque-cone 04 --cone-reached 05 --defect crawling:severe",
    )
    log(
        mark="DEMO-1",
        body="red earthenware",
        glaze=["pond green"],
        coats="3",
        thickness_mm="1.5",
        bisque_cone="04",
        cone_reached="05",
        defect=["crawling:severe"],
        db=db,
    )
    print()


def _show_find(db: str) -> None:
    from tiles.cli.find import find

    _heading(
        2,
        "What fired clean?",
        'tiles find --clean --cone 05 --body "red earthenware" --limit 12',
    )
    find(clean=True, cone="05", body="red earthenware", limit=12, db=db)
    print()


def _show_why(db: str) -> None:
    from tiles.cli.why import why

    _heading(3, "Why did one fail?", f"tiles why {CRAWLER} --defect crawling")
    why(mark=CRAWLER, defect="crawling", db=db)
    print()


def _tell_next(db: str) -> None:
    print(
        "--- Try next ---\n"
        f"{shell_setting(DB_VARIABLE, str(Path(db).absolute()))}\n"
        f"tiles show {CRAWLER}\n"
        'tiles find --glaze "pond green" --faulty\n'
        "tiles firing list\n"
        "tiles log            (asks; Ctrl-C stops)\n"
        "tiles --help"
    )
