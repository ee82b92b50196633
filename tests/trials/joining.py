"""Records joined a second: a server that checks, judges and derives, beside one of documents.

Both sides get the same 10,000 records of twelve fields in batches of the same size over HTTP on
this machine, into a fresh database on disk, and the time ends with the last answer. The runs
alternate, so that whatever else the machine does falls on both.
"""

from __future__ import annotations

import json
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.trials.generator import Writer, Written, defects, document
from tests.trials.own_server import Enrolled, own_server
from tests.trials.record import Measured, middle

RECORDS = 10_000
BATCH = 500
RUNS = 5
PEER = "PouchDB 9 to express-pouchdb, documents replicated in the same batches"
PEERS = Path(__file__).parent / "peers"


def measure() -> Iterator[Measured]:
    """Alternate five runs of each side; the medians are compared."""
    own, peer = [], []
    for run in range(RUNS):
        own.append(own_rate(run))
        peer.append(peer_rate(run))
    yield Measured(
        *("joining", middle(own), "records/s", PEER, middle(peer), ">= 2 x"),
        low=min(own),
        high=max(own),
        runs=RUNS,
    )


def own_rate(seed: int) -> float:
    """Return records a second of a fresh own server."""
    with own_server() as tablet:
        by = Writer(device=tablet.tablet, by=tablet.person)
        bodies = list(batches(list(defects(RECORDS, seed, by, tablet.airframe))))
        began = time.perf_counter()
        for body in bodies:
            assert_stored(tablet, body)
        took_s = time.perf_counter() - began
        assert_joined(tablet)
    return RECORDS / took_s


def batches(written: list[Written]) -> Iterator[bytes]:
    """Return the bodies of the pushes."""
    for at in range(0, len(written), BATCH):
        yield b"".join(one.line + b"\n" for one in written[at : at + BATCH])


def assert_stored(tablet: Enrolled, body: bytes) -> None:
    """Push one body; a figure counts only if every line of it was stored."""
    answer = tablet.push(body)
    stored = answer.count(b'"result":"stored"')
    if stored != BATCH:
        raise RuntimeError(f"{stored} of {BATCH} entries were stored: {answer[:1000]!r}")


def assert_joined(tablet: Enrolled) -> None:
    """Check that the rows were derived before the answers, not after."""
    found = len(tablet.defects())
    if found != RECORDS:
        raise RuntimeError(f"The defect book shows {found} of {RECORDS} records.")


def peer_rate(seed: int) -> float:
    """Return documents a second of a fresh peer."""
    with TemporaryDirectory() as folder:
        file = Path(folder, "documents.ndjson")
        lines = [json.dumps(document(written)) for written in defects(RECORDS, seed)]
        file.write_text("\n".join(lines) + "\n")
        words = ["node", str(PEERS / "join.mjs"), str(file), str(BATCH)]
        done = subprocess.run(words, cwd=PEERS, capture_output=True, text=True, check=True)
    told = json.loads(done.stdout.splitlines()[-1])
    return float(told["records"] / told["seconds"])
