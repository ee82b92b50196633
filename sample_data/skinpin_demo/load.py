"""Loads the Marram demo into a folder of its own, through the services a real book uses."""

import argparse
import base64
import hashlib
import json
import shutil
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, derive_private_key
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.devices import device_of
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.people import add_person, only_lead, people_here
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import push
from skinpin.services.set_up import FirstPages, NewBook, is_empty, set_up_book
from skinpin.services.workshop import Workshop
from skinpin.settings import DEMO_DAY, Settings, read_settings

from skinpin_demo.author import Author, Ground
from skinpin_demo.darkroom import draw_all
from skinpin_demo.definition import DEFINITION
from skinpin_demo.histories import histories
from skinpin_demo.pen import Notebook, new_pen
from skinpin_demo.photographs.picture import Shot, photograph
from skinpin_demo.shots import all_shots

STANDARD = Path(__file__).parent / "data" / "standard_qs7.json"
CACHE = Path(__file__).resolve().parents[2] / ".cache"


@dataclass(frozen=True)
class DemoBook:
    """The loaded demo: who can sign in with what, and codes for tablets to come."""

    data: Path
    passcodes: Mapping[str, str]
    enrolment_codes: list[str]


class DemoTime:
    """A clock that stands where it is put."""

    def __init__(self) -> None:
        self.ms = 0

    def __call__(self) -> int:
        """Return the time in ms of UTC."""
        return self.ms


class DemoChance:
    """Random bytes that are the same at every load."""

    def __init__(self) -> None:
        self._drawn = 0

    def __call__(self, count: int) -> bytes:
        """Return the next bytes."""
        self._drawn += 1
        block = b""
        while len(block) < count:
            block += hashlib.sha256(f"marram {self._drawn} {len(block)}".encode()).digest()
        return block[:count]


def load_demo(data_dir: Path, *, cache: Path = CACHE, codes: int = 1) -> DemoBook:
    """Load the demo book into a folder unless it is there, and return how to get in.

    The book is made beside the folder and moved in whole, so that a load cut short leaves nothing.
    """
    data, settings = histories(), read_settings(data_dir)
    if not (settings.data / _MARK).exists():
        _need_free(settings.data)
        beside = settings.data.with_name(settings.data.name + ".loading")
        shutil.rmtree(beside, ignore_errors=True)
        _load(_within(settings, beside), data, cache)
        (beside / _MARK).write_text("This folder holds the demo book.\n", encoding="utf-8")
        if settings.data.exists():
            settings.data.rmdir()
        beside.rename(settings.data)
    if settings.today:
        # Every verb on this folder works on the demo's day, whoever starts it.
        (settings.data / DEMO_DAY).write_text(f"{settings.today}\n", encoding="utf-8")
    passcodes = {person["name"]: person["passcode"] for person in data["people"]}
    with _opened(settings) as workshop:
        given = [give_code(workshop, only_lead(workshop)) for _ in range(codes)]
    return DemoBook(settings.data, passcodes, given)


_MARK = "demo-book.txt"


def _need_free(folder: Path) -> None:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Refused(
            "folder_in_use",
            f"{folder} holds something that is not the demo book.",
            "Give an empty folder, or one that does not exist yet.",
        )


def _within(settings: Settings, folder: Path) -> Settings:
    """Return the settings of the same book in another folder; a database elsewhere stays."""
    inner = f"sqlite:///{settings.data / 'book.sqlite'}"
    database = settings.database.replace(inner, f"sqlite:///{folder / 'book.sqlite'}")
    photographs = settings.photographs
    if photographs.is_relative_to(settings.data):
        photographs = folder / photographs.relative_to(settings.data)
    return replace(settings, data=folder, database=database, photographs=photographs)


@contextmanager
def _opened(settings: Settings) -> Iterator[Workshop]:
    workshop = open_workshop(settings)
    try:
        yield workshop
    finally:
        workshop.renderer.close()
        workshop.engine.dispose()


def _load(settings: Settings, data: Mapping[str, Any], cache: Path) -> None:
    time, zone = DemoTime(), ZoneInfo(data["workshop"]["time_zone"])
    with _opened(settings) as workshop:
        if not is_empty(workshop):
            raise Refused(
                "book_exists",
                f"The database {settings.database} holds a book already.",
                "Give the demo a database of its own.",
            )
        workshop = replace(workshop, now_ms=time, random=DemoChance(), writer="")
        time.ms = _ms(data["workshop"]["opened"], zone)
        new = _set_up(workshop, data)
        enrolled = [
            enrol(workshop, give_code(workshop, new.lead), _public_key(workshop.random(32)))
            for _ in data["tablets"]
        ]
        tokens = {one.device: one.token for one in enrolled}
        notebook = Notebook(zone)
        ground = _ground(workshop, notebook, data, new)
        pens = {letter: new_pen(notebook, letter, new.book) for letter in data["tablets"]}
        draw_all(all_shots(data["records"]), cache)
        author = Author(notebook, pens, ground, lambda shot: _drawn(shot, cache))
        author.write(data)
        _push(workshop, time, new.book, notebook, tokens)


def _drawn(shot: Shot, cache: Path) -> bytes:
    return photograph(shot, cache).read_bytes()


def _ms(wall: str, zone: ZoneInfo) -> int:
    return int(datetime.fromisoformat(wall).replace(tzinfo=zone).timestamp() * 1000)


def _set_up(workshop: Workshop, data: Mapping[str, Any]) -> NewBook:
    lead, *others = data["people"]
    pages = FirstPages(
        workshop=data["workshop"]["name"],
        time_zone=data["workshop"]["time_zone"],
        unit=data["workshop"]["unit"],
        lead_name=lead["name"],
        passcode=lead["passcode"],
        stamp_number=lead["stamp_number"],
        definition=DEFINITION.read_bytes(),
        standard=STANDARD.read_bytes(),
    )
    new = set_up_book(workshop, pages)
    for one in others:
        add_person(
            workshop, new.lead, one["name"], one["role"], one["stamp_number"], one["passcode"]
        )
    return new


def _ground(
    workshop: Workshop, notebook: Notebook, data: Mapping[str, Any], new: NewBook
) -> Ground:
    people = {row["name"]: row for row in people_here(workshop, with_unlock=False)}
    for row in people.values():
        notebook.roles[row["person"]] = row["role_entry"]
    return Ground(
        airframe=new.airframe or "",
        definition=json.loads(DEFINITION.read_bytes()),
        standard=_pin(STANDARD.read_bytes()),
        people={name: row["person"] for name, row in people.items()},
        stamps={person["name"]: person["stamp_number"] for person in data["people"]},
    )


def _pin(standard: bytes) -> dict[str, str]:
    value = json.loads(standard)
    sha256 = hashlib.sha256(standard).hexdigest()
    return {"name": value["name"], "issue": value["issue"], "sha256": sha256}


def _public_key(secret: bytes) -> dict[str, str]:
    """Return the public key of a demo tablet; its private half is never kept."""
    numbers = derive_private_key(1 + int.from_bytes(secret[:31], "big"), SECP256R1())
    point = numbers.public_key().public_numbers()

    def text(number: int) -> str:
        return base64.urlsafe_b64encode(number.to_bytes(32, "big")).rstrip(b"=").decode()

    return {"kty": "EC", "crv": "P-256", "x": text(point.x), "y": text(point.y)}


def _push(
    workshop: Workshop, time: DemoTime, book: str, notebook: Notebook, tokens: Mapping[str, str]
) -> None:
    """Send each day's files and entries on that day's evening, acts whole; its tablets are seen."""
    for content in notebook.files.values():
        keep_bytes(workshop, content)
    days: dict[int, list[tuple[str, bytes]]] = {}
    for at_ms, device, line in notebook.lines:
        days.setdefault(at_ms // 86_400_000, []).append((device, line))
    for day, lines in sorted(days.items()):
        time.ms = day * 86_400_000 + 18 * 3_600_000
        answer = push(workshop, book, b"".join(line + b"\n" for _, line in lines))
        turned = [one for one in answer["results"] if one["result"] != "stored"]
        if turned:
            raise RuntimeError(f"{len(turned)} demo entries were not stored: {turned[0]}")
        for device in sorted({device for device, _ in lines}):
            device_of(workshop, tokens[device])


def main() -> None:
    """Load the demo and print who can sign in."""
    parser = argparse.ArgumentParser(prog="skinpin_demo.load", description=__doc__)
    parser.add_argument("--data", type=Path, required=True, help="folder of the demo book")
    given = parser.parse_args()
    try:
        demo = load_demo(given.data, codes=2)
    except Refused as refused:
        print(f"{refused.message} {refused.hint}", file=sys.stderr)
        sys.exit(1)
    print(f"The Marram demo is in {demo.data}. Sign in as:")
    for name, passcode in demo.passcodes.items():
        print(f"  {name:18} {passcode}")
    print(f"Codes for new tablets, good for half an hour: {', '.join(demo.enrolment_codes)}")


if __name__ == "__main__":
    main()
