"""A real server that a fault schedule drives: a fresh book for each, and its faults on demand.

It speaks over its standard streams, one JSON object a line each way, and serves HTTP beside.
Nothing is synced here: what a loss of power takes is tested elsewhere, and schedules must be many.
"""

import base64
import hashlib
import json
import random
import shutil
import socket
import sqlite3
import sys
import tempfile
import threading
from collections.abc import Callable
from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any

import uvicorn
from skinpin.imaging.renderer import Renderer
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.enrolment import give_code
from skinpin.services.people import add_person
from skinpin.services.restore import restore
from skinpin.services.workshop import Workshop
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.files import FileLayer
from skinpin.storage.migrate import migrate
from skinpin.storage.photographs import PhotographFolder
from skinpin.web.server import build_server
from sqlalchemy import text

from tests.benches import NOW_MS, PASSCODE, open_bench, set_up
from tests.faults.planted import PLANTS, plant

TABLETS = 5


class UnsyncedLayer(FileLayer):
    """The real disk, never waited for."""

    def sync(self, file: Any) -> None:
        file.flush()

    def sync_folder(self, path: Path) -> None:
        pass


class Moment:
    """The server's clock: it goes on by itself, and jumps when told to."""

    def __init__(self) -> None:
        self.now_ms = NOW_MS

    def __call__(self) -> int:
        self.now_ms += 1
        return self.now_ms


class Bench:
    """The book of the schedule that runs now."""

    def __init__(self, scratch: Path) -> None:
        self.scratch, self.renderer, self.clock = scratch, Renderer(), Moment()
        self.empty, self.ready = scratch / "empty.sqlite", scratch / "ready.sqlite"
        self.first = self.make_ready()
        self.folder, self.count, self.planted = scratch, 0, ExitStack()
        self.workshop = self.open(self.ready, random.Random(0))
        self.app = build_server(self.workshop, ["127.0.0.1"], backups=scratch / "none")

    def make_ready(self) -> dict[str, Any]:
        """Set a book up once: schedules begin with a copy of it."""
        bench = set_up(open_bench(self.scratch / "first", layer=UnsyncedLayer()))
        workshop, lead = bench.workshop, bench.new.lead
        people = [lead, add_person(workshop, lead, "Inspector", "inspector", "2", PASSCODE)]
        people.append(add_person(workshop, lead, "Fitter", "fitter", "3", PASSCODE))
        codes = [give_code(workshop, lead) for _ in range(TABLETS)]
        self.ease(workshop, people)
        copy_database(self.scratch / "first/book.sqlite", self.ready)
        workshop.close()
        bare = open_engine(f"sqlite:///{self.empty}")
        migrate(bare)
        bare.dispose()
        return {"book": bench.new.book, "people": people, "codes": codes, "passcode": PASSCODE}

    def ease(self, workshop: Workshop, people: list[str]) -> None:
        """Have passcodes checked in no time, and codes that outlast every jump of the clock."""
        with writing(workshop.engine) as connection:
            for person in people:
                derived = hashlib.pbkdf2_hmac("sha256", PASSCODE.encode(), b"salt" * 4, 11)
                connection.execute(
                    text(
                        "UPDATE person_secret SET salt = :salt, iterations = 11,"
                        " check_value = :value WHERE person = :person"
                    ),
                    {"salt": base64url(b"salt" * 4), "value": base64url(derived), "person": person},
                )
            connection.execute(text("UPDATE enrolment_code SET expires_at_ms = 9000000000000"))

    def open(self, database: Path, chance: random.Random) -> Workshop:
        """Open a database file as a server that has just started would."""
        engine = open_engine(f"sqlite:///{database}")
        folder = PhotographFolder(self.folder / "photographs", UnsyncedLayer())
        return Workshop(engine, folder, self.renderer, self.clock, chance.randbytes)

    def serve(self, workshop: Workshop) -> None:
        """Put a workshop in the place of the one that was served."""
        self.workshop.engine.dispose()
        self.workshop = self.app.state.workshop = workshop

    # ---- what a schedule may ask for

    def new(self, seed: int) -> dict[str, Any]:
        """Begin a schedule with its own copy of the book."""
        if self.count:
            self.workshop.engine.dispose()
            shutil.rmtree(self.folder)
        self.count += 1
        self.chance, self.copies = random.Random(seed), list[tuple[Path, set[str]]]()
        self.folder = self.scratch / f"schedule{self.count}"
        self.folder.mkdir()
        database = self.folder / "book.sqlite"
        shutil.copy(self.ready, database)
        self.clock.now_ms = NOW_MS + 3_600_000
        shutil.copytree(self.scratch / "first/photographs", self.folder / "photographs")
        self.serve(self.open(database, self.chance))
        return self.first

    def plants(self) -> list[str]:
        """Name the faults that can be planted here."""
        return list(PLANTS)

    def plant(self, name: str) -> None:
        """Plant a fault in place of the one before; no name plants none."""
        self.planted.close()
        if name:
            self.planted = plant(name, lambda: self.clock.now_ms)

    def lacking(self, ids: list[str], files: list[str]) -> list[str]:
        """Return which of some entries and files are not here, at this moment."""
        with self.workshop.reading() as connection:

            def here(words: str, asked: list[str]) -> set[str]:
                given = {"asked": json.dumps(asked)}
                among = f"{words} IN (SELECT value FROM json_each(:asked))"
                return {one for (one,) in connection.execute(text(among), given)}

            entries = here("SELECT id FROM entry WHERE id", ids)
            rows = here("SELECT sha256 FROM photograph_file WHERE sha256", files)
        whole = {one for one in rows if self.workshop.folder.is_whole(one)}
        return sorted((set(ids) - entries) | (set(files) - whole))

    def jump(self, by_ms: int) -> None:
        """Move the server's clock."""
        self.clock.now_ms += by_ms

    def restart(self) -> None:
        """End the server and start it again on the same book."""
        self.serve(self.open(Path(str(self.workshop.engine.url.database)), self.chance))

    def back_up(self) -> str:
        """Make a backup and return its name."""
        self.jump(1000)
        return back_up(self.workshop, self.folder / "backups").folder.name

    def restore(self, name: str) -> None:
        """Put an older backup back, photographs and all, into an empty folder."""
        self.jump(1000)
        database = self.folder / f"restored{self.clock.now_ms}.sqlite"
        shutil.copy(self.empty, database)
        self.empty_photographs()
        fresh = self.open(database, self.chance)
        found = restore(fresh, self.folder / "backups", name)
        assert all(one.agrees for one in found), found
        self.serve(fresh)

    def empty_photographs(self) -> None:
        """Lose every photograph."""
        for file in (self.folder / "photographs").rglob("*"):
            if file.is_file():
                file.unlink()

    def copy(self) -> int:
        """Copy the database file and note the photographs, as somebody with a file manager does."""
        target = self.folder / f"copy{len(self.copies)}.sqlite"
        copy_database(Path(str(self.workshop.engine.url.database)), target)
        self.copies.append((target, photographs_in(self.folder)))
        return len(self.copies) - 1

    def copy_back(self, place: int) -> None:
        """Put a copy back in silence: the epoch is as it was, younger photographs are gone."""
        source, here = self.copies[place]
        database = self.folder / f"back{self.clock()}.sqlite"
        shutil.copy(source, database)
        for file in (self.folder / "photographs").rglob("*"):
            if file.is_file() and file.name not in here:
                file.unlink()
        self.serve(self.open(database, self.chance))

    def account(self) -> dict[str, Any]:
        """Return everything the server holds."""
        with self.workshop.reading() as connection:

            def ask(words: str) -> list[list[Any]]:
                return [list(row) for row in connection.execute(text(words))]

            entries = dict(ask("SELECT id, line FROM entry"))
            records = ask("SELECT record, kind, standing FROM record")
            rows = dict(ask("SELECT record, row FROM defect"))
            files = [sha256 for (sha256,) in ask("SELECT sha256 FROM photograph_file")]
            integrity = [said for (said,) in ask("PRAGMA integrity_check") if said != "ok"]
        return {
            "entries": entries,
            "standing": {name: [kind, json.loads(now)] for name, kind, now in records},
            "rows": {name: json.loads(row) for name, row in rows.items()},
            "files": files,
            "damaged": [one for one in files if not self.workshop.folder.is_whole(one)],
            "faults": [*check_book(self.workshop), *integrity],
        }


def photographs_in(folder: Path) -> set[str]:
    """Return the names of the files that lie in a folder of photographs."""
    return {file.name for file in (folder / "photographs").rglob("*") if file.is_file()}


def copy_database(source: Path, target: Path) -> None:
    """Copy a SQLite file whole, in one file."""
    with closing(sqlite3.connect(source)) as one, closing(sqlite3.connect(target)) as other:
        one.backup(other)
        other.execute("PRAGMA journal_mode=DELETE")


def base64url(content: bytes) -> str:
    """Return bytes as the book keeps them in text."""
    return base64.urlsafe_b64encode(content).rstrip(b"=").decode()


def serve(bench: Bench) -> int:
    """Serve the bench's app beside; return its port."""
    # Named in full: the event loop sends small answers at once only on sockets that say TCP.
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.bind(("127.0.0.1", 0))
    config = uvicorn.Config(bench.app, log_level="critical", lifespan="off")
    server = uvicorn.Server(config)
    threading.Thread(target=server.run, args=([listening],), daemon=True).start()
    port: int = listening.getsockname()[1]
    return port


def answer(bench: Bench, line: str) -> Any:
    """Do what one line asks for."""
    verb, *given = json.loads(line)
    act: Callable[..., Any] = getattr(bench, verb)
    return act(*given)


def main() -> None:
    """Answer lines until there are none."""
    where = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(prefix="skinpin-faults-", dir=where) as scratch:
        bench = Bench(Path(scratch))
        print(json.dumps({"port": serve(bench)}), flush=True)
        for line in sys.stdin:
            try:
                told = {"done": answer(bench, line)}
            except Exception as error:
                told = {"failed": f"{type(error).__name__}: {error}"}
            print(json.dumps(told), flush=True)
        bench.renderer.close()


if __name__ == "__main__":
    main()
