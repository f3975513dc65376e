"""Runs the steps on the open engine; batch mode lets SQLite rebuild a table."""

from alembic import context

from tiles.records.models import ClayBody

with context.config.attributes["engine"].connect() as connection:
    context.configure(
        connection=connection, target_metadata=ClayBody.metadata, render_as_batch=True
    )
    with context.begin_transaction():
        context.run_migrations()
