"""Reports asked for: a table of them, so that several server processes make each once."""

import sqlalchemy as sa
from alembic import op
from skinpin.storage.types import Name, Whole, Words, YesNo

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "report_job",
        sa.Column("id", Name, primary_key=True),
        sa.Column("place", Whole, nullable=False),
        sa.Column("zone", Words, nullable=False),
        sa.Column("title", Words, nullable=False),
        sa.Column("airframe", Words, nullable=False),
        sa.Column("state", Name, nullable=False),
        sa.Column("asked_by", Words, nullable=False),
        sa.Column("asked_at", Name, nullable=False),
        sa.Column("claimed_by", Name, nullable=True),
        sa.Column("beat", Whole, nullable=False),
        sa.Column("to_end", YesNo, nullable=False),
        sa.Column("step", Words, nullable=True),
        sa.Column("told", Words, nullable=True),
        sqlite_strict=True,
    )
    op.create_index("report_job_state", "report_job", ["state"])
