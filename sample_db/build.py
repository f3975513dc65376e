"""Put the sample on record, through the same functions as everybody else's tiles.

The CSV files beside this script are the truth; the same files always give the same database.
"""

from collections.abc import Callable
from pathlib import Path

from sample_db.read import Sample, read_records
from sample_db.rows import FOLDER
from tiles.records.forms import FiringRecord, TileRecord

__all__ = ["FOLDER", "Sample", "build", "read_records"]


def build(session, keep_photo: Callable[[Path], str] | None = None) -> Sample:
    """Store the whole sample in the open transaction.

    Parameters
    ----------
    session : Session
        An open session on a database that holds none of these names and marks yet.
    keep_photo : callable, optional
        Copies one picture to where the database keeps its photos and returns its name there;
        without it the pictures are left out.

    Returns
    -------
    Sample
        The records as read from the files.

    Raises
    ------
    TilesError
        A file is wrong, or a name or mark is taken; the transaction should be rolled back.
    """
    from tiles.records import store

    sample = read_records()
    _build_library(session, sample)
    for tile in sample.tiles:
        entered = _as_entered(tile, keep_photo)
        store.add_tile(session, entered, confirmed=tile.mark in sample.confirmed)
    return sample


def _as_entered(tile: TileRecord, keep_photo: Callable[[Path], str] | None) -> TileRecord:
    """As a user enters it: firings by their name alone, pictures as the database keeps them."""
    photos = []
    if keep_photo is not None:
        photos = [
            photo.model_copy(update={"file": keep_photo(Path(photo.file))}) for photo in tile.photos
        ]
    firing, bisque = tile.firing, tile.bisque_firing
    return tile.model_copy(
        update={
            "firing": firing and FiringRecord(name=firing.name),
            "bisque_firing": bisque and FiringRecord(name=bisque.name),
            "photos": photos,
        }
    )


def _build_library(session, sample: Sample) -> None:
    from tiles.records import store

    for body in sample.bodies:
        store.add_body(session, body)
    for glaze in sample.glazes:
        store.add_glaze(session, glaze)
    for glaze_name, recipe in sample.recipes:
        store.add_recipe_version(session, glaze_name, recipe)
    for glaze_name, batch in sample.batches:
        store.add_batch(session, glaze_name, batch)
    for name, remark in sample.kilns:
        store.add_kiln(session, name, remark)
    for firing in sample.firings:
        store.add_firing(session, firing)
