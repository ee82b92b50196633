"""Signing in and out."""

from typing import NamedTuple

from skinpin.domain.errors import Refused
from skinpin.services.passcodes import is_passcode, wait_after_s
from skinpin.services.people import Person, find_person, need_role
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.secrets import (
    Secret,
    close_session,
    count_failure,
    find_secret,
    forget_expired,
    open_session,
    session_person,
)

SESSION_MS = 12 * 3600 * 1000


class SignedIn(NamedTuple):
    """A fresh session: its token for the cookie, and who it is."""

    token: str
    person: Person


def sign_in(workshop: Workshop, person: str, passcode: str) -> SignedIn:
    """Open a session, or refuse; wrong tries are slowed down, never locked out for good.

    Somebody without a role is refused even with the right passcode.
    """
    secret = _count_try(workshop, person)
    if not is_passcode(secret, passcode):
        raise Refused(
            "wrong_passcode",
            "The passcode is not right.",
            "Try again, or ask a lead for a new one.",
        )
    return _open(workshop, person)


def sign_out(workshop: Workshop, token: str) -> None:
    """End a session."""
    with workshop.writing() as connection:
        close_session(connection, token)


def who_is(workshop: Workshop, token: str) -> Person | None:
    """Return who is signed in with a session token; nobody once the role is withdrawn."""
    with workshop.reading() as connection:
        person = session_person(connection, token, workshop.now_ms())
        if person is None:
            return None
        found = find_person(connection, person, workshop_day(workshop, connection))
    return found if found and found.role else None


def _count_try(workshop: Workshop, person: str) -> Secret | None:
    """Count the try before it is made, so that many at once gain nothing."""
    now_ms = workshop.now_ms()
    with workshop.writing() as connection:
        secret = find_secret(connection, person)
        if secret is None:
            return None
        wait_ms = secret.wait_until_ms - now_ms
        # A clock set back must not lock anybody out for longer than the wait.
        if 0 < wait_ms <= wait_after_s(secret.failures) * 1000:
            raise Refused(
                "wait",
                f"{secret.failures} wrong tries in a row: wait {-(-wait_ms // 1000)} s.",
                "Wait and try again.",
            )
        failures = secret.failures + 1
        wait_until_ms = now_ms + wait_after_s(failures) * 1000
        count_failure(connection, person, failures, wait_until_ms)
    return secret


def _open(workshop: Workshop, person: str) -> SignedIn:
    token, now_ms = workshop.new_token(), workshop.now_ms()
    with workshop.writing() as connection:
        found = need_role(connection, person, workshop_day(workshop, connection))
        count_failure(connection, person, 0, 0)
        forget_expired(connection, now_ms)
        open_session(connection, token, person, now_ms + SESSION_MS)
    return SignedIn(token, found)
