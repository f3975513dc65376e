"""A trial has fields of its own; until now it was known by the beginning of its note."""

import re
import unicodedata

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_DEFECTS = (
    "crazing|shivering|crawling|pinholes|blisters|running|underfired|bloating|dunting|"
    "unwanted matt|specks|colour shift|cloudiness|metal marking|other"
)
_HEAD = rf"Trial for (.+?) \(({_DEFECTS})\): "
# The change ends with a full stop; the program put how to make the tile after it. Looked for in
# that order, since a glaze may be called "No. 4".
_PLANNED = [
    re.compile(rf"{_HEAD}([^\s.].*?)\.\s+((?:Put on by|Same firing|Fire it) .*)$", re.DOTALL),
    re.compile(rf"{_HEAD}([^\s.].*?)\.(?:\s+(.*))?$", re.DOTALL),
]
_LONGEST_MARK = 120


def upgrade():
    """Add the fields, and move what notes of planned trials say into them."""
    with op.batch_alter_table("tile") as tile:
        tile.add_column(sa.Column("trial_of", sa.String(), nullable=True))
        tile.add_column(sa.Column("trial_defect", sa.String(), nullable=True))
        tile.add_column(sa.Column("trial_change", sa.String(), nullable=True))
        tile.create_index(tile.f("ix_tile_trial_of"), ["trial_of"])
    _move_notes(op.get_bind())


def _move_notes(connection):
    names = "tile_id mark note trial_of trial_defect trial_change".split()
    tile = sa.table("tile", *(sa.column(name) for name in names))
    all_notes = sa.select(tile.c.tile_id, tile.c.mark, tile.c.note)
    noted = all_notes.where(tile.c.note.like("Trial for %"))
    for tile_id, mark, note in connection.execute(noted).all():
        if values := _planned(mark, note):
            moved = sa.update(tile).where(tile.c.tile_id == tile_id)
            connection.execute(moved.values(**values))


def _planned(mark, note):
    """The fields in the note of a planned trial; None for a note in a person's own words."""
    found = next((match for each in _PLANNED if (match := each.match(note))), None)
    if found is None:
        return None
    of, defect, change, rest = found.groups()
    of = " ".join(unicodedata.normalize("NFC", of).split())
    if not 0 < len(of) <= _LONGEST_MARK or of.casefold() == mark.casefold():
        return None
    return {"trial_of": of, "trial_defect": defect, "trial_change": change, "note": rest or None}
