"""Devices: when they were last seen, and what waited on them."""

import sqlalchemy as sa
from alembic import op
from skinpin.storage.types import Whole

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    for column in ("last_seen_ms", "unsent"):
        op.add_column("device", sa.Column(column, Whole, nullable=True))
