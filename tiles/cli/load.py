"""``tiles load``: put tiles into a firing."""

from typing import Annotated

import typer

from tiles.cli import caution, common
from tiles.cli.marks import expand
from tiles.cli.prose import counted
from tiles.errors import shell_word


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("load")(load)


def load(
    firing: str,
    marks: Annotated[list[str], typer.Argument(help='Marks, or runs: M-41..M-52, "T 06..T 12".')],
    shelf: Annotated[str | None, typer.Option(help="Shelf or place in the kiln.")] = None,
    batch: Annotated[
        str | None, typer.Option(help="Batch (bucket) of the glaze that has one of this name.")
    ] = None,
    yes: common.Yes = False,
    db: common.Db = None,
) -> None:
    """Put tiles into a glaze firing.

    Example: tiles load F13 M-41..M-52 --shelf top --batch "HC Nov 2025"
    """
    from tiles.cli.batch_versions import tell_other_version
    from tiles.cli.notices import (
        doubt_of_shelf,
        tell_bisques,
        tell_loaded_too_late,
        tell_over_label,
        tell_retired,
        tell_sets_apart,
        tell_shelf_planned,
        tell_shelves,
    )
    from tiles.records import store
    from tiles.records.notices import by_shelf

    wanted = expand(marks)
    doubt = doubt_of_shelf(shelf, db)
    common.confirmed(lambda is_sure: None if is_sure else _ask_of_kiln(firing, wanted, db), yes=yes)
    planned = _on_other_shelves(wanted, shelf, db) if shelf else []

    def write(confirmed: bool):
        with common.writing(db) as session:
            return store.load_tiles(
                session, firing, wanted, shelf, batch=batch, confirmed=confirmed
            )

    loaded = common.confirmed(write, yes=yes)
    kept = "" if shelf else by_shelf(loaded)  # as they were planned
    told = f"{counted(len(loaded), 'tile')} in {loaded[0].firing.name}"
    print(f"{told} ({kept})." if kept else f"{told}.")
    if batch:
        tell_batch(loaded, batch)
    _tell_batches_to_name(loaded, db)
    if doubt:
        common.talk(doubt)
    tell_shelf_planned(planned, shelf)
    tell_loaded_too_late(loaded, db)
    tell_shelves(loaded)
    tell_bisques(loaded)
    tell_sets_apart(loaded, db)
    tell_retired(loaded, db)
    tell_other_version(loaded, db)
    tell_over_label(loaded, db)
    caution.tell(caution.on_tiles(loaded), db)


def _ask_of_kiln(name: str, marks: list[str], db: str | None) -> None:
    """Ask about trials that are for another kiln than that of the firing."""
    from tiles.records import models, reading, store
    from tiles.records.trial_questions import kiln_of, require_kiln

    with common.reading(db) as session:
        firing = reading.firing_record(store.find(session, models.Firing, name))
        rows = store.get_tiles(session, marks) if firing.kiln else []
        trials = [reading.tile_record(row) for row in rows if row.trial_of]
        of = {each.trial_of: store.has_mark(session, each.trial_of) for each in trials}
        failed = {mark: store.get_tile(session, mark) for mark in set(filter(None, of.values()))}
        meant = {
            each.mark: kiln_of(each, reading.tile_record(failed[of[each.trial_of]]))
            for each in trials
            if of[each.trial_of]
        }
    require_kiln(firing, {mark: kiln for mark, kiln in meant.items() if kiln})


def _on_other_shelves(marks: list[str], shelf: str, db: str | None) -> list:
    """The tiles that are in no firing yet and were planned for another shelf."""
    from tiles.records import reading, store
    from tiles.records.words import same_name

    with common.reading(db) as session:
        records = [reading.tile_record(row) for row in store.get_tiles(session, marks)]
    planned = (each for each in records if each.shelf and not each.firing)
    return [each for each in planned if not same_name(each.shelf, shelf)]


def tell_batch(records: list, batch: str) -> None:
    """How many tiles were noted as from a batch: it is that of one glaze, most often."""
    from tiles.records.words import same_name

    def is_from(record) -> bool:
        layers = [layer for area in record.areas for layer in area.layers]
        return any(each.batch and same_name(each.batch.name, batch) for each in layers)

    common.talk(f"{counted(sum(map(is_from, records)), 'tile')} from batch {batch}.")


def _tell_batches_to_name(records: list, db: str | None) -> None:
    """Which tiles have no batch noted, where batches of their glaze are on record."""
    from tiles.cli.batch_versions import may_be_from
    from tiles.records import models, store
    from tiles.records.spoken import some

    without: dict[str, dict] = {}
    for record in records:
        layers = [layer for area in record.areas for layer in area.layers]
        for each in layers:
            if each.batch is None:
                without.setdefault(each.glaze.name, {})[record.mark] = each.recipe
    with common.reading(db) as session:
        rows = [store.find(session, models.Glaze, name) for name in without]
        known = {
            row.name: [
                batch.name
                for batch in row.batches
                if may_be_from(session, batch, list(without[row.name].values()))
            ]
            for row in rows
        }
    for name, batches in known.items():
        if batches:
            common.talk(
                f"No batch is noted for {name} on {some(list(without[name]))}. Where it is from "
                f"one of these, name it with --batch: {some(batches)}. From another jar: "
                f'\'tiles batch add {shell_word(name)} "fresh jar"\', then --batch "fresh jar".'
            )
