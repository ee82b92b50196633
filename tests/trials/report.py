"""A zone report of 200 defects with 200 photographs, beside the same sheets set by the engine.

The server makes the report over HTTP from its book, pictures decoded before (a server makes them
when a photograph is first shown; the first report of a book is told by itself). The peer is the
engine alone on the folder that the same report was set from. Memory is that of the server with
all its children, looked at every hundredth of a second.
"""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from PIL import Image
from skinpin.app import open_workshop
from skinpin.reports.running import Running
from skinpin.reports.zone_report import set_out, sheets_of, zone_report_data
from skinpin.services.report import gather_zone
from skinpin.services.report_pictures import renditions
from skinpin.settings import read_settings
from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import new_clock

from tests.trials.generator import BEGAN_MS, STEP_MS, WALL, fields_of
from tests.trials.own_server import Enrolled, own_server
from tests.trials.record import Measured, middle

COUNT, RUNS, ZONE = 200, 5, "121"
WIDE_PX, HIGH_PX = 1600, 1200
PEER = "typst on the same folder of template, data and pictures"
PAGE_BYTES = os.sysconf("SC_PAGE_SIZE")


def measure() -> Iterator[Measured]:
    """Take turns five times; the first report of the book and the peak of memory go beside."""
    with own_server() as tablet, tempfile.TemporaryDirectory() as folder:
        fill(tablet)
        tablet.hang_up()
        with Peak() as peak:
            first_s = report_s(tablet)
            ready = ready_folder(tablet.folder, Path(folder))
            own, peer = [], []
            for _ in range(RUNS):
                own.append(report_s(tablet))
                peer.append(peer_s(ready))
    what = f"s, {COUNT} defects, {COUNT} photographs"
    yield Measured(
        *("report", middle(own), what, PEER, middle(peer), "<= 1.5 x"),
        low=min(own),
        high=max(own),
        runs=RUNS,
    )
    yield Measured("report", peak.most_bytes / 1e6, "MB, server with children", None, None, "< 750")
    yield Measured("report", first_s, "s, first report, pictures not decoded", None, None, "< 60")


def fill(tablet: Enrolled) -> None:
    """Put the defects of one zone into a book, each with its own photograph."""
    chance, chain = Random(7), Chain(new_clock("trial000"), 0, None)
    lines = []
    for at in range(COUNT):
        content = picture(at)
        sha256 = hashlib.sha256(content).hexdigest()
        tablet.put(sha256, content)
        number, record = f"A/{at + 1:04}", f"{at:026d}"
        place = {"structure": "Hull", "hand": "P", "member": f"F{chance.randrange(8, 14)}",
                 "offset": {"value": f"{chance.randrange(0, 50) / 10:.1f}", "unit": "in"},
                 "strakes": ["K", "B1"], "precision": "exact"}  # fmt: skip
        fields = fields_of(chance, number, tablet.airframe) | {"place": place}
        photograph = {"defect": record, "sha256": sha256, "size_bytes": len(content),
                      "media_type": "image/jpeg", "width_px": WIDE_PX, "height_px": HIGH_PX,
                      "role": "close", "source": "file",
                      "taken": {"wall": WALL[:19], "offset": "+01:00"}}  # fmt: skip
        shape = {"kind": "ring", "points": [[3000, 3000], [9000, 3000], [6000, 8000]]}
        drafts = [
            Draft(record, "defect", fields),
            Draft(f"p{at:025d}", "photograph", photograph),
            Draft(f"m{at:025d}", "mark", {"photograph": f"p{at:025d}", "shape": shape}),
        ]
        chain, written = write_act(
            chain, BEGAN_MS + at * STEP_MS, drafts, act=f"a{at:025d}", by=tablet.person,
            device=tablet.tablet, wall=WALL, schema=1,
        )  # fmt: skip
        lines += [line for _, line in written]
    for at in range(0, len(lines), 300):
        tablet.push(b"".join(line + b"\n" for line in lines[at : at + 300]))


def picture(seed: int) -> bytes:
    """Return a JPEG of some 300 kB, no two alike."""
    noise = Image.frombytes("L", (200, 150), Random(seed).randbytes(200 * 150))
    grown = noise.resize((WIDE_PX, HIGH_PX), Image.Resampling.BICUBIC)
    out = io.BytesIO()
    Image.merge("RGB", (grown, grown, grown)).save(out, "JPEG", quality=85)
    return out.getvalue()


def report_s(tablet: Enrolled) -> float:
    """Return how long the report takes from question to last byte."""
    began = time.perf_counter()
    content = tablet.fetch(f"/api/reports/zone/{ZONE}.pdf")
    took_s = time.perf_counter() - began
    if (sheets := sheets_of(content)) < COUNT:
        raise RuntimeError(f"{sheets} sheets are no report of {COUNT} defects.")
    return took_s


def ready_folder(book: Path, folder: Path) -> Path:
    """Set the report out as the server does, for the peer."""
    workshop = open_workshop(read_settings(book, {}))
    try:
        ready, _ = gather_zone(workshop, ZONE, "")
        assert len(ready["records"]) == COUNT, len(ready["records"])
        pictures = renditions(workshop, ready["records"], Running())
        assert len(pictures) == COUNT, len(pictures)
        set_out(folder, zone_report_data(ready), pictures)
    finally:
        workshop.close()
    return folder


def peer_s(folder: Path) -> float:
    """Return how long the engine alone takes."""
    words = [sys.executable, "-m", "skinpin.reports.typesetter", str(folder)]
    began = time.perf_counter()
    subprocess.run(words, check=True)
    return time.perf_counter() - began


class Peak:
    """The most memory that the children of this process, the server and its own, held together."""

    def __init__(self) -> None:
        self.most_bytes = 0
        self._done = threading.Event()
        self._server = children_of(os.getpid())
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __enter__(self) -> Peak:
        self._thread.start()
        return self

    def __exit__(self, *error: object) -> None:
        self._done.set()
        self._thread.join()

    def _watch(self) -> None:
        while not self._done.wait(0.01):
            held = sum(held_bytes(pid) for root in self._server for pid in tree_of(root))
            self.most_bytes = max(self.most_bytes, held)


def children_of(pid: int) -> list[int]:
    """Return the processes that a process started, by any of its threads."""
    found = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            found += [int(one) for one in task.read_text().split()]
        except OSError:
            continue
    return found


def tree_of(pid: int) -> list[int]:
    """Return a process and all below it."""
    return [pid, *(each for child in children_of(pid) for each in tree_of(child))]


def held_bytes(pid: int) -> int:
    """Return the memory a process holds now, nothing of one that has ended."""
    try:
        return int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * PAGE_BYTES
    except (OSError, IndexError):
        return 0
