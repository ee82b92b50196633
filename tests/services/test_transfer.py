"""A book copied to another place is the same book, proven row by row and byte by byte."""

import hashlib
from contextlib import closing

import pytest
from skinpin.cli import main
from skinpin.domain.errors import Refused
from skinpin.services.check_book import check_book
from skinpin.services.photographs import keep_bytes
from skinpin.services.pull import pull
from skinpin.services.transfer import transfer
from skinpin.storage.photographs_in_bucket import PhotographsInBucket

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
