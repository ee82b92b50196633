"""On a full disk the server says so, loses nothing it acknowledged, and goes on once there is room.

A small disk in memory is mounted where that is permitted; files and a database that refuse what is
over their room are played in any case.
"""

import json
import random
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.benches import Tablet
from tests.faults.served import ROOM
from tests.faults.workers import Acknowledged, Answered, Line, expect_all, sentences, served

SMALL_DISK_BYTES = 12 * 2**20
SEED = 20251103


class Disk(NamedTuple):
    """A folder on a disk with little room, what its server is told, and what makes room."""

    folder: Path
    variables: dict[str, str]
    make_room: Callable[[], object]


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
    try:
        ballast = mounted / "ballast"
        shutil.copytree(book, mounted / "book")
        ballast.write_bytes(bytes(4 * 2**20))
        yield Disk(mounted / "book", {}, ballast.unlink)
    finally:
        subprocess.run(["umount", "-l", str(mounted)], check=True)


@contextmanager
def file_layer(book: Path, scratch: Path) -> Iterator[Disk]:
    """Let a book's files and its database have some room, told in a file."""
    told = scratch / "room.json"
    told.write_text(json.dumps({"bytes": SMALL_DISK_BYTES // 3, "pages": 90}))
    more = json.dumps({"bytes": SMALL_DISK_BYTES, "pages": 9000})
    print("the file layer ran")
    yield Disk(book, {ROOM: str(told)}, lambda: told.write_text(more))


@pytest.mark.parametrize("way", [small_disk, file_layer])
def test_a_full_disk_is_said_and_loses_nothing(
    book: tuple[Path, list[Tablet]], tmp_path: Path, way: Callable[..., Disk]
) -> None:
    folder, tablets = book
    done, tablet, chance = Acknowledged(), tablets[0], random.Random(SEED)
    with way(folder, tmp_path) as disk:  # type: ignore[attr-defined]
        with served(disk.folder, **disk.variables) as (port, _), Line(port, tablet) as line:
            before = [text for n in range(20) for _, text in tablet.defect(f"before-{n}")]
            push(line, tablet, before, done)
            refused = [*fill_files(line, chance, done), fill_log(line, tablet, done)]
            assert [one.status for one in refused] == [507] * 5
            assert {one.told["code"] for one in refused} == {"disk_full"}
            assert all(one.told["message"] and one.told["hint"] for one in refused)
            expect_all(line, tablet.book, done, "full")
            disk.make_room()
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
