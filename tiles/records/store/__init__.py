"""Every write. One session is one transaction: the caller opens it, these functions fill it."""

from tiles.records.store.belongings import (
    add_batch,
    add_body,
    add_firing,
    add_glaze,
    add_kiln,
    find,
    find_batch,
    look_up,
    look_up_batch,
    rename,
    retire,
)
from tiles.records.store.bucket import change_batch, from_batch, marks_from, recipes_from
from tiles.records.store.changing import change, witness_cones_with
from tiles.records.store.join import Joined, join_tile
from tiles.records.store.mark import Stored, get_tile, get_tiles, has_mark, put_together
from tiles.records.store.merge import concerned, merge, retired_of_one, taken_over
from tiles.records.store.recipe import add_recipe_version, find_recipe
from tiles.records.store.remove import remove, remove_batch, remove_version
from tiles.records.store.split import split
from tiles.records.store.tile import (
    add_inspection,
    add_photo,
    add_tile,
    load_tiles,
    remove_tile,
    rename_tile,
    replace_tile,
)
