"""A bucket that is used up can be retired, as a body or a glaze."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade():
    """Add the field; every bucket so far is in use.

    It comes with its value, so that SQLite need not build the table anew: it would refuse to drop
    the old one while layers are of its batches.
    """
    in_use = sa.Column("is_retired", sa.Boolean(), nullable=False, server_default=sa.false())
    op.add_column("batch", in_use)
