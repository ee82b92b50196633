"""The book: log, derived tables, photographs, devices, people."""

from typing import Any

import sqlalchemy as sa
from alembic import op
from skinpin.storage.types import Name, Whole, Words, YesNo

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def name(column: str, **options: Any) -> sa.Column[Any]:
    return sa.Column(column, Name, **{"nullable": False, **options})


def words(column: str, **options: Any) -> sa.Column[Any]:
    return sa.Column(column, Words, **{"nullable": False, **options})


def whole(column: str, **options: Any) -> sa.Column[Any]:
    return sa.Column(column, Whole, **{"nullable": False, **options})


def key(column: str) -> sa.Column[Any]:
    return name(column, primary_key=True)


def counter(column: str) -> sa.Column[Any]:
    return whole(column, primary_key=True, autoincrement=False)


def table(title: str, *columns: sa.Column[Any]) -> None:
    op.create_table(title, *columns, sqlite_strict=True)


def partial(title: str, columns: list[str], where: str) -> None:
    condition = sa.text(where)
    op.create_index(title, "entry", columns, sqlite_where=condition, postgresql_where=condition)


def upgrade() -> None:
    log()
    derived()
    people()


def log() -> None:
    table("book", counter("key"), name("id"), name("epoch"), whole("seq"), name("rules"))
    table(
        "entry",
        counter("seq"),
        name("id", unique=True),
        name("writer"),
        whole("n"),
        name("act"),
        name("record"),
        name("kind"),
        name("device"),
        words("line"),
        name("sha256"),
        whole("received_at_ms"),
        sa.Column("ahead", YesNo, nullable=False),
        words("verdict"),
        name("code"),
    )
    op.create_index("entry_record", "entry", ["record"])
    op.create_index("entry_act", "entry", ["act"])
    partial("entry_held", ["device"], "code = 'leaver'")
    partial("entry_server", ["seq"], "device = 'server'")
    table(
        "refused_entry",
        key("id"),
        key("sha256"),
        name("writer"),
        whole("n"),
        name("code"),
        whole("received_at_ms"),
    )
    op.create_index("ix_refused_entry_writer", "refused_entry", ["writer"])


def derived() -> None:
    table("named", key("id"), key("entry"))
    op.create_index("named_entry", "named", ["entry"])
    table("withdrawn_act", key("writer"), key("act"))
    table("awaited", key("id"), key("record"))
    op.create_index("awaited_record", "awaited", ["record"])
    table("record", key("record"), name("kind"), words("standing"))
    op.create_index("record_kind", "record", ["kind"])
    table("link", key("record"), key("field"), key("to_record"))
    op.create_index("link_to", "link", ["to_record"])
    table(
        "defect",
        key("record"),
        name("airframe", nullable=True),
        name("number", nullable=True),
        name("state", nullable=True),
        whole("grade", nullable=True),
        name("zone", nullable=True),
        name("kind", nullable=True),
        words("stage", nullable=True),
        words("row"),
    )
    op.create_index("defect_number", "defect", ["number"])
    op.create_index("defect_zone", "defect", ["airframe", "zone"])
    table("missing_file", key("sha256"), key("record"))
    op.create_index("missing_file_record", "missing_file", ["record"])
    table("photograph_file", key("sha256"), whole("size_bytes"), whole("received_at_ms"))


def people() -> None:
    table(
        "device",
        key("name"),
        name("record"),
        name("letter", nullable=True),
        name("token_sha256", unique=True),
        name("enrolled_by"),
        whole("enrolled_at_ms"),
    )
    table(
        "person_secret",
        key("person"),
        words("argon2"),
        name("salt"),
        whole("iterations"),
        name("check_value"),
        whole("failures"),
        whole("wait_until_ms"),
    )
    table("session", key("token_sha256"), name("person"), whole("expires_at_ms"))
    table(
        "enrolment_code",
        key("code_sha256"),
        name("by"),
        whole("expires_at_ms"),
        name("used_by", nullable=True),
    )
