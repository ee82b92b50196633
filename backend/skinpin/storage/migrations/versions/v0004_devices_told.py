"""Devices: what each told last of itself; the first entry of every start is found quickly."""

import sqlalchemy as sa
from alembic import op
from skinpin.storage.types import Whole, Words

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("device", sa.Column("told", Words, nullable=True))
    op.add_column("device", sa.Column("told_at_ms", Whole, nullable=True))
    first = sa.text("n = 1")
    op.create_index("entry_first", "entry", ["device"], sqlite_where=first, postgresql_where=first)
