"""A bucket that is used up can be retired, as a body or a glaze."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade():
    """Add the field; every bucket so far is in use."""
    with op.batch_alter_table("batch") as batch:
        batch.add_column(sa.Column("is_retired", sa.Boolean(), nullable=True))
    op.execute(sa.update(sa.table("batch", sa.column("is_retired"))).values(is_retired=sa.false()))
    with op.batch_alter_table("batch") as batch:
        batch.alter_column("is_retired", existing_type=sa.Boolean(), nullable=False)
