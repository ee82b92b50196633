"""A server killed at any moment loses nothing it acknowledged, and its database stays sound."""

import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from skinpin_sync.chain import Draft

from tests.benches import body_of, open_bench, set_up

CHILD = """
import sys
from pathlib import Path
from tests.benches import open_bench
from skinpin.services.push import push

workshop = open_bench(Path(sys.argv[1]), seed=5)
for file in sorted(Path(sys.argv[2]).iterdir()):
    answer = push(workshop, sys.argv[3], file.read_bytes())
    print(file.name, answer["seq"], flush=True)
"""
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("after", [0, 1, 4, 9])
def test_what_was_acknowledged_is_there_after_a_kill(tmp_path, after):
    bench = set_up(open_bench(tmp_path / "book"))
    tablet = bench.tablet()
    bodies = tmp_path / "bodies"
    bodies.mkdir()
    for place in range(30):
        drafts = [Draft(f"d{place}-{n}", "defect", {"note": "a" * 500}) for n in range(20)]
        lines = [line for _, line in tablet.write(*drafts)]
        (bodies / f"{place:03d}").write_bytes(body_of(lines))
    bench.workshop.close()
    acknowledged = push_until_killed(tmp_path, bench.new.book, after)
    check_sound(tmp_path / "book" / "book.sqlite")
    again = open_bench(tmp_path / "book", seed=6)
    with again.reading() as connection:
        count = connection.exec_driver_sql(
            "SELECT count(*) FROM entry WHERE kind = 'defect'"
        ).scalar_one()
        rows = connection.exec_driver_sql("SELECT count(*) FROM defect").scalar_one()
        seq, last = connection.exec_driver_sql(
            "SELECT seq, (SELECT max(seq) FROM entry) FROM book"
        ).one()
    again.close()
    assert count >= 20 * acknowledged
    assert count % 20 == 0
    assert (rows, seq) == (count, last)


def push_until_killed(folder, book, after):
    """Kill the pusher after so many answers, in the middle of what it does next."""
    words = [sys.executable, "-c", CHILD, folder / "book", folder / "bodies", book]
    child = subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=ROOT)
    answers = [child.stdout.readline() for _ in range(after)]
    os.kill(child.pid, signal.SIGKILL)
    rest = child.communicate()[0].splitlines()
    return len([line for line in (*answers, *rest) if line.strip()])


def check_sound(file):
    with sqlite3.connect(file) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()
