"""The tables of one book. The log is the truth; what is marked derived can be rebuilt."""

from typing import Any

from sqlalchemy import Index, Table, text
from sqlmodel import Field, SQLModel

from skinpin.storage.types import Name, Whole, Words, YesNo

_STRICT: dict[str, Any] = {"sqlite_strict": True}


def _name(**options: Any) -> Any:
    return Field(sa_type=Name, **options)


def _words(**options: Any) -> Any:
    return Field(sa_type=Words, **options)


def _whole(**options: Any) -> Any:
    return Field(sa_type=Whole, **options)


def _partial(title: str, column: str, where: str) -> Index:
    """Return an index over few rows, which costs the others nothing."""
    return Index(title, column, sqlite_where=text(where), postgresql_where=text(where))


class Book(SQLModel, table=True):
    """One row: the book, its epoch, and the counter that every push moves on."""

    __tablename__ = "book"
    __table_args__ = _STRICT
    key: int = Field(primary_key=True, sa_type=Whole, sa_column_kwargs={"autoincrement": False})
    id: str = _name()
    epoch: str = _name()
    seq: int = _whole()
    rules: str = _name()
    epoch_drawn_ms: int | None = _whole(nullable=True)


class LogEntry(SQLModel, table=True):
    """An entry as it came; verdict and its code are derived.

    An empty verdict stands for a capture: it counts and nothing is to be said of it.
    """

    __tablename__ = "entry"
    __table_args__ = (
        Index("entry_record", "record"),
        Index("entry_act", "act"),
        _partial("entry_held", "device", "code = 'leaver'"),
        _partial("entry_server", "seq", "device = 'server'"),
        _partial("entry_first", "device", "n = 1"),
        _STRICT,
    )
    seq: int = Field(primary_key=True, sa_type=Whole, sa_column_kwargs={"autoincrement": False})
    id: str = _name(unique=True)
    writer: str = _name()
    n: int = _whole()
    act: str = _name()
    record: str = _name()
    kind: str = _name()
    device: str = _name()
    line: str = _words()
    sha256: str = _name()
    received_at_ms: int = _whole()
    ahead: bool = Field(sa_type=YesNo)
    verdict: str = _words()
    code: str = _name()


class RefusedEntry(SQLModel, table=True):
    """What is left of a line refused at the door, so that chains can still be checked."""

    __tablename__ = "refused_entry"
    __table_args__ = _STRICT
    id: str = _name(primary_key=True)
    sha256: str = _name(primary_key=True)
    writer: str = _name(index=True)
    n: int = _whole()
    code: str = _name()
    received_at_ms: int = _whole()


class Named(SQLModel, table=True):
    """Derived: an id that the verdict on an entry rests on."""

    __tablename__ = "named"
    __table_args__ = (Index("named_entry", "entry"), _STRICT)
    id: str = _name(primary_key=True)
    entry: str = _name(primary_key=True)


class WithdrawnAct(SQLModel, table=True):
    """Derived: an act that a counting undo takes back."""

    __tablename__ = "withdrawn_act"
    __table_args__ = _STRICT
    writer: str = _name(primary_key=True)
    act: str = _name(primary_key=True)


class Awaited(SQLModel, table=True):
    """Derived: an id named in `seen` that is not here yet, and the record that names it."""

    __tablename__ = "awaited"
    __table_args__ = (Index("awaited_record", "record"), _STRICT)
    id: str = _name(primary_key=True)
    record: str = _name(primary_key=True)


class Record(SQLModel, table=True):
    """Derived: what stands of a record, by entry, as JSON."""

    __tablename__ = "record"
    __table_args__ = (Index("record_kind", "kind"), _STRICT)
    record: str = _name(primary_key=True)
    kind: str = _name()
    standing: str = _words()


class Link(SQLModel, table=True):
    """Derived: a record that names another in a standing value."""

    __tablename__ = "link"
    __table_args__ = (Index("link_to", "to_record"), _STRICT)
    record: str = _name(primary_key=True)
    field: str = _name(primary_key=True)
    to_record: str = _name(primary_key=True)


class DefectRow(SQLModel, table=True):
    """Derived: the row of a defect, and the columns that lists are asked by."""

    __tablename__ = "defect"
    __table_args__ = (
        Index("defect_number", "number"),
        Index("defect_zone", "airframe", "zone"),
        _STRICT,
    )
    record: str = _name(primary_key=True)
    airframe: str | None = _name(nullable=True)
    number: str | None = _name(nullable=True)
    state: str | None = _name(nullable=True)
    grade: int | None = _whole(nullable=True)
    zone: str | None = _name(nullable=True)
    kind: str | None = _name(nullable=True)
    stage: str | None = _words(nullable=True)
    row: str = _words()


class MissingFile(SQLModel, table=True):
    """Derived: a definition or standard that the row of a defect was made without."""

    __tablename__ = "missing_file"
    __table_args__ = (Index("missing_file_record", "record"), _STRICT)
    sha256: str = _name(primary_key=True)
    record: str = _name(primary_key=True)


class PhotographFile(SQLModel, table=True):
    """A file that lies whole in the photograph folder."""

    __tablename__ = "photograph_file"
    __table_args__ = _STRICT
    sha256: str = _name(primary_key=True)
    size_bytes: int = _whole()
    received_at_ms: int = _whole()


class Device(SQLModel, table=True):
    """An enrolled tablet or desk; its token is held hashed."""

    __tablename__ = "device"
    __table_args__ = _STRICT
    name: str = _name(primary_key=True)
    record: str = _name()
    letter: str | None = _name(nullable=True)
    token_sha256: str = _name(unique=True)
    enrolled_by: str = _name()
    enrolled_at_ms: int = _whole()
    last_seen_ms: int | None = _whole(nullable=True)
    unsent: int | None = _whole(nullable=True)
    told: str | None = _words(nullable=True)
    told_at_ms: int | None = _whole(nullable=True)


class PersonSecret(SQLModel, table=True):
    """What proves a person: never in the log."""

    __tablename__ = "person_secret"
    __table_args__ = _STRICT
    person: str = _name(primary_key=True)
    argon2: str = _words()
    salt: str = _name()
    iterations: int = _whole()
    check_value: str = _name()
    failures: int = _whole()
    wait_until_ms: int = _whole()


class SignIn(SQLModel, table=True):
    """A signed-in browser; its cookie is held hashed."""

    __tablename__ = "session"
    __table_args__ = _STRICT
    token_sha256: str = _name(primary_key=True)
    person: str = _name()
    expires_at_ms: int = _whole()


class EnrolmentCode(SQLModel, table=True):
    """A code that enrols one tablet once."""

    __tablename__ = "enrolment_code"
    __table_args__ = _STRICT
    code_sha256: str = _name(primary_key=True)
    by: str = _name()
    expires_at_ms: int = _whole()
    used_by: str | None = _name(nullable=True)


class ReportJob(SQLModel, table=True):
    """A report that was asked for; `claimed_by` is the server process that makes it.

    `beat` is counted on while it is being made: one that stands still was left. `told` is JSON of
    what the report is, or of its trouble; `step` is JSON of how far it is.
    """

    __tablename__ = "report_job"
    __table_args__ = (Index("report_job_state", "state"), _STRICT)
    id: str = _name(primary_key=True)
    place: int = _whole()
    zone: str = _words()
    title: str = _words()
    airframe: str = _words()
    state: str = _name()
    asked_by: str = _words()
    asked_at: str = _name()
    claimed_by: str | None = _name(nullable=True)
    beat: int = _whole()
    to_end: bool = Field(sa_type=YesNo)
    step: str | None = _words(nullable=True)
    told: str | None = _words(nullable=True)


def _table(model: type[SQLModel]) -> Table:
    return SQLModel.metadata.tables[str(model.__tablename__)]


book = _table(Book)
entry = _table(LogEntry)
refused_entry = _table(RefusedEntry)
named = _table(Named)
withdrawn_act = _table(WithdrawnAct)
awaited = _table(Awaited)
record = _table(Record)
link = _table(Link)
defect = _table(DefectRow)
missing_file = _table(MissingFile)
photograph_file = _table(PhotographFile)
device = _table(Device)
person_secret = _table(PersonSecret)
session = _table(SignIn)
enrolment_code = _table(EnrolmentCode)
report_job = _table(ReportJob)
