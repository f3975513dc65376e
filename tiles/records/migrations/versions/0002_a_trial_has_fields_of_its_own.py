"""A trial has fields of its own; until now it was known by the beginning of its note."""

import re

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_PLANNED = re.compile(r"Trial for (.+?) \(([a-z ]+)\): (.*?)\.(?:\s+(.*))?$", re.DOTALL)


def upgrade():
    """Add the fields, and move what notes of planned trials say into them."""
    with op.batch_alter_table("tile") as tile:
        tile.add_column(sa.Column("trial_of", sa.String(), nullable=True))
        tile.add_column(sa.Column("trial_defect", sa.String(), nullable=True))
        tile.add_column(sa.Column("trial_change", sa.String(), nullable=True))
        tile.create_index(tile.f("ix_tile_trial_of"), ["trial_of"])
    _move_notes(op.get_bind())


def _move_notes(connection):
    names = "tile_id note trial_of trial_defect trial_change".split()
    tile = sa.table("tile", *(sa.column(name) for name in names))
    noted = sa.select(tile.c.tile_id, tile.c.note).where(tile.c.note.like("Trial for %"))
    for tile_id, note in connection.execute(noted).all():
        if planned := _PLANNED.match(note):
            of, defect, change, rest = planned.groups()
            values = {"trial_of": of, "trial_defect": defect, "trial_change": change}
            moved = sa.update(tile).where(tile.c.tile_id == tile_id)
            connection.execute(moved.values(note=rest or None, **values))
