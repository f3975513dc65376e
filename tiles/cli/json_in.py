"""The JSON side of ``tiles import``: records as 'show --json' or 'export' writes them."""

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from tiles.cli import alike, common, joined
from tiles.cli.refusals import stop, tell_refused
from tiles.cli.user_files import refused_beside

if TYPE_CHECKING:
    from tiles.exchange.json_file import Choices


def read_in(file: Path, choices: "Choices", *, skip_refused: bool, db: str | None) -> None:
    """Store the records of a JSON file: all of them, or with ``skip_refused`` the good ones."""
    from tiles.exchange import json_file
    from tiles.queries.alike import names_alike, tiles_on_shelves
    from tiles.records.store.named import Names

    studio, values = json_file.parted(json_file.read_values(file), file.name)
    with common.importing(db) as session:
        stood = tiles_on_shelves(session)
        beside = Names(session)
        if studio is not None:
            beside = _put_studio(session, studio, file, choices)
        so_far = json_file.SoFar({*beside.added, *beside.filled}, parted=beside.parted)
        outcome = json_file.import_records(session, values, file.name, choices, so_far)
        outcome.added[:0] = beside.added
        outcome.gained[:0] = beside.gained
        problems = [error for _number, _value, error in outcome.refused]
        tell_refused(problems, file.name, "record")
        if problems and not skip_refused:
            also = ", or --skip-refused to store the others" if len(problems) < len(values) else ""
            stop(problems, f"{len(problems)} of {len(values)} records were refused", also)
        alike_names = names_alike(session, outcome.added, outcome.stored)
        apart = {each.name for each in beside.parted}
        alike.tell_marks(session, [record.mark for record in outcome.stored])
        alike.tell_shelves(session, outcome.stored, stood)
        if problems:
            with refused_beside(file) as (kept, part):
                _write_refused(part, outcome.refused)
    joined.tell(outcome, beside.told)
    alike.tell([each for each in alike_names if each.name not in apart], file)
    print(joined.on_record(outcome, len(values)))
    _tell_stored(outcome, db)
    if problems:
        common.talk(f"The refused records are in {kept}; correct them and import that file.")
        raise typer.Exit(3)


def _put_studio(session, studio, file: Path, choices: "Choices"):
    """What a whole export holds beside its tiles: the names, with what is new and told of them."""
    from tiles.exchange.studio import import_studio

    how = {"keep_stored": choices.keep_stored, "confirmed": choices.confirmed}
    return import_studio(session, studio, file.name, **how)


def _tell_stored(outcome, db: str | None) -> None:
    """What must be known of the tiles that are on record now, and of their pictures."""
    from tiles.cli.notices import tell_imported, tell_missing_pictures, tell_own_words

    tell_own_words(_own_words(outcome))
    tell_imported(outcome.stored, db)
    gained = [each.record for each in outcome.joined if each.pictures]
    tell_missing_pictures([*outcome.stored, *gained], db)


def _write_refused(kept: Path, refused: list) -> None:
    import json

    text = json.dumps([value for _number, value, _error in refused], ensure_ascii=False, indent=2)
    kept.write_text(text + "\n", encoding="utf-8")


def _own_words(outcome) -> list[tuple[str, str]]:
    """The words about another fault of the looks that were stored, with their marks."""
    from tiles.records.derived import all_seen
    from tiles.records.words import OTHER_FAULT

    return [
        (record.mark, seen.note)
        for record in outcome.looked_at
        for seen in all_seen(record)
        if seen.defect == OTHER_FAULT and seen.note
    ]
