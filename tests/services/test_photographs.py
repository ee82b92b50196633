"""Files in and out through the services."""

import hashlib
import json

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.defects import list_defects
from skinpin.services.photographs import (
    Upload,
    find_file,
    find_rendition,
    keep_bytes,
    missing,
)
from skinpin_sync.chain import Draft

from tests.benches import DEFINITION
from tests.imaging.pictures import picture


def sha256(content):
    return hashlib.sha256(content).hexdigest()


def test_only_files_that_are_not_here_are_missing(bench):
    here = keep_bytes(bench.workshop, b"one")
    assert missing(bench.workshop, [here, sha256(b"two"), sha256(b"two")]) == [sha256(b"two")]


def test_a_file_whose_row_was_lost_by_a_stop_is_noted_when_sent_again(bench):
    name = sha256(b"bytes")
    bench.workshop.folder.put_if_absent(name, b"bytes", "t")
    assert missing(bench.workshop, [name]) == [name]
    upload = Upload(bench.workshop, name)
    upload.write(b"bytes")
    assert upload.finish() is False
    assert missing(bench.workshop, [name]) == []


def test_a_file_lost_from_the_folder_is_missing_until_it_is_sent_again(bench):
    name, other = (keep_bytes(bench.workshop, content) for content in (b"bytes", b"other"))
    bench.workshop.folder.path(name).unlink()
    assert missing(bench.workshop, [other, name]) == [name]
    upload = Upload(bench.workshop, name)
    upload.write(b"bytes")
    assert upload.finish() is True
    assert missing(bench.workshop, [other, name]) == []
    assert find_file(bench.workshop, name).path.read_bytes() == b"bytes"


def test_a_file_with_no_bytes_can_be_kept(bench):
    upload = Upload(bench.workshop, sha256(b""))
    assert upload.finish() is True
    assert find_file(bench.workshop, sha256(b"")).path.read_bytes() == b""


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (picture(), "image/jpeg"),
        (picture(kind="PNG"), "image/png"),
        (b'{"name": 1}', "application/json"),
        (b"<svg onload='x'/>", "application/octet-stream"),
        (b"<html>", "application/octet-stream"),
    ],
)
def test_the_kind_of_a_file_is_what_its_bytes_are(bench, content, kind):
    assert find_file(bench.workshop, keep_bytes(bench.workshop, content)).media_type == kind


def test_a_rendition_is_made_once_and_the_original_stays(bench):
    content = picture((3000, 1000))
    name = keep_bytes(bench.workshop, content)
    first = find_rendition(bench.workshop, name, 1000).path
    made_at = first.stat().st_mtime_ns
    assert find_rendition(bench.workshop, name, 1000).path.stat().st_mtime_ns == made_at
    assert find_rendition(bench.workshop, name, 320).path.read_bytes()[:3] == b"\xff\xd8\xff"
    assert find_file(bench.workshop, name).path.read_bytes() == content


def test_what_is_no_picture_has_no_rendition_and_no_leftover(bench):
    name = keep_bytes(bench.workshop, b"no picture")
    with pytest.raises(Refused) as refused:
        find_rendition(bench.workshop, name, 320)
    assert refused.value.code == "unreadable_picture"
    assert not bench.workshop.folder.rendition_path(name, 320).exists()


def test_a_definition_that_comes_late_gives_the_rows_their_zone(bench):
    tablet = bench.tablet()
    later = json.dumps({**DEFINITION, "issue": "2"}).encode()
    pin = {"name": "Marram", "issue": "2", "sha256": sha256(later)}
    airframe = Draft(
        "af2",
        "airframe",
        {"type": "Marram", "constructor": "2604", "definition": pin},
        relies=[bench.role_entry],
    )
    place = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["B1"]}
    bench.push([*tablet.write(airframe), *tablet.defect("d1", airframe="af2", place=place)])
    assert [row["zone"] for row in list_defects(bench.workshop, {})] == [None]
    keep_bytes(bench.workshop, later)
    assert [row["zone"] for row in list_defects(bench.workshop, {})] == ["111"]
    assert list_defects(bench.workshop, {"zone": "112"}) == []
    assert len(list_defects(bench.workshop, {"zone": "111", "airframe": "af2"})) == 1
