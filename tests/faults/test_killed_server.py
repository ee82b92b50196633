"""The real server, killed at random moments and on a full disk, loses nothing acknowledged.

`FAULT_KILLS` asks for more kills than CI has time for, `FAULT_SEED` for others.
"""

import hashlib
import os
import random
import signal
import subprocess
import time
from contextlib import closing
from pathlib import Path

import pytest
from skinpin.services.check_book import check_book
from skinpin.services.restore import restore
from skinpin.storage.backups import BackupFolder

from tests.benches import open_bench, set_up
from tests.faults.served import ROOM_BYTES
from tests.faults.workers import Acknowledged, Answered, Line, in_threads, served

KILLS = int(os.environ.get("FAULT_KILLS", "15"))
SEED = int(os.environ.get("FAULT_SEED", "20251103"))
SMALL_DISK_BYTES = 12 * 2**20
LONGEST_WORK_S = 0.5


@pytest.fixture
def book(tmp_path):
    """A book with three tablets, that no server has open."""
    bench = set_up(open_bench(tmp_path / "book"))
    tablets = [bench.tablet(f"tablet{letter}x") for letter in "abc"]
    bench.workshop.close()
    return tmp_path / "book", tablets


def test_what_was_acknowledged_is_there_after_every_kill(book, tmp_path):
    folder, tablets = book
    chance, done, backups = random.Random(SEED), Acknowledged(), BackupFolder(folder / "backups")
    for kill in range(KILLS):
        where = f"kill {kill} of seed {SEED}"
        with served(folder, FAULT_BACKUPS="always") as (port, child):
            with Line(port, tablets[0]) as line:
                expect_all(line, tablets[0].book, done, where)
            workers = in_threads(port, tablets, SEED + kill, done)
            time.sleep(chance.uniform(0.02, LONGEST_WORK_S))
            os.kill(child.pid, signal.SIGKILL)
            for one in workers:
                one.join()
        assert sentences(folder) == [], where
    with served(folder) as (port, _), Line(port, tablets[0]) as line:
        expect_all(line, tablets[0].book, done, "the end")
    print(f"seed {SEED}: {KILLS} kills, {len(done.entries)} entries, {len(done.photographs)} files")
    assert len(done.entries) > 10 * KILLS
    assert len(done.photographs) > KILLS
    assert all(backups.manifest(name)["seq"] for name in backups.names())
    with closing(open_bench(tmp_path / "again", seed=3)) as again:
        assert all(one.agrees for one in restore(again, folder / "backups"))


def expect_all(line, book, done, where):
    """Everything acknowledged is there: each line as it was, each photograph by its bytes."""
    there = line.entries(book)
    assert {id: there.get(id) for id in done.entries} == done.entries, where
    assert line.missing(list(done.photographs)) == [], where
    for sha256 in list(done.photographs)[-8:]:
        found = line.ask("GET", f"/api/photographs/{sha256}")
        assert hashlib.sha256(found).hexdigest() == sha256, where


def sentences(folder):
    """Return what a check of the whole book finds, while no server runs."""
    with closing(open_bench(folder, seed=2)) as workshop:
        return check_book(workshop)


def test_a_full_disk_is_said_and_loses_nothing(book, tmp_path):
    folder, tablets = book
    with small_disk(folder, tmp_path) as (data, variables, make_room):
        done = Acknowledged()
        tablet = tablets[0]
        with served(data, **variables) as (port, _), Line(port, tablet) as line:
            said = fill(line, tablet, done)
            assert {status for status, _ in said} == {507}
            assert {code for _, code in said} == {"disk_full"}
            expect_all(line, tablet.book, done, "full")
            if make_room:
                make_room()
                content = random.Random(3).randbytes(50_000)
                done.photographs[line.put(content)] = content
                kept = [text for _, text in tablet.defect("after", note="room again")]
                assert [one["result"] for one in line.push(tablet, kept)] == ["stored"]
            expect_all(line, tablet.book, done, "room again")
        assert list((data / "photographs/arriving").iterdir()) == []
        assert sentences(data) == []


def fill(line, tablet, done):
    """Send photographs until the disk is full, then smaller ones and entries; return refusals."""
    chance, said = random.Random(SEED), []
    for size in (400_000, 90_000, 9_000):
        for _ in range(60):
            content = chance.randbytes(size)
            try:
                done.photographs[line.put(content)] = content
            except Answered as answered:
                said.append((answered.status, answered.told["code"]))
                break
    return said


class small_disk:
    """A copy of a book on a disk of a few MiB, or behind a file layer of as little room."""

    def __init__(self, folder: Path, scratch: Path) -> None:
        self.folder, self.mounted = folder, scratch / "small"

    def __enter__(self):
        self.mounted.mkdir()
        size = f"size={SMALL_DISK_BYTES}"
        words = ["mount", "-t", "tmpfs", "-o", size, "tmpfs", str(self.mounted)]
        self.is_mounted = subprocess.run(words, capture_output=True).returncode == 0
        if not self.is_mounted:
            print("no small disk may be mounted here: a file layer stands in for it")
            return self.folder, {ROOM_BYTES: str(SMALL_DISK_BYTES // 2)}, None
        data, ballast = self.mounted / "book", self.mounted / "ballast"
        subprocess.run(["cp", "-r", str(self.folder), str(data)], check=True)
        ballast.write_bytes(bytes(2**20))
        return data, {}, ballast.unlink

    def __exit__(self, *error: object) -> None:
        if self.is_mounted:
            subprocess.run(["umount", "-l", str(self.mounted)], check=True)
