"""Run by Alembic: the migrations on the connection that the store hands over, or on the address in alembic's settings."""

from __future__ import annotations

from alembic import context

from wallwright.studio.schema import TABLES

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=TABLES)
with context.begin_transaction():
    context.run_migrations()
