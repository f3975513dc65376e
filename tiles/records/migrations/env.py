"""Runs the steps in the open transaction; batch mode lets SQLite rebuild a table."""

from alembic import context

from tiles.records.models import ClayBody

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=ClayBody.metadata,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
