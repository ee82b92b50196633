"""The photographs of a book as copies to give away."""

import csv
import hashlib
import json
import subprocess

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.photograph_copies import LIST, Asked, export_photographs

from tests.services.books import open_demo


@pytest.fixture
def workshop(tmp_path):
    one = open_demo(tmp_path / "demo")
    yield one
    one.close()


def listed(folder):
    with (folder / LIST).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_each_photograph_of_a_zone_is_a_copy_that_says_its_record(workshop, tmp_path):
    folder = tmp_path / "out"
    before = {path: path.stat() for path in workshop.folder.root.rglob("*") if path.is_file()}
    made = export_photographs(workshop, folder, Asked(zone="111"))
    lines = listed(folder)
    assert made.written == len(lines) > 3
    assert made.lacking == []
    assert {path.name for path in folder.iterdir()} == {LIST, *(one["file"] for one in lines)}
    words = ["exiftool", "-j", "-n", "-G1", *(str(folder / one["file"]) for one in lines)]
    told = json.loads(subprocess.run(words, capture_output=True, check=True).stdout)
    for line, one in zip(lines, told, strict=True):
        assert hashlib.sha256((folder / line["file"]).read_bytes()).hexdigest() == line["sha256"]
        assert one["IFD0:ImageDescription"].startswith(f"{line['number']}, {line['shows']}: ")
        assert line["place"] in one["ExifIFD:UserComment"]
        assert line["original_sha256"] in one["ExifIFD:UserComment"]
        assert one["ExifIFD:CreateDate"].startswith(line["received"][:10].replace("-", ":"))
        assert "Not approved repair data" in line["wording"]
        assert not [name for name in one if "GPS" in name or "Serial" in name]
        original = workshop.folder.read(line["original_sha256"])
        assert hashlib.sha256(original).hexdigest() == line["original_sha256"]
    after = {path: path.stat() for path in workshop.folder.root.rglob("*") if path.is_file()}
    assert {p: (s.st_mtime_ns, s.st_size) for p, s in before.items()} == {
        p: (s.st_mtime_ns, s.st_size) for p, s in after.items()
    }


def test_one_that_is_not_here_is_named_and_the_rest_is_copied(workshop, tmp_path):
    whole = export_photographs(workshop, tmp_path / "whole", Asked(zone="111"))
    lost = listed(tmp_path / "whole")[0]
    workshop.folder.path(lost["original_sha256"]).unlink()
    made = export_photographs(workshop, tmp_path / "less", Asked(zone="111"))
    assert made.lacking == [lost["file"]]
    assert made.written == whole.written - 1


def test_a_folder_that_holds_something_or_an_unknown_zone_is_refused(workshop, tmp_path):
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    for folder, zone, code in (("full", "", "file_there"), ("new", "999", "no_such_zone")):
        with pytest.raises(Refused) as refused:
            export_photographs(workshop, tmp_path / folder, Asked(zone=zone))
        assert refused.value.code == code
    assert not (tmp_path / "new").exists()
