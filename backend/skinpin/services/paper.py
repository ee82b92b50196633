"""Records from paper: entered one by one at a desk, or an earlier register read in as a whole.

Whoever types is the author; who found it, and when, stands beside it in `paper`.
"""

import csv
import hashlib
import io
from collections.abc import Mapping, Sequence
from math import inf
from time import monotonic, sleep
from typing import Any, NamedTuple
from unicodedata import normalize

import orjson
from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values, seen_for
from sqlalchemy import Connection

from skinpin.domain.errors import Refused
from skinpin.domain.moves import fields_to_see
from skinpin.domain.numbers import next_letter, read_number, write_number
from skinpin.domain.paper import COLUMNS, PaperLine, Trouble, read_line
from skinpin.domain.permissions import may_move
from skinpin.services.airframes import Airframe, find_airframe, last_value
from skinpin.services.enrolment import letters_given
from skinpin.services.people import Person, need_role
from skinpin.services.push import write_act_here
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import ALPHABET, Workshop
from skinpin.storage.defects import numbers_given
from skinpin.storage.records import find_records, records_of_kind

MOST_BYTES, MOST_LINES = 2 * 1024 * 1024, 5000
BUSY_S, PAUSE_S, MOST_AT_ONCE = 0.4, 0.12, 200
"""Lines are stored for so long, then others write; SQLite looks ten times a second for its turn."""
NO_PHOTOGRAPH = "entered from paper"


class LineTrouble(NamedTuple):
    """What is wrong in one line of a file; line 1 has the headings."""

    line: int
    column: str
    message: str


class Imported(NamedTuple):
    """What became of a register; with troubles nothing was stored.

    `here` were in the book before; `left` are stored when the same register is read in again.
    """

    records: int
    stored: int
    here: int
    left: int
    numbers: list[str]
    troubles: list[LineTrouble]


class _Wanted(NamedTuple):
    record: str
    read: PaperLine
    sha256: str


def enter(
    workshop: Workshop, by: str, typed: Mapping[str, str], airframe: str = ""
) -> dict[str, Any]:
    """Store one record from a form, or return the troubles of its columns with nothing stored."""
    with workshop.writing() as connection:
        desk = _Desk(workshop, connection, by, airframe)
        read, troubles = read_line(_plain(typed), desk.airframe.definition, desk.today)
        if not troubles:
            wanted = desk.wanted(typed, read)
            held = desk.held([wanted])
            if wanted.record in held:
                number = held[wanted.record][0]
                troubles = [
                    Trouble("paper_number", f"This number is in the book as {number} already.")
                ]
            else:
                return {"number": desk.write(wanted), "troubles": []}
    return {"number": None, "troubles": [one._asdict() for one in troubles]}


def import_register(
    workshop: Workshop,
    by: str,
    content: bytes,
    airframe: str = "",
    register: str = "",
    for_s: float = inf,
) -> Imported:
    """Store every line of a register that is not in the book yet, or nothing where one is faulty.

    A line is known again by the number on the paper, the register and the airframe; with other
    words than before it is a trouble, not a second record. Every line is judged before the first
    is stored; they are stored some at a time, so that others write meanwhile. After a stop, or
    where `for_s` seconds were not enough, the same register read in again stores what lacks, each
    line once.
    """
    lines, troubles = read_register(content)
    with workshop.snapshot() as connection:
        desk = _Desk(workshop, connection, by, airframe, register)
        wanted, held = _judged(desk, lines, troubles)
    if troubles:
        return Imported(len(lines), 0, 0, 0, [], sorted(troubles))
    rest, numbers = [one for one in wanted if one.record not in held], list[str]()
    until_s = monotonic() + for_s
    while rest and monotonic() < until_s:
        with workshop.writing() as connection:
            desk = _Desk(workshop, connection, by, airframe, register)
            rest = _store_some(desk, rest, numbers)
        if rest:
            sleep(PAUSE_S)
    here = len(wanted) - len(numbers) - len(rest)
    return Imported(len(lines), len(numbers), here, len(rest), numbers, [])


def _judged(
    desk: "_Desk", lines: list[tuple[int, dict[str, str]]], troubles: list[LineTrouble]
) -> tuple[list[_Wanted], dict[str, tuple[str, str]]]:
    """Return what the lines want stored and what of it is here; adds what is wrong with them."""
    wanted: dict[str, tuple[int, _Wanted]] = {}
    for at, typed in lines:
        read, found = read_line(typed, desk.airframe.definition, desk.today)
        troubles += [LineTrouble(at, *one) for one in found]
        one = desk.wanted(typed, read)
        if one.record in wanted and read.paper["number"]:
            first = wanted[one.record][0]
            said = f"The number {read.paper['number'][:40]} stands in line {first} too."
            troubles.append(LineTrouble(at, "paper_number", said))
        wanted.setdefault(one.record, (at, one))
    held = desk.held([one for _, one in wanted.values()])
    for at, one in wanted.values():
        number, sha256 = held.get(one.record, ("", one.sha256))
        if sha256 != one.sha256:
            said = f"This number is in the book as {number}, with other words."
            troubles.append(LineTrouble(at, "paper_number", said))
    return [one for _, one in wanted.values()], held


def _store_some(desk: "_Desk", wanted: list[_Wanted], numbers: list[str]) -> list[_Wanted]:
    """Store the first lines, for as long as others may wait; return the rest."""
    until_s, some = monotonic() + BUSY_S, wanted[:MOST_AT_ONCE]
    held = desk.held(some)  # another may have read the same register in meanwhile
    for at, one in enumerate(some):
        number, sha256 = held.get(one.record, ("", one.sha256))
        if sha256 != one.sha256:
            raise Refused(
                "not_open",
                f"{number} came into the book meanwhile, with other words than this register has.",
                "What is stored stays. Read the register in again to see which line it is.",
            )
        if not number:
            numbers.append(desk.write(one))
        if monotonic() > until_s:
            return wanted[at + 1 :]
    return wanted[len(some) :]


def read_register(content: bytes) -> tuple[list[tuple[int, dict[str, str]]], list[LineTrouble]]:
    """Return the lines of a CSV file by heading, each with its number, and what can't be read."""
    if len(content) > MOST_BYTES:
        raise Refused(
            "too_large", f"The file has {len(content)} bytes; the limit is 2 MB.", "Split it."
        )
    try:
        text = normalize("NFC", content.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise Refused("wrong_shape", f"The file is not written in UTF-8 (byte {error.start}).",
                      "Save it as CSV, UTF-8.") from error  # fmt: skip
    head = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=head.count)
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error as error:
        raise Refused(
            "wrong_shape", f"The file can't be read as CSV: {error}.", "Save it anew."
        ) from error
    if not rows or len(rows) > MOST_LINES + 1:
        raise Refused(
            "too_large", f"The file has {len(rows)} lines; 2 to {MOST_LINES + 1} are read.", ""
        )
    return _lines_of(rows)


def _lines_of(rows: list[list[str]]) -> tuple[list[tuple[int, dict[str, str]]], list[LineTrouble]]:
    names = [name.strip().casefold().replace(" ", "_") for name in rows[0]]
    troubles = _heading_troubles(names)
    lines = []
    for at, row in enumerate(rows[1:], 2):
        if not any(cell.strip() for cell in row):
            continue
        if len(row) != len(names):
            said = f"The line has {len(row)} cells; the headings have {len(names)}."
            troubles.append(LineTrouble(at, "", said))
        lines.append((at, dict(zip(names, row, strict=False))))
    return ([] if troubles else lines), troubles


def _heading_troubles(names: Sequence[str]) -> list[LineTrouble]:
    known = {one.name for one in COLUMNS}
    odd = [name for name in names if name not in known]
    twice = sorted({name for name in names if names.count(name) > 1})
    lacking = [one.name for one in COLUMNS if one.needed and one.name not in names]
    said = [(name, "The heading is none of a register.") for name in odd]
    said += [(name, "The heading is there twice.") for name in twice]
    said += [(name, "The column is missing.") for name in lacking]
    return [LineTrouble(1, name[:40], words) for name, words in said]


class _Desk:
    """A desk at which somebody types, inside one write transaction."""

    def __init__(
        self, workshop: Workshop, connection: Connection, by: str, airframe: str, register: str = ""
    ) -> None:
        self.workshop, self.connection, self.register = workshop, connection, register
        self.today = workshop_day(workshop, connection)
        self.person: Person = need_role(connection, by, self.today)
        role = self.person.role or ""
        if not (may_move(role, "new") and may_move(role, "raise")):
            raise Refused(
                "not_allowed",
                f"A {role.replace('_', ' ')} begins no record.",
                "An inspector, a lead or a fitter does.",
            )
        self.airframe: Airframe = find_airframe(workshop, connection, airframe)
        self.standard = _standard_pin(workshop, connection)
        self._letter: str | None = None
        self._last = 0

    def wanted(self, typed: Mapping[str, str], read: PaperLine) -> _Wanted:
        """Return a line under the id that the same line would have again."""
        words = ["paper", self.airframe.record, self.register, read.paper["number"]]
        number = int.from_bytes(hashlib.sha256("\n".join(words).encode()).digest()[:16], "big")
        record = "".join(ALPHABET[number >> 5 * place & 31] for place in range(26))
        plain = {name: text for name, text in sorted(_plain(typed).items()) if text}
        return _Wanted(record, read, hashlib.sha256(orjson.dumps(plain)).hexdigest())

    def held(self, wanted: Sequence[_Wanted]) -> dict[str, tuple[str, str]]:
        """Return number and hash of those lines that are in the book."""
        found = find_records(self.connection, [one.record for one in wanted])
        told = {}
        for record, one in found.items():
            paper = last_value(one.standing, "paper")
            sha256 = paper.get("sha256", "") if isinstance(paper, dict) else ""
            told[record] = (str(last_value(one.standing, "number") or record), str(sha256))
        return told

    def write(self, one: _Wanted) -> str:
        """Write a record as two acts, begun and raised, and return its number."""
        number = self._next_number()
        pin = {"standard": self.standard} if self.standard else {}
        found = {**one.read.fields, **pin, "number": number, "airframe": self.airframe.record}
        found |= {"no_photograph": NO_PHOTOGRAPH, "state": {"move": "new", "to": "Draft"}}
        relies = [self.person.role_entry] if self.person.role_entry else []
        self._act(Draft(one.record, "defect", found, relies=relies))
        standing = find_records(self.connection, [one.record])[one.record].standing
        seen = seen_for(standing, list(fields_to_see("raise")))
        told = {key: value for key, value in one.read.paper.items() if value}
        if self.register:
            told["register"] = self.register
        raised = {
            "state": {"move": "raise", "to": "Raised"},
            "paper": told | {"sha256": one.sha256},
        }
        self._act(Draft(one.record, "defect", raised, seen, relies))
        return number

    def _act(self, draft: Draft) -> None:
        write_act_here(self.workshop, self.connection, self.person.person, [draft])

    def _next_number(self) -> str:
        if self._letter is None:
            self._letter = _paper_letter(self.workshop, self.connection, self.person)
            given = [read_number(one) for one in numbers_given(self.connection, self._letter)]
            self._last = max((serial for _, serial in given), default=0)
        self._last += 1
        return write_number(self._letter, self._last)


def _paper_letter(workshop: Workshop, connection: Connection, person: Person) -> str:
    """Return the letter of records from paper: given once, never to a tablet."""
    for one in records_of_kind(connection, "tablet"):
        if True in field_values(one.standing, "paper").values():
            return str(last_value(one.standing, "letter"))
    letter = next_letter(letters_given(connection))
    values = {"letter": letter, "paper": True}
    draft = Draft(workshop.new_id(), "tablet", values, relies=[person.role_entry or ""])
    write_act_here(workshop, connection, person.person, [draft])
    return letter


def _standard_pin(workshop: Workshop, connection: Connection) -> dict[str, str] | None:
    found = [
        (max(one.standing.values), one)
        for one in records_of_kind(connection, "standard")
        if workshop.files.find(str(last_value(one.standing, "sha256")))
    ]
    if not found:
        return None
    _, one = max(found, key=lambda each: each[0])
    return {name: str(last_value(one.standing, name)) for name in ("name", "issue", "sha256")}


def _plain(typed: Mapping[str, str]) -> dict[str, str]:
    return {one.name: normalize("NFC", str(typed.get(one.name, "")).strip()) for one in COLUMNS}
