"""Runs the migrations on the connection it is handed."""

from alembic import context

context.configure(
    connection=context.config.attributes["connection"],
    render_as_batch=True,
    transactional_ddl=False,
)
context.run_migrations()
