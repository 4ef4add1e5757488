"""Runs the numbered migrations on the connection that the program hands over, inside its one transaction.

Rules: each file does one thing, imports nothing of the program, and is never edited once it was given out.
Projections are not migrated; they are rebuilt from the log.
"""

from alembic import context

context.configure(connection=context.config.attributes["connection"], target_metadata=None)
with context.begin_transaction():
    context.run_migrations()
