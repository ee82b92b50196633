"""On a full disk the server says so, loses nothing it acknowledged, and goes on once there is room.

A small disk in memory is mounted where that is permitted; files and a database that refuse what is
over their room are played in any case.
"""

import json
import os
import random
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest
from skinpin.services.backup import back_up
from skinpin.services.photographs import keep_bytes
from skinpin.storage.backups import BackupFolder

from tests.bags import stick_tablet, zipped
from tests.benches import Tablet, open_bench, set_up
from tests.faults.served import ROOM
from tests.faults.workers import Acknowledged, Answered, Line, expect_all, sentences, served

SMALL_DISK_BYTES = 12 * 2**20
SEED = 20251103


class Disk(NamedTuple):
    """A folder on a disk with little room, what programs over it are told, and what leaves room."""

    folder: Path
    variables: dict[str, str]
    leave: Callable[[int], object]


@contextmanager
def small_disk(book: Path, scratch: Path) -> Iterator[Disk]:
    """Copy a book onto a small disk; where none may be mounted, a file layer stands in."""
    mounted = scratch / "small"
    mounted.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", f"size={SMALL_DISK_BYTES}", "tmpfs", str(mounted)]
    if subprocess.run(words, capture_output=True).returncode != 0:
        print("no small disk may be mounted here: the file layer ran in its place")
        with file_layer(book, scratch) as disk:
            yield disk
        return
    print("a small disk was mounted")
    ballast = mounted / "ballast"

    def leave(room_bytes: int) -> None:
        ballast.unlink(missing_ok=True)
        ballast.write_bytes(bytes(max(0, shutil.disk_usage(mounted).free - room_bytes)))

    try:
        shutil.copytree(book, mounted / "book")
        yield Disk(mounted / "book", {}, leave)
    finally:
        subprocess.run(["umount", "-l", str(mounted)], check=True)


@contextmanager
def file_layer(book: Path, scratch: Path) -> Iterator[Disk]:
    """Let a book's files and its database have some room, told in a file."""
    told = scratch / "room.json"

    def leave(room_bytes: int) -> None:
        pages = 90 if room_bytes < SMALL_DISK_BYTES else 9000
        told.write_text(json.dumps({"bytes": room_bytes, "pages": pages}))

    print("the file layer ran")
    yield Disk(book, {ROOM: str(told)}, leave)


Way = Callable[[Path, Path], AbstractContextManager[Disk]]
WAYS = pytest.mark.parametrize("way", [small_disk, file_layer])


@WAYS
def test_a_full_disk_is_said_and_loses_nothing(
    book: tuple[Path, list[Tablet]], tmp_path: Path, way: Way
) -> None:
    folder, tablets = book
    done, tablet, chance = Acknowledged(), tablets[0], random.Random(SEED)
    with way(folder, tmp_path) as disk:
        disk.leave(SMALL_DISK_BYTES // 3)
        with served(disk.folder, **disk.variables) as (port, _), Line(port, tablet) as line:
            before = [text for n in range(20) for _, text in tablet.defect(f"before-{n}")]
            push(line, tablet, before, done)
            refused = [*fill_files(line, chance, done), fill_log(line, tablet, done)]
            assert [one.status for one in refused] == [507] * 5
            assert {one.told["code"] for one in refused} == {"disk_full"}
            assert all(one.told["message"] and one.told["hint"] for one in refused)
            expect_all(line, tablet.book, done, "full")
            disk.leave(SMALL_DISK_BYTES)
            for size in (1_300_000, 50_000):
                content = chance.randbytes(size)
                done.photographs[line.put(content)] = content
            push(line, tablet, done.unsent[tablet.writer], done)
            expect_all(line, tablet.book, done, "room again")
        assert list((disk.folder / "photographs/arriving").iterdir()) == []
        assert sentences(disk.folder) == []


def push(line: Line, tablet: Tablet, lines: list[bytes], done: Acknowledged) -> None:
    """Push lines, all of which are taken."""
    results = line.push(tablet, lines)
    assert {one["result"] for one in results} == {"stored"}
    done.entries |= {one["id"]: text for one, text in zip(results, lines, strict=True)}


def fill_files(line: Line, chance: random.Random, done: Acknowledged) -> Iterator[Answered]:
    """Send photographs, in parts and whole, until each size is refused."""
    for size in (1_300_000, 400_000, 90_000, 9_000):
        while True:
            content = chance.randbytes(size)
            try:
                done.photographs[line.put(content)] = content
            except Answered as answered:
                yield answered
                break


def fill_log(line: Line, tablet: Tablet, done: Acknowledged) -> Answered:
    """Push entries until they are refused; those of the last batch stay unsent."""
    for count in range(5000):
        lines = [
            text for n in range(20) for _, text in tablet.defect(f"r{count}-{n}", note="a" * 400)
        ]
        try:
            push(line, tablet, lines, done)
        except Answered as answered:
            done.unsent[tablet.writer] = lines
            return answered
    raise AssertionError("The log took 100,000 entries and was not full.")


FULL = "The server's disk is full; nothing was stored. Free space.\n"
NOT_WRITTEN = "can't be written: No space left on device."
LARGE = random.Random(SEED).randbytes(2_000_000)


@WAYS
@pytest.mark.parametrize("verb", ["backup", "restore", "take-in", "export"])
def test_a_verb_on_a_full_disk_says_so_and_is_done_once_there_is_room(
    tmp_path: Path, way: Way, verb: str
) -> None:
    bench = set_up(open_bench(tmp_path / "book"))
    stick = stick_tablet(bench)
    bench.push(stick.tablet.defect("d1", number="A/0001"))
    lines = [text for _, text in stick.tablet.defect("d2", number="A/0002")]
    keep_bytes(bench.workshop, LARGE)
    back_up(bench.workshop, tmp_path / "backups")
    bench.workshop.close()
    (tmp_path / "stick.zip").write_bytes(zipped(stick.files(lines, [LARGE[::-1]])))
    with way(tmp_path / "book", tmp_path) as disk:
        folder = disk.folder.with_name("fresh") if verb == "restore" else disk.folder
        words = {
            "backup": [],
            "restore": ["--backups", tmp_path / "backups"],
            "take-in": [tmp_path / "stick.zip"],
            "export": ["--out", disk.folder / "book.csv"],
        }[verb]
        disk.leave(0 if verb == "export" else 1_000_000)
        said = run_verb(disk, verb, folder, *words)
        assert (said.returncode, said.stderr.count("\n")) == (1, 1), said.stderr
        assert said.stderr == FULL or (verb == "export" and NOT_WRITTEN in said.stderr)
        disk.leave(1_000_000)  # a check of the whole book needs some
        assert sentences(disk.folder) == []
        assert BackupFolder(disk.folder / "backups").names() == []
        assert not (disk.folder / "book.csv").exists()
        disk.leave(SMALL_DISK_BYTES)
        assert run_verb(disk, verb, folder, *words).returncode == 0
        assert sentences(folder) == []


def run_verb(
    disk: Disk, verb: str, folder: Path, *words: str | Path
) -> "subprocess.CompletedProcess[str]":
    """Run one verb of the installed command over a disk."""
    program = [sys.executable, "-W", "error", "-m", "tests.faults.served"]
    return subprocess.run(
        [*program, verb, "--data", str(folder), *map(str, words)],
        env=os.environ | disk.variables,
        capture_output=True,
        text=True,
    )
