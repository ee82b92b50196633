"""The book: when an epoch was last drawn because a device held another log."""

import sqlalchemy as sa
from alembic import op
from skinpin.storage.types import Whole

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("book", sa.Column("epoch_drawn_ms", Whole, nullable=True))
