"""A tile knows the day it was written down; of those written down before, it stays unknown."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade():
    """Add the day."""
    with op.batch_alter_table("tile") as tile:
        tile.add_column(sa.Column("written_on", sa.Date(), nullable=True))
