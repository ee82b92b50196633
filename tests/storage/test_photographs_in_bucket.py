"""Photographs in an S3-style store behave as in the folder, and the store alone counts."""

import hashlib
import shutil

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.check_book import check_book
from skinpin.services.photographs import find_file, keep_bytes
from skinpin.storage.photograph_parts import PART_BYTES, Part, PhotographParts
from skinpin.storage.photographs_in_bucket import PhotographsInBucket

from tests.storage.object_store import KEY, object_store

CONTENT = b"a photograph" * 900
SHA256 = hashlib.sha256(CONTENT).hexdigest()
OBJECT = f"/marram/book/{SHA256}"


@pytest.fixture
def store():
    with object_store() as one:
        yield one


def test_what_is_kept_is_in_the_store_before_it_is_acknowledged(store, tmp_path):
    folder = PhotographsInBucket(tmp_path, store.bucket())
    folder.put_if_absent(SHA256, CONTENT, "t1")
    assert store.objects == {OBJECT: CONTENT}
    assert folder.is_whole(SHA256)
    other = PhotographsInBucket(tmp_path / "another server", store.bucket())
    assert other.exists(SHA256)
    assert other.read(SHA256) == CONTENT
    asked = store.asked
    assert other.read(SHA256) == CONTENT
    assert store.asked == asked


def test_a_folder_that_was_emptied_has_lost_no_file_and_the_store_is_not_asked(store, tmp_path):
    PhotographsInBucket(tmp_path, store.bucket()).put_if_absent(SHA256, CONTENT, "t1")
    emptied = PhotographsInBucket(tmp_path / "emptied", store.bucket())
    asked = store.asked
    assert emptied.still_there([SHA256]) == {SHA256}
    assert store.asked == asked


def test_a_store_that_refuses_or_is_away_keeps_nothing_and_says_so(store, tmp_path):
    wrong = PhotographsInBucket(tmp_path, store.bucket(KEY._replace(secret="another")))
    arriving = wrong.begin(SHA256, "t1")
    arriving.write(CONTENT)
    with pytest.raises(Refused, match="SignatureDoesNotMatch") as refused:
        arriving.keep()
    arriving.abandon()
    assert refused.value.code == "store_away"
    with pytest.raises(Refused, match="403"):
        wrong.exists(SHA256)
    store.busy = 99
    right = PhotographsInBucket(tmp_path, store.bucket())
    with pytest.raises(Refused, match="503"):
        right.put_if_absent(SHA256, CONTENT, "t2")
    store.busy = 2
    right.put_if_absent(SHA256, CONTENT, "t3")
    assert right.read(SHA256) == CONTENT
    assert list((tmp_path / "arriving").iterdir()) == []


def test_bytes_that_the_store_lost_or_changed_are_found_out(store, tmp_path):
    folder = PhotographsInBucket(tmp_path, store.bucket())
    folder.put_if_absent(SHA256, CONTENT, "t1")
    store.objects[OBJECT] = CONTENT[:-1]
    assert not folder.is_whole(SHA256)
    shutil.rmtree(tmp_path)
    fresh = PhotographsInBucket(tmp_path, store.bucket())
    with pytest.raises(Refused) as refused:
        fresh.read(SHA256)
    assert refused.value.code == "wrong_sha256"
    store.objects.clear()
    assert not fresh.exists(SHA256)


def test_parts_make_an_object(store, tmp_path):
    content = CONTENT * 120
    sha256 = hashlib.sha256(content).hexdigest()
    folder = PhotographsInBucket(tmp_path, store.bucket())
    parts = PhotographParts(folder)
    for n in range(0, -(-len(content) // PART_BYTES)):
        part = content[n * PART_BYTES : (n + 1) * PART_BYTES]
        kept = parts.keep(sha256, len(content), n, Part(part, hashlib.sha256(part).hexdigest()))
    assert kept.is_new
    assert store.objects[f"/marram/book/{sha256}"] == content


def test_a_book_hands_out_a_photograph_that_another_server_took_in(store, bench, tmp_path):
    workshop = bench.workshop
    for sha256 in workshop.folder.root.glob("?/?/*"):
        store.bucket().put(sha256.name, sha256.read_bytes())
    workshop.folder = PhotographsInBucket(tmp_path / "one", store.bucket())
    sha256 = keep_bytes(workshop, CONTENT)
    workshop.folder = PhotographsInBucket(tmp_path / "two", store.bucket())
    assert keep_bytes(workshop, CONTENT) == sha256
    assert find_file(workshop, sha256).path.read_bytes() == CONTENT
    assert check_book(workshop) == []
    del store.objects[OBJECT]
    assert check_book(workshop) == [f"The photograph {SHA256} is not as it came."]
