"""What the studio's tiles taught: where it is kept, and how it comes from there."""

from pathlib import Path

from tiles.cli import common

LEARNED_FILE = "tiles-learned.json"


def kept_in(db: str | None) -> Path:
    """Where what was learned is kept: beside the database file, else in the data folder."""
    from tiles.settings import data_folder, database_url, sqlite_file

    file = sqlite_file(database_url(db))
    return file.with_name(f"{file.stem}-learned.json") if file else data_folder() / LEARNED_FILE


def recalled(records: list, db: str | None):
    """The model of all tiles: the kept one where nothing changed, else learned and kept."""
    from diagnose.learner import fit_records, recall

    try:
        return recall(records, _made(kept_in(db)))
    except OSError:  # the place cannot be written: learn each time
        return fit_records(records)


def keep(model, records: list, db: str | None) -> None:
    """Keep what was learned; where that cannot be written it is said and learned each time."""
    from diagnose.learning.keep import fingerprint, save

    file = kept_in(db)
    try:
        save(_made(file), model.learned, fingerprint(records), model.all_verdicts)
    except OSError as error:
        common.talk(f"Note: not kept, {file} cannot be written ({error.strerror}).")


def _made(file: Path) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    return file
