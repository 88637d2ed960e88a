"""Takes the steps in the transaction that the program has begun; read by Alembic."""

from alembic import context

from toilewright.workroom.schema import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata, render_as_batch=True)
context.run_migrations()
