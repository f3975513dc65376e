"""What something was called before it was renamed, or merged into another, is remembered."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade():
    """Add the table."""
    op.create_table(
        "former_name",
        sa.Column("former_name_id", sa.Integer(), nullable=False),
        sa.Column("noun", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("called", sa.String(), nullable=False),
        sa.Column("since", sa.Date(), nullable=False),
        sa.PrimaryKeyConstraint("former_name_id", name=op.f("pk_former_name")),
    )
