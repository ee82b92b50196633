"""Photographs taken in over HTTP, beside the least that a server can do to keep a file for good.

Both servers run in a process of their own over a fresh folder of the same disk, on the same HTTP
server. One client sends one file after the other over one connection; the time of a file ends with
its answer. Files go to both sides in turn, so that whatever else the machine does falls on both.
In parts, a file costs one request for each MiB; the peer takes it whole all the same. Whoever
sends has hashed file and parts, and asked once for all what is missing, before the time begins.
"""

from __future__ import annotations

import hashlib
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from tests.trials.own_server import Enrolled, own_server, wait_for
from tests.trials.record import Measured, middle

PEER = "a bare ASGI PUT: temporary file, fsync, rename, fsync of the folder, one row"
PEERS = Path(__file__).parent / "peers"
RUNS = 5
ROWS = ((200, 350_000, "whole"), (40, 2_500_000, "whole"), (40, 2_500_000, "in parts"))
PART_BYTES = 1024 * 1024


def measure() -> Iterator[Measured]:
    """Send both sides the same files in turn, five times over; the medians are compared."""
    with own_server() as tablet, bare_server() as line:
        for count, size_bytes, way in ROWS:
            own, peer = [], []
            for run in range(RUNS):
                taken = take_turns(tablet, line, files(count, size_bytes, f"{way} {run}"), way)
                own.append(taken[0])
                peer.append(taken[1])
            unit = f"s, {count} photographs of {size_bytes // 1000} kB, {way}"
            yield Measured(
                *("photographs", middle(own), unit, PEER, middle(peer), "<= 1.2 x"),
                low=min(own),
                high=max(own),
                runs=RUNS,
            )


def files(count: int, size_bytes: int, seed: str) -> Iterator[bytes]:
    """Return files of chance bytes, no two alike."""
    chance = Random(f"{count} {size_bytes} {seed}")
    for _ in range(count):
        yield chance.randbytes(size_bytes)


def take_turns(
    tablet: Enrolled, line: HTTPConnection, some: Iterator[bytes], way: str
) -> tuple[float, float]:
    """Return how many seconds each side took over all files."""
    own_s = peer_s = 0.0
    for content in some:
        sha256, parts = named(content), parts_of(content)
        began = time.perf_counter()
        if way == "whole":
            tablet.put(sha256, content)
        else:
            tablet.put_in_parts(sha256, len(content), parts)
        between = time.perf_counter()
        put_bare(line, sha256, content)
        own_s, peer_s = own_s + between - began, peer_s + time.perf_counter() - between
    return own_s, peer_s


def named(content: bytes) -> str:
    """Return the SHA-256 of bytes."""
    return hashlib.sha256(content).hexdigest()


def parts_of(content: bytes) -> list[tuple[str, bytes]]:
    """Return the parts of a file, each with its SHA-256."""
    places = range(0, len(content), PART_BYTES)
    parts = [content[at : at + PART_BYTES] for at in places]
    return [(named(part), part) for part in parts]


def put_bare(line: HTTPConnection, sha256: str, content: bytes) -> None:
    """Send one file to the peer."""
    line.request("PUT", f"/{sha256}", content)
    answer = line.getresponse()
    answer.read()
    if answer.status != 201:
        raise RuntimeError(f"The peer answered {answer.status}.")


@contextmanager
def bare_server() -> Iterator[HTTPConnection]:
    """Start the peer over an empty folder; end it and remove the folder afterwards."""
    with TemporaryDirectory() as folder, socket.create_server(("127.0.0.1", 0)) as listener:
        # The listener is handed on: a port that was only probed for may be taken meanwhile.
        port = int(listener.getsockname()[1])
        words = [sys.executable, "-m", "uvicorn", "put:app", "--fd", str(listener.fileno())]
        child = subprocess.Popen(
            [*words, "--lifespan", "off", "--log-level", "warning", "--no-access-log"],
            cwd=PEERS,
            env={**os.environ, "TRIAL_FOLDER": folder},
            pass_fds=[listener.fileno()],
        )
        try:
            wait_for(port, child)
            yield HTTPConnection("127.0.0.1", port, timeout=120)
        finally:
            child.kill()
            child.wait()
