"""What proves people, and codes that enrol; secrets lie here hashed and never in the log."""

import hashlib
from typing import NamedTuple

from sqlalchemy import Connection, delete, insert, select, update

from skinpin.storage.many import upsert_rows
from skinpin.storage.tables import enrolment_code, person_secret, session


def token_sha256(token: str) -> str:
    """Return what is kept of a token; it has chance enough to need no salt."""
    return hashlib.sha256(token.encode()).hexdigest()


class Secret(NamedTuple):
    """How a person's passcode is proven here (argon2) and on a tablet (the check value)."""

    person: str
    argon2: str
    salt: str
    iterations: int
    check_value: str
    failures: int = 0
    wait_until_ms: int = 0


def find_secret(connection: Connection, person: str) -> Secret | None:
    """Return the secret of a person, if a passcode was set."""
    row = connection.execute(select(person_secret).where(person_secret.c.person == person)).first()
    return Secret(*row) if row else None


def list_secrets(connection: Connection) -> dict[str, Secret]:
    """Return all secrets by person."""
    return {row.person: Secret(*row) for row in connection.execute(select(person_secret))}


def keep_secret(connection: Connection, secret: Secret) -> None:
    """Set or replace a person's secret."""
    upsert_rows(connection, person_secret, [secret])


def count_failure(connection: Connection, person: str, failures: int, wait_until_ms: int) -> None:
    """Note tries with a wrong passcode, and until when the next has to wait."""
    statement = update(person_secret).where(person_secret.c.person == person)
    connection.execute(statement.values(failures=failures, wait_until_ms=wait_until_ms))


def open_session(connection: Connection, token: str, person: str, expires_at_ms: int) -> None:
    """Keep a signed-in browser."""
    row = {"person": person, "expires_at_ms": expires_at_ms}
    connection.execute(insert(session).values(token_sha256=token_sha256(token), **row))


def session_person(connection: Connection, token: str, now_ms: int) -> str | None:
    """Return who is signed in with a token."""
    held = session.c.token_sha256 == token_sha256(token)
    return connection.scalar(select(session.c.person).where(held, session.c.expires_at_ms > now_ms))


def close_session(connection: Connection, token: str) -> None:
    """Forget a signed-in browser."""
    connection.execute(delete(session).where(session.c.token_sha256 == token_sha256(token)))


def close_sessions_of(connection: Connection, person: str) -> None:
    """Forget every browser of a person, as after a change of passcode."""
    connection.execute(delete(session).where(session.c.person == person))


def forget_expired(connection: Connection, now_ms: int) -> None:
    """Forget sessions and codes whose time is over."""
    connection.execute(delete(session).where(session.c.expires_at_ms <= now_ms))
    is_open = enrolment_code.c.used_by.is_(None)
    connection.execute(
        delete(enrolment_code).where(is_open, enrolment_code.c.expires_at_ms <= now_ms)
    )


def keep_code(connection: Connection, code: str, by: str, expires_at_ms: int) -> None:
    """Keep a code that enrols one tablet."""
    row = {"by": by, "expires_at_ms": expires_at_ms, "used_by": None}
    connection.execute(insert(enrolment_code).values(code_sha256=token_sha256(code), **row))


def use_code(connection: Connection, code: str, used_by: str, now_ms: int) -> str | None:
    """Use a code up and return who gave it out; None if it is wrong, used or too old."""
    is_code = enrolment_code.c.code_sha256 == token_sha256(code)
    is_open = is_code & enrolment_code.c.used_by.is_(None)
    used = update(enrolment_code).where(is_open, enrolment_code.c.expires_at_ms > now_ms)
    given = used.values(used_by=used_by).returning(enrolment_code.c.by)
    by: str | None = connection.scalar(given)
    return by
