"""Hybrid logical clock: ids whose text order is the order in which a writer could know of them.

Kulkarni et al., "Logical Physical Clocks", OPODIS 2014. `receive` only remembers the greater
stamp; `tick` steps past it, so receiving twice changes nothing.
"""

import re
from typing import NamedTuple

MAX_MS = 10**13 - 1
MAX_COUNTER = 0xFFFF
MAX_AHEAD_MS = 300_000
ID_PATTERN = re.compile(r"([0-9]{13})-([0-9a-f]{4})-([0-9a-z]{8})")
LETTERS = "0123456789abcdefghijklmnopqrstuvwxyz"


class Clock(NamedTuple):
    """The last stamp a writer made or received."""

    writer: str
    last_ms: int
    counter: int


def new_writer(random_bytes: bytes) -> str:
    """Return a writer name, eight of 0-9a-z, from at least eight random bytes."""
    if len(random_bytes) < 8:
        raise ValueError(f"A writer needs 8 random bytes; {len(random_bytes)} were given.")
    number = int.from_bytes(random_bytes[:8], "big")
    return "".join(LETTERS[number // 36**place % 36] for place in range(8))


def new_clock(writer: str) -> Clock:
    """Return the clock of a writer that has stamped nothing yet."""
    return Clock(writer, 0, 0)


def encode(clock: Clock) -> str:
    """Return the stamp as text: 13 digits of ms, 4 of hex, the writer."""
    return f"{clock.last_ms:013d}-{clock.counter:04x}-{clock.writer}"


def decode(stamp: str) -> Clock:
    """Return the clock whose stamp this is."""
    found = ID_PATTERN.fullmatch(stamp)
    if not found:
        raise ValueError(f"{stamp!r} is no id; expected MMMMMMMMMMMMM-CCCC-writer.")
    return Clock(found[3], int(found[1]), int(found[2], 16))


def tick(clock: Clock, now_ms: int) -> tuple[Clock, str]:
    """Return the clock after one stamp, and the stamp: later than any made or received."""
    after = clock._replace(last_ms=now_ms, counter=0)
    if now_ms <= clock.last_ms:
        carry, counter = divmod(clock.counter + 1, MAX_COUNTER + 1)
        after = clock._replace(last_ms=clock.last_ms + carry, counter=counter)
    if after.last_ms > MAX_MS:
        raise ValueError(f"The clock stands at {after.last_ms} ms, past {MAX_MS}. Set the time.")
    return after, encode(after)


def receive(clock: Clock, stamp: str, now_ms: int) -> Clock:
    """Return the clock knowing of a stamp; one too far ahead of now never moves it."""
    _, ms, counter = decode(stamp)
    if ms > now_ms + MAX_AHEAD_MS or (ms, counter) <= (clock.last_ms, clock.counter):
        return clock
    return Clock(clock.writer, ms, counter)


def is_ahead(stamp: str, now_ms: int) -> bool:
    """Say whether a stamp lies too far in the future to be believed."""
    return decode(stamp).last_ms > now_ms + MAX_AHEAD_MS
