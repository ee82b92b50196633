"""What every service is handed: the book's database, files, clock and chance."""

import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, tzinfo
from typing import NamedTuple

from skinpin_sync.clock import new_writer
from sqlalchemy import Connection, Engine

from skinpin.imaging.renderer import Renderer
from skinpin.services.replays import Replays
from skinpin.storage.devices import Device
from skinpin.storage.engine import reading, snapshot, writing, writing_beside
from skinpin.storage.files_named import NamedFiles
from skinpin.storage.photograph_parts import PhotographParts
from skinpin.storage.photographs import PhotographFolder


def computer_ms() -> int:
    """Return the computer's time in ms of UTC."""
    return int(datetime.now(UTC).timestamp() * 1000)


Clock = Callable[[], int]


def pinned_clock(today: date | None, computer: Clock = computer_ms, zone: tzinfo = UTC) -> Clock:
    """Return a clock that runs on the given day of a time zone at the true time of day."""

    def now_ms() -> int:
        now = computer()
        if today is None:
            return now
        at = datetime.fromtimestamp(now // 1000, zone).timetz()
        return int(datetime.combine(today, at).timestamp()) * 1000 + now % 1000

    return now_ms


def pinned_shift(today: date | None, computer: Clock = computer_ms, zone: tzinfo = UTC) -> Clock:
    """Return by how much a clock pinned to a day is ahead of the computer's, in ms, each time."""
    pinned = pinned_clock(today, computer, zone)
    return lambda: pinned() - computer()


def no_shift() -> int:
    """Return that the clock is not pinned."""
    return 0


DAY_MS = 86_400_000


class LetIn(NamedTuple):
    """A device whose token was found good: when, and after how many writes."""

    device: Device
    at_ms: int
    writes: int


@dataclass
class Workshop:
    """One book at work: a unit of work is one `reading()` or `writing()` block."""

    engine: Engine
    folder: PhotographFolder
    renderer: Renderer
    now_ms: Clock = computer_ms
    random: Callable[[int], bytes] = secrets.token_bytes
    writer: str = ""
    shift_ms: Clock = no_shift
    files: NamedFiles = field(init=False)
    parts: PhotographParts = field(init=False)
    writes: int = 0
    let_in: dict[str, LetIn] = field(default_factory=dict)
    replays: Replays = field(default_factory=Replays)

    def __post_init__(self) -> None:
        self.files = NamedFiles(self.folder)
        self.parts = PhotographParts(self.folder)
        self.writer = self.writer or new_writer(self.random(8))

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a read transaction."""
        with reading(self.engine) as connection:
            yield connection

    @contextmanager
    def snapshot(self) -> Iterator[Connection]:
        """Open a read transaction that sees one moment of the book."""
        with snapshot(self.engine) as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Open a write transaction: committed at the end of the block, rolled back by an error."""
        with writing(self.engine) as connection:
            yield connection
        self.writes += 1

    @contextmanager
    def noting(self) -> Iterator[Connection]:
        """Open a write transaction for what changes nobody's rights, such as a file's arrival."""
        with writing(self.engine) as connection:
            yield connection

    @contextmanager
    def noting_beside(self) -> Iterator[Connection]:
        """Open such a transaction of one statement, for which no other writer is waited for."""
        with writing_beside(self.engine) as connection:
            yield connection

    def close(self) -> None:
        """Let go of the database, the decoder and what was replayed."""
        self.replays.close()
        self.renderer.close()
        self.engine.dispose()

    def new_id(self) -> str:
        """Draw a random id of 26 letters and digits, for a record, an act or a book."""
        number = int.from_bytes(self.random(16), "big")
        return "".join(ALPHABET[number >> 5 * place & 31] for place in range(26))

    def new_token(self) -> str:
        """Draw a secret of 256 bits as text."""
        return self.random(32).hex()


ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"
