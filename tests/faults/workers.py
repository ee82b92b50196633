"""What devices do to a real server until it is gone: they push, send photographs, and note."""

import hashlib
import json
import os
import random
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any

from skinpin.services.check_book import check_book

from tests.benches import Tablet, body_of, open_bench

ROOT = Path(__file__).resolve().parent.parent.parent
PART_BYTES = 1024 * 1024
LONGEST_WAIT_S = 60


class Answered(Exception):
    """The server answered that it could not."""

    def __init__(self, status: int, body: bytes) -> None:
        self.status, self.told = status, json.loads(body)
        super().__init__(f"{status} {self.told}")


class Line:
    """One device's connection."""

    def __init__(self, port: int, tablet: Tablet) -> None:
        self.port = port
        self._line = HTTPConnection("127.0.0.1", port, timeout=LONGEST_WAIT_S)
        self._token = {"Authorization": f"Bearer {tablet.token}"}

    def __enter__(self) -> "Line":
        return self

    def __exit__(self, *error: object) -> None:
        self._line.close()

    def ask(self, method: str, path: str, body: bytes | None = None, **headers: str) -> bytes:
        """Send one request; what is no success is raised."""
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        self._line.request(method, path, body, self._token | named)
        answer = self._line.getresponse()
        told = answer.read()
        if answer.status >= 400:
            raise Answered(answer.status, told)
        return told

    def push(self, tablet: Tablet, lines: list[bytes]) -> list[dict[str, Any]]:
        """Push lines and return what became of each."""
        told = self.ask("POST", f"/api/entries?book={tablet.book}", body_of(lines))
        found: list[dict[str, Any]] = json.loads(told)["results"]
        return found

    def put(self, content: bytes) -> str:
        """Send a photograph, a large one in parts; return its hash once it is acknowledged."""
        sha256 = hashlib.sha256(content).hexdigest()
        path = f"/api/photographs/{sha256}"
        if len(content) <= PART_BYTES:
            self.ask("PUT", path, content)
            return sha256
        for n in range(-(-len(content) // PART_BYTES)):
            part = content[n * PART_BYTES : (n + 1) * PART_BYTES]
            told = {"Skinpin_Sha256": hashlib.sha256(part).hexdigest()}
            self.ask("PUT", f"{path}/parts/{n}", part, Skinpin_Size_Bytes=str(len(content)), **told)
        return sha256

    def missing(self, sha256s: list[str]) -> list[str]:
        """Ask which photographs are not there."""
        asked = json.dumps({"sha256": sha256s}).encode()
        told = self.ask("POST", "/api/photographs/missing", asked, Content_Type="application/json")
        found: list[str] = json.loads(told)["missing"]
        return found

    def entries(self, book: str) -> dict[str, bytes]:
        """Return every line of the log by its id."""
        found: dict[str, bytes] = {}
        epoch, after, at = "", 0, ""
        while True:
            query = f"book={book}&epoch={epoch}&after={after}&at={at}&limit=1000"
            head, *lines = self.ask("GET", f"/api/entries?{query}").split(b"\n")[:-1]
            found |= {json.loads(line)["id"]: line for line in lines}
            told = json.loads(head)
            epoch, after, at = told["epoch"], told["to"], told["at"]
            if told["to"] >= told["seq"]:
                return found


class Acknowledged:
    """What the server said is safe, and what each tablet still has to send."""

    def __init__(self) -> None:
        self.unsent: dict[str, list[bytes]] = {}
        self.entries: dict[str, bytes] = {}
        self.photographs: dict[str, bytes] = {}


def work(port: int, tablet: Tablet, seed: int, done: Acknowledged) -> None:
    """Push and send until the server is gone; an answer that refuses ends the work by its error."""
    chance = random.Random(seed)
    with Line(port, tablet) as line, suppress(OSError, HTTPException):
        while True:
            if chance.random() < 0.4:
                size = 1_300_000 if chance.random() < 0.2 else 20_000 + chance.randrange(60_000)
                content = chance.randbytes(size)
                done.photographs[line.put(content)] = content
                continue
            lines = done.unsent.setdefault(tablet.writer, [])
            for _ in range(1 + chance.randrange(30)):
                record = f"{tablet.writer}-{chance.randrange(10**9)}"
                lines += [one for _, one in tablet.defect(record, note="a" * chance.randrange(400))]
            results = line.push(tablet, lines)
            told = zip(results, lines, strict=True)
            done.entries |= {one["id"]: text for one, text in told if one["result"] != "refused"}
            done.unsent[tablet.writer] = []


@contextmanager
def served(folder: Path, **variables: str) -> Iterator[tuple[int, "subprocess.Popen[bytes]"]]:
    """Start the server over a folder and wait until it answers; it is killed at the end."""
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = int(probe.getsockname()[1])
    words = [sys.executable, "-m", "tests.faults.served", "serve", "--data", str(folder)]
    child = subprocess.Popen(
        [*words, "--port", str(port)],
        cwd=ROOT,
        env=os.environ | variables,
        stdout=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        wait_for(port, child)
        yield port, child
    finally:
        os.killpg(child.pid, signal.SIGKILL)
        child.wait()


def wait_for(port: int, child: "subprocess.Popen[bytes]") -> None:
    """Wait until the server takes connections."""
    until = time.monotonic() + LONGEST_WAIT_S
    while time.monotonic() < until and child.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.02)
    raise RuntimeError("The server did not start; its own lines above say why.")


def in_threads(port: int, tablets: list[Tablet], seed: int, done: Acknowledged) -> list[Any]:
    """Let every tablet work in a thread of its own."""
    workers = [
        threading.Thread(target=work, args=(port, one, seed * 10 + at, done))
        for at, one in enumerate(tablets)
    ]
    for one in workers:
        one.start()
    return workers


def expect_all(line: Line, book: str, done: Acknowledged, where: str) -> None:
    """Everything acknowledged is there: each line as it was, each photograph by its bytes."""
    there = line.entries(book)
    assert {id: there.get(id) for id in done.entries} == done.entries, where
    assert line.missing(list(done.photographs)) == [], where
    for sha256 in list(done.photographs)[-8:]:
        found = line.ask("GET", f"/api/photographs/{sha256}")
        assert hashlib.sha256(found).hexdigest() == sha256, where


def sentences(folder: Path) -> list[str]:
    """Return what a check of the whole book finds, while no server runs."""
    with closing(open_bench(folder, seed=2)) as workshop:
        return check_book(workshop)
