"""Which numbers of each letter are in the book, and which tablets were written as by two."""

from collections import defaultdict
from typing import NamedTuple

import orjson
from skinpin_sync.entry import from_line
from sqlalchemy import Connection, select

from skinpin.domain.errors import Refused
from skinpin.domain.numbers import read_number
from skinpin.storage.tables import defect, entry


class Given(NamedTuple):
    """Numbers of one letter: the states of the records that bear each, and those given up."""

    borne: dict[int, list[str | None]]
    given_up: set[int]


def numbers_given(connection: Connection) -> dict[str, Given]:
    """Return by letter which numbers records bear now, and which they bore before."""
    found: dict[str, Given] = defaultdict(lambda: Given({}, set()))
    asked = select(defect.c.number, defect.c.state).where(defect.c.number.is_not(None))
    for number, state in connection.execute(asked):
        if read := _read(number):
            letter, serial = read
            found[letter].borne.setdefault(serial, []).append(state)
    for letter, serial in _given_up(connection):
        found[letter].given_up.add(serial)
    return dict(found)


def _given_up(connection: Connection) -> list[tuple[str, int]]:
    had = defect.c.row.contains('"also_numbers":["', autoescape=True)
    rows = connection.scalars(select(defect.c.row).where(had))
    numbers = [number for row in rows for number in orjson.loads(row)["also_numbers"]]
    return [read for number in numbers if (read := _read(number))]


def _read(number: str) -> tuple[str, int] | None:
    try:
        return read_number(number)
    except Refused:
        return None


def devices_forked(connection: Connection) -> set[str]:
    """Return the devices of which two starts go on from one and the same entry.

    Two pages of a tablet at once do that, and two copies of one tablet.
    """
    firsts: dict[tuple[str, str], int] = defaultdict(int)
    for device, line in connection.execute(
        select(entry.c.device, entry.c.line).where(entry.c.n == 1)
    ):
        before = from_line(line.encode()).prev
        if before is not None:
            firsts[device, before] += 1
    return {device for (device, _), count in firsts.items() if count > 1}
