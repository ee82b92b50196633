"""A book copied to another place is the same book, proven row by row and byte by byte."""

import hashlib
from contextlib import closing

import pytest
from skinpin.cli import main
from skinpin.domain.errors import Refused
from skinpin.services import transfer as transferring
from skinpin.services.check_book import check_book
from skinpin.services.photographs import keep_bytes
from skinpin.services.pull import pull
from skinpin.services.restore import Compared
from skinpin.services.transfer import transfer
from skinpin.storage import kept
from skinpin.storage.log import find_book
from skinpin.storage.photographs_in_bucket import PhotographsInBucket
from sqlalchemy import text

from tests.benches import derived, open_bench
from tests.storage.object_store import object_store


@pytest.fixture
def filled(bench):
    bench.push(bench.tablet().defect("d1", note="köln \0", number="A/0001"))
    keep_bytes(bench.workshop, b"a photograph" * 100)
    return bench


def test_a_book_goes_to_an_object_store_and_back(filled, tmp_path):
    source = filled.workshop
    with object_store() as store, closing(open_bench(tmp_path / "there", seed=3)) as there:
        there.folder = PhotographsInBucket(tmp_path / "before it", store.bucket())
        there.__post_init__()
        assert all(one.agrees for one in transfer(source, there))
        assert derived(there) == derived(source)
        with closing(open_bench(tmp_path / "back", seed=4)) as back:
            found = transfer(there, back)
            assert all(one.agrees for one in found)
            assert {one.what: one.found for one in found}["photographs whole"] == "2"
            assert check_book(back) == []
            book = filled.new.book
            pages = [
                pull(one, book, epoch="", after=0, at="", limit=1000) for one in (source, back)
            ]
            first, second = (page.split(b"\n", 1)[1] for page in pages)
            assert first == second


def test_a_transfer_into_a_book_or_out_of_none_is_refused(filled, workshop, tmp_path):
    with pytest.raises(Refused) as refused:
        transfer(workshop, filled.workshop)
    assert refused.value.code == "no_book"
    with closing(open_bench(tmp_path / "there", seed=3)) as there:
        transfer(filled.workshop, there)
        with pytest.raises(Refused) as refused:
            transfer(filled.workshop, there)
        assert refused.value.code == "book_exists"


def test_a_photograph_lost_on_the_way_is_said(filled, tmp_path, monkeypatch):
    sha256 = hashlib.sha256(b"a photograph" * 100).hexdigest()
    with closing(open_bench(tmp_path / "there", seed=3)) as there:
        put = type(there.folder).put_if_absent
        monkeypatch.setattr(
            type(there.folder),
            "put_if_absent",
            lambda self, name, *more: None if name == sha256 else put(self, name, *more),
        )
        wrong = [one for one in transfer(filled.workshop, there) if not one.agrees]
        assert [(one.what, one.expected, one.found) for one in wrong] == [
            ("photographs whole", "2", "1")
        ]
        assert_no_book_but_room_for_one(there, filled, monkeypatch)


@pytest.mark.parametrize("damaged", [None, b"other bytes"])
def test_a_photograph_the_source_itself_lacks_is_named_and_no_book_is_kept(
    filled, tmp_path, monkeypatch, damaged
):
    content = b"a photograph" * 100
    sha256 = hashlib.sha256(content).hexdigest()
    path = filled.workshop.folder.path(sha256)
    path.unlink()
    if damaged:
        path.write_bytes(damaged)
    with closing(open_bench(tmp_path / "there", seed=3)) as there:
        wrong = [one for one in transfer(filled.workshop, there) if not one.agrees]
        assert [(one.what, one.expected, one.found) for one in wrong] == [
            (f"photograph {sha256}", "whole", "not whole in the source"),
            ("photographs whole", "2", "1"),
        ]
        path.unlink(missing_ok=True)
        keep_bytes(filled.workshop, content)
        assert_no_book_but_room_for_one(there, filled, monkeypatch)


def assert_no_book_but_room_for_one(there, filled, monkeypatch):
    """A copy that differs was not kept; once what was wrong is mended it comes whole."""
    with there.reading() as connection:
        assert find_book(connection) is None
        assert not connection.execute(text("SELECT 1 FROM entry")).first()
    monkeypatch.undo()
    assert all(one.agrees for one in transfer(filled.workshop, there))
    assert derived(there) == derived(filled.workshop)


@pytest.mark.parametrize("fault", ["a row is lost", "a byte differs"])
def test_a_copy_that_differs_is_no_book(filled, tmp_path, monkeypatch, fault):
    def wrong(connection, table):
        rows = list(kept.rows_of(connection, table))
        if table.name == "device":
            rows = rows[1:] if fault == "a row is lost" else [rows[0] | {"enrolled_by": "x"}]
        return iter(rows)

    monkeypatch.setattr(transferring, "rows_of", wrong)
    monkeypatch.setattr(
        transferring, "_digest", lambda connection, table: digest(connection, table)
    )
    with closing(open_bench(tmp_path / "there", seed=3)) as there:
        found = [one.what for one in transfer(filled.workshop, there) if not one.agrees]
        assert "digest of device" in found
        assert_no_book_but_room_for_one(there, filled, monkeypatch)


def digest(connection, table):
    """Count and hash a table's true rows."""
    lines = [kept.line_of(row) for row in kept.rows_of(connection, table)]
    return kept.Counted(len(lines), hashlib.sha256(b"".join(lines)).hexdigest())


def test_the_verb_ends_with_a_fault_where_the_copy_differs(filled, tmp_path, capsys, monkeypatch):
    filled.workshop.close()
    monkeypatch.setattr(
        transferring, "_photographs", lambda *given: Compared("photographs whole", "2", "1")
    )
    with pytest.raises(SystemExit) as ended:
        main(["transfer", "--data", str(tmp_path / "book"), "--to", str(tmp_path / "there")])
    assert ended.value.code == 1
    assert "No book was kept there." in capsys.readouterr().err
    with closing(open_bench(tmp_path / "there", seed=3)) as there, there.reading() as connection:
        assert find_book(connection) is None


def test_the_verb_copies_a_book_and_says_what_was_compared(filled, tmp_path, capsys):
    filled.workshop.close()
    main(["transfer", "--data", str(tmp_path / "book"), "--to", str(tmp_path / "there")])
    said = capsys.readouterr().out
    assert "photographs whole: 2\n" in said
    assert "expected" not in said
    main(["check-book", "--data", str(tmp_path / "there")])
    with pytest.raises(SystemExit) as ended:
        main(["transfer", "--data", str(tmp_path / "book"), "--to", str(tmp_path / "there")])
    assert ended.value.code == 1
    assert "a book there already" in capsys.readouterr().err
