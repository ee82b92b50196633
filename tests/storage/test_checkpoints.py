"""What the write-ahead log holds reaches the database file without a writer waiting for it."""

import sqlite3

import pytest
from skinpin.storage.checkpoints import EVERY_S, LEAST_BYTES, Checkpoints


@pytest.fixture
def book(tmp_path):
    raw = sqlite3.connect(tmp_path / "book.sqlite", isolation_level=None)
    raw.execute("PRAGMA journal_mode=WAL")
    raw.execute("PRAGMA wal_autocheckpoint=0")
    raw.execute("CREATE TABLE t (x BLOB)")
    yield tmp_path / "book.sqlite", raw
    raw.close()


def fill(raw, size_bytes):
    raw.execute("INSERT INTO t VALUES (zeroblob(?))", [size_bytes])


class Clock:
    now_s = 100.0

    def __call__(self):
        return self.now_s


def test_a_long_log_is_carried_over_and_a_short_one_left(book):
    path, raw = book
    one = Checkpoints(path)
    fill(raw, 1000)
    assert not one.after_commit()
    before = path.stat().st_size
    fill(raw, LEAST_BYTES)
    assert one.after_commit()
    one.close()
    assert path.stat().st_size > before + LEAST_BYTES


def test_a_writer_in_the_middle_of_its_work_is_not_waited_for(book):
    path, raw = book
    fill(raw, LEAST_BYTES)
    raw.execute("BEGIN IMMEDIATE")
    fill(raw, 1000)
    one = Checkpoints(path)
    assert one.after_commit()
    one.close()
    raw.execute("COMMIT")
    assert path.stat().st_size > LEAST_BYTES
    assert raw.execute("SELECT count(*) FROM t").fetchone() == (2,)


def test_the_next_waits_a_while_and_after_the_end_none_comes(book):
    path, raw = book
    clock = Clock()
    one = Checkpoints(path, clock)
    fill(raw, LEAST_BYTES)
    assert one.after_commit()
    one._thread.join()
    assert not one.after_commit()
    clock.now_s += EVERY_S
    assert one.after_commit()
    one.close()
    clock.now_s += EVERY_S
    assert not one.after_commit()


def test_a_file_that_was_moved_away_is_not_made_anew(book, tmp_path, caplog):
    path, raw = book
    fill(raw, LEAST_BYTES)
    path.rename(tmp_path / "moved.sqlite")
    one = Checkpoints(path)
    assert one.after_commit()
    one.close()
    assert not path.exists()
    assert "could not be opened" in caplog.text
