"""The book as at a date: what stood over the entries that had come by the end of that day."""

from collections.abc import Collection, Hashable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, time, timedelta
from pathlib import Path

from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.services.replays import Made
from skinpin.services.workday import wall_time, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.migrate import migrate
from skinpin.storage.photograph_index import files_here
from skinpin.storage.replay import lacking, position, replay


@contextmanager
def as_at(workshop: Workshop, day: str) -> Iterator[Workshop]:
    """Open the book as it stood at the end of a day of the workshop; empty: as it stands now.

    It is made by replay into a database of its own: nothing of the book is touched, and whoever
    asks with the same day and the same entries gets the same. A few are kept until others are
    asked for; what comes into the book for that day makes another.

    Raises
    ------
    Refused
        If the day is none, is still to come, or lies before the first entry; or too many wait.
    """
    if not day:
        yield workshop
        return
    with workshop.snapshot() as source:
        end_ms = _end_ms(workshop, source, day)

    # Whoever waits for the one that makes holds no moment of the book open.
    def ask_key() -> Hashable:
        with workshop.snapshot() as source:
            return day, end_ms, position(source, end_ms)

    def came(sha256s: Collection[str]) -> Collection[str]:
        with workshop.reading() as connection:
            return files_here(connection, sha256s)

    made = workshop.replays.take(ask_key, lambda at: _replayed(workshop, day, end_ms, at), came)
    try:
        yield Workshop(
            made.engine, workshop.folder, workshop.renderer, lambda: end_ms, workshop.random
        )
    finally:
        workshop.replays.give_back(made)


def _end_ms(workshop: Workshop, source: Connection, day: str) -> int:
    """Return the last moment of a day, or refuse one that is still to come."""
    zone = workshop_zone(source)
    asked, today = _read(day), wall_time(workshop.now_ms(), zone)[:10]
    if day > today:
        raise Refused(
            "not_a_date", f"{day} is still to come; today is {today}.", "Give a day that was."
        )
    end = datetime.combine(asked + timedelta(days=1), time(), zone)
    return int(end.timestamp() * 1000) - 1


def _replayed(workshop: Workshop, day: str, end_ms: int, at: Path) -> Made:
    """Make the book of a day in a folder."""
    engine = open_engine(f"sqlite:///{at / 'as-at.sqlite'}")
    try:
        migrate(engine)
        with workshop.snapshot() as source, writing(engine) as target:
            key = (day, end_ms, position(source, end_ms))
            if replay(source, target, end_ms, workshop.files) == 0:
                raise Refused(
                    "not_a_date",
                    f"Nothing had come into this book by {day_words(day)}.",
                    "Give a later day.",
                )
            return Made(key, engine, lacking(target))
    except BaseException:
        engine.dispose()
        raise


def day_words(day: str) -> str:
    """Return a date as it is said.

    >>> day_words("2025-10-01")
    '1 October 2025'
    """
    read = date.fromisoformat(day)
    return f"{read.day} {MONTHS[read.month - 1]} {read.year}"


MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July", "August"),
    *("September", "October", "November", "December"),
)


def _read(day: str) -> date:
    try:
        read = date.fromisoformat(day)
        if read.isoformat() != day:
            raise ValueError("another form")
    except ValueError as error:
        raise Refused(
            "not_a_date", f"'{day[:20]}' is no date.", "Write it as 2025-10-01."
        ) from error
    return read
