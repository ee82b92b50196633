"""A workshop in a temporary folder, and tablets that write into it."""

import base64
import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import orjson
from cryptography.hazmat.primitives.asymmetric import ec
from skinpin.imaging.renderer import Renderer
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import push, write_act_here
from skinpin.services.set_up import FirstPages, NewBook, set_up_book
from skinpin.services.workshop import Workshop
from skinpin.storage.engine import open_engine
from skinpin.storage.files import FileLayer
from skinpin.storage.migrate import migrate
from skinpin.storage.photographs import PhotographFolder
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import new_clock
from skinpin_sync.entry import Entry, to_line
from sqlalchemy import text

from tests.second_database import second_database

NOW_MS = 1_762_157_730_250
PASSCODE = "471108"
WALL = "2025-11-03T08:15:30+00:00"
DEFINITION = {
    "name": "Marram",
    "constructor": "2603",
    "issue": "1",
    "unit": "in",
    "structures": [
        {
            "name": "Hull",
            "axis": "Sta",
            "unit": "in",
            "datum": "stem",
            "positive": "aft",
            "hands": ["P", "S", "C"],
            "members": [
                {"name": f"F{at}", "kind": "frame", "station": str(at * 24), "main": at % 2 == 0}
                for at in range(1, 9)
            ],
            "strakes": ["K", "B1", "B2", "B3", "C"],
            "plating": [
                {
                    "strakes": [0, 4],
                    "thickness": "0.064",
                    "part": "bottom plating",
                    "material": "AL",
                }
            ],
            "faces": ["inner", "outer"],
        }
    ],
    "zones": [
        {
            "zone": zone,
            "title": f"Hull {hand}",
            "structure": "Hull",
            "hand": hand,
            "along": [None, None],
            "strakes": None,
        }
        for zone, hand in (("111", "P"), ("112", "S"), ("110", "C"))
    ],
    "views": [],
}


class SteppingClock:
    """Goes on by one ms at every look."""

    def __init__(self, now_ms: int = NOW_MS) -> None:
        self.now_ms = now_ms

    def __call__(self) -> int:
        self.now_ms += 1
        return self.now_ms


def open_bench(
    folder: Path, address: str = "", layer: FileLayer | None = None, seed: int = 1
) -> Workshop:
    """Open a workshop with a clock and chance that repeat themselves."""
    folder.mkdir(parents=True, exist_ok=True)
    engine = open_engine(address or usual_address(folder))
    migrate(engine)
    photographs = PhotographFolder(folder / "photographs", layer)
    chance = random.Random(seed)
    return Workshop(engine, photographs, Renderer(), SteppingClock(), chance.randbytes)


def usual_address(folder: Path) -> str:
    """Return where a book in a folder lies: a SQLite file, or what `SECOND_DATABASE` names."""
    return second_database(folder) or f"sqlite:///{folder / 'book.sqlite'}"


def pages(**changes: Any) -> FirstPages:
    """Return what the first screen would send."""
    given: dict[str, Any] = {
        "workshop": "Quay Shed",
        "time_zone": "Europe/London",
        "unit": "in",
        "lead_name": "Lead One",
        "passcode": PASSCODE,
        "stamp_number": "01",
        "definition": orjson.dumps(DEFINITION),
    }
    return FirstPages(**given | changes)


def new_key() -> dict[str, str]:
    """Return a fresh P-256 public key as a browser exports it."""
    numbers = ec.generate_private_key(ec.SECP256R1()).public_key().public_numbers()
    x, y = (
        base64.urlsafe_b64encode(value.to_bytes(32, "big")).rstrip(b"=").decode()
        for value in (numbers.x, numbers.y)
    )
    return {"kty": "EC", "crv": "P-256", "x": x, "y": y}


@dataclass
class Tablet:
    """A device that writes acts and keeps its lines."""

    name: str
    token: str
    book: str
    by: str
    role_entry: str
    writer: str = "tableta1"
    chain: Chain = field(init=False)
    now_ms: int = NOW_MS
    wall: str = WALL
    acts: int = 0

    def __post_init__(self) -> None:
        self.chain = Chain(new_clock(self.writer), 0, None)

    def write(self, *drafts: Draft) -> list[tuple[Entry, bytes]]:
        """Write one act."""
        self.now_ms += 1000
        self.acts += 1
        self.chain, written = write_act(
            self.chain,
            self.now_ms,
            drafts,
            act=f"act-{self.writer}-{self.acts}",
            by=self.by,
            device=self.name,
            wall=self.wall,
            schema=1,
        )
        return written

    def defect(self, record: str, **values: Any) -> list[tuple[Entry, bytes]]:
        """Write one entry about a defect."""
        return self.write(Draft(record, "defect", values, relies=[self.role_entry]))


@dataclass
class Bench:
    """A book that was set up, with its first lead."""

    workshop: Workshop
    new: NewBook
    role_entry: str

    def tablet(self, writer: str = "tableta1") -> Tablet:
        """Enrol a tablet, used by the lead."""
        code = give_code(self.workshop, self.new.lead)
        done = enrol(self.workshop, code, new_key())
        return Tablet(
            done.device, done.token, self.new.book, self.new.lead, self.role_entry, writer
        )

    def push(self, written: Iterable[tuple[Entry, bytes]]) -> dict[str, Any]:
        """Push lines as they are."""
        return push(self.workshop, self.new.book, body_of(line for _, line in written))


def set_up(workshop: Workshop, **changes: Any) -> Bench:
    """Create a book on an open workshop."""
    new = set_up_book(workshop, pages(**changes))
    with workshop.reading() as connection:
        asked = text("SELECT id FROM entry WHERE record = :lead")
        role_entry = connection.execute(asked, {"lead": new.lead}).scalar_one()
    return Bench(workshop, new, role_entry)


def set_up_unlooked(workshop: Workshop, definition: bytes, **changes: Any) -> Bench:
    """Create a book whose airframe has a definition as it is, past the services that look at it.

    So a book may come by one that they would refuse: a lead's tablet of an older version wrote it.
    """
    bench = set_up(workshop, definition=None, **changes)
    keep_bytes(workshop, definition)
    draft = airframe_draft(workshop.new_id(), definition, bench.role_entry)
    with workshop.writing() as connection:
        write_act_here(workshop, connection, bench.new.lead, [draft])
    return replace(bench, new=replace(bench.new, airframe=draft.record))


def airframe_draft(record: str, definition: bytes, role_entry: str) -> Draft:
    """Return what a lead writes of an airframe with a definition as it is."""
    value = orjson.loads(definition)
    pin = {"name": value["name"], "issue": value["issue"], "sha256": sha256_hex(definition)}
    values = {"type": value["name"], "constructor": value["constructor"], "definition": pin}
    return Draft(record, "airframe", values, relies=[role_entry])


def body_of(lines: Iterable[bytes]) -> bytes:
    """Return the body of a push."""
    return b"".join(line + b"\n" for line in lines)


def chained(entries: Sequence[Entry]) -> list[tuple[Entry, bytes]]:
    """Give entries made by hand true chains, and return them with their lines."""
    before: dict[str, str] = {}
    written = []
    for one in sorted(entries, key=lambda one: (one.id[-8:], one.n)):
        writer = one.id[-8:]
        linked = one._replace(prev=before.get(writer))
        if linked.prev is None and linked.n > 1:
            linked = linked._replace(prev="00" * 32)
        line = to_line(linked)
        before[writer] = sha256_hex(line)
        written.append((linked, line))
    return sorted(written, key=lambda pair: pair[0].id)


DERIVED = {
    "entry": "id, verdict, code",
    "record": "record, kind, standing",
    "named": "id, entry",
    "withdrawn_act": "writer, act",
    "awaited": "id, record",
    "link": "record, field, to_record",
    "defect": "record, airframe, number, state, grade, zone, kind, stage, row",
    "missing_file": "sha256, record",
}


def derived(workshop: Workshop) -> dict[str, list[tuple[Any, ...]]]:
    """Return everything derived, to compare two ways to it."""
    with workshop.reading() as connection:
        return {
            table: sorted(
                (tuple(row) for row in connection.execute(text(f"SELECT {names} FROM {table}"))),
                key=repr,
            )
            for table, names in DERIVED.items()
        }


MakeBench = Callable[..., Bench]
