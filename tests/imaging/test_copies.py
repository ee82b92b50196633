"""Copies to give away, read by an outside program: what is in them, and what is not."""

import base64
import io
import json
import subprocess
from pathlib import Path

import numpy as np
import piexif
import pytest
from PIL import Image, ImageCms
from skinpin.domain.errors import Refused
from skinpin.imaging.copies import exported_copy
from skinpin.imaging.jpeg_parts import exif_of, with_exif

TOLD = {
    "words": "A/0017, close: Hull, port, F6 + 2.0",
    "comment": "A/0017 · close · Hull · port · F6 + 2.0",
    "sha256": "ab" * 32,
    "taken": {"wall": "2025-10-04T10:14:05.2", "offset": "+01:00"},
    "received": {"wall": "2025-10-04T11:20"},
    "with_place": False,
    "with_serial": False,
}
SECRETS = (b"BODY-77", b"LENS-88", b"Owner Name", b"51.50", b"XMP-SECRET", b"behind the end")
XMP = b"http://ns.adobe.com/xap/1.0/\0<x>XMP-SECRET exif:GPSLatitude 51.50</x>"


PROFILE = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
PICTURE = np.kron(np.arange(48, dtype=np.uint8).reshape(6, 8) * 5, np.ones((8, 8), np.uint8))


def plain_jpeg(**save):
    """Return the same picture, coded in the same way, with nothing said of it."""
    out = io.BytesIO()
    Image.fromarray(PICTURE).convert("RGB").save(out, "JPEG", **{"quality": 90, **save})
    return out.getvalue()


def camera_jpeg(**save):
    """Return a JPEG as a telephone writes it: place, serial numbers, XMP, a second picture."""
    small = io.BytesIO()
    Image.fromarray(PICTURE).resize((16, 12)).save(small, "JPEG")
    exif = {
        "0th": {0x010F: b"Maker", 0x0110: b"Model", 0x0112: 6, 0x013B: b"Owner Name"},
        "Exif": {
            0x9003: b"2020:01:01 00:00:00",
            0xA430: b"Owner Name",
            0xA431: b"BODY-77",
            0xA435: b"LENS-88",
            0x927C: b"BODY-77 notes",
            0x829A: (1, 60),
        },
        "GPS": {1: b"N", 2: ((51, 1), (30, 1), (0, 1)), 3: b"W", 4: ((0, 1), (7, 1), (0, 1))},
        "1st": {0x0103: 6},
        "thumbnail": small.getvalue(),
    }
    out = io.BytesIO()
    given = {"quality": 90, "icc_profile": PROFILE, **save}
    Image.fromarray(PICTURE).convert("RGB").save(out, "JPEG", exif=piexif.dump(exif), **given)
    jpeg = out.getvalue()
    xmp = b"\xff\xe1" + (len(XMP) + 2).to_bytes(2, "big") + XMP
    return jpeg[:2] + xmp + jpeg[2:] + small.getvalue() + b"behind the end"


def read(content, tmp_path):
    """Return what exiftool reads, by group and name, numbers as they are stored."""
    path = tmp_path / "copy.jpg"
    path.write_bytes(content)
    words = ["exiftool", "-j", "-n", "-G1", "-a", "-u", "-ee", str(path)]
    (told,) = json.loads(subprocess.run(words, capture_output=True, check=True).stdout)
    return told


def scans(content):
    """Return the picture as it is coded: from its first scan to its end."""
    return content[content.index(b"\xff\xda") : content.index(b"\xff\xd9") + 2]


def pixels(content):
    return np.asarray(Image.open(io.BytesIO(content)))


@pytest.mark.parametrize("save", [{}, {"progressive": True}, {"subsampling": 2, "quality": 60}])
def test_the_picture_of_a_jpeg_stays_as_the_camera_coded_it(save):
    original = camera_jpeg(**save)
    copy = exported_copy(original, TOLD)
    assert not copy.is_coded_anew
    assert scans(copy.content) == scans(plain_jpeg(**save))
    assert (pixels(copy.content) == pixels(original)).all()
    assert Image.open(io.BytesIO(copy.content)).info["icc_profile"] == PROFILE


def test_record_position_and_time_are_in_it(tmp_path):
    told = read(exported_copy(camera_jpeg(), TOLD).content, tmp_path)
    assert told["IFD0:ImageDescription"] == TOLD["words"]
    assert told["ExifIFD:UserComment"] == TOLD["comment"]
    assert told["ExifIFD:DateTimeOriginal"] == "2025:10:04 10:14:05"
    assert told["ExifIFD:OffsetTimeOriginal"] == "+01:00"
    assert told["ExifIFD:CreateDate"] == "2025:10:04 11:20:00"
    assert told["ExifIFD:ImageUniqueID"] == "ab" * 16
    assert told["IFD0:Orientation"] == 6
    assert told["IFD0:Model"] == "Model"
    assert told["ExifIFD:ExposureTime"] == pytest.approx(1 / 60, rel=1e-3)
    assert not [name for name in told if "Warning" in name or "Error" in name]


def test_place_and_serial_numbers_are_left_out_and_nothing_of_them_is_hidden(tmp_path):
    content = exported_copy(camera_jpeg(), TOLD).content
    told = read(content, tmp_path)
    for word in ("GPS", "Serial", "Owner", "Artist", "XMP", "Thumbnail", "IFD1", "MakerNote"):
        assert not [name for name in told if word in name]
    for secret in SECRETS:
        assert secret not in content


def test_place_or_serial_numbers_stay_where_they_are_asked_for(tmp_path):
    told = read(exported_copy(camera_jpeg(), TOLD | {"with_place": True}).content, tmp_path)
    assert told["GPS:GPSLatitude"] == pytest.approx(51.5)
    assert "ExifIFD:SerialNumber" not in told
    told = read(exported_copy(camera_jpeg(), TOLD | {"with_serial": True}).content, tmp_path)
    assert told["ExifIFD:SerialNumber"] == "BODY-77"
    assert not [name for name in told if "GPS" in name]


def test_a_time_the_camera_did_not_give_is_not_made_up(tmp_path):
    bare = io.BytesIO()
    Image.new("RGB", (8, 8)).save(bare, "JPEG")
    told = read(exported_copy(bare.getvalue(), TOLD | {"taken": None}).content, tmp_path)
    assert "ExifIFD:DateTimeOriginal" not in told
    assert told["ExifIFD:CreateDate"] == "2025:10:04 11:20:00"
    unknown = TOLD | {"taken": {"wall": "2025-10-04T10:14:05", "offset": ""}}
    told = read(exported_copy(bare.getvalue(), unknown).content, tmp_path)
    assert "ExifIFD:OffsetTimeOriginal" not in told


@pytest.mark.parametrize(
    "damage", [b"II*\0\xff\xff\xff\xff", b"II*\0\x08\0\0\0\xff\xff" + b"\xff" * 60, b""]
)
def test_an_exif_that_does_not_read_is_left_behind_and_the_picture_is_not(damage, tmp_path):
    original = with_exif(camera_jpeg(), damage)
    copy = exported_copy(original, TOLD)
    assert scans(copy.content) == scans(plain_jpeg())
    assert read(copy.content, tmp_path)["IFD0:ImageDescription"] == TOLD["words"]


def test_other_formats_become_a_jpeg_that_lies_upright(tmp_path):
    names = Path(__file__).parents[1] / "frontend/imaging/pictures.json"
    heic = base64.b64decode(json.loads(names.read_text())["turned-heic"])
    png = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    Image.new("RGB", (64, 96), "red").rotate(0).save(png, "PNG", exif=exif)
    for content in (heic, png.getvalue()):
        copy = exported_copy(content, TOLD)
        told = read(copy.content, tmp_path)
        assert copy.is_coded_anew
        assert (told["File:ImageWidth"], told["File:ImageHeight"]) == (96, 64)
        assert told["IFD0:Orientation"] == 1
        assert told["IFD0:ImageDescription"] == TOLD["words"]
        assert not [name for name in told if "GPS" in name]


def test_a_jpeg_cut_short_at_any_byte_or_no_picture_at_all_is_never_half_a_copy():
    whole = camera_jpeg()
    for length in range(0, len(whole) - 700, 97):
        try:
            with_exif(whole[:length], b"")
        except ValueError:
            continue
    with pytest.raises(Refused) as refused:
        exported_copy(b"no picture", TOLD)
    assert refused.value.code == "unreadable_picture"


def test_the_exif_of_a_jpeg_is_found_behind_other_parts():
    assert piexif.load(b"Exif\0\0" + (exif_of(camera_jpeg()) or b""))["0th"][0x0110] == b"Model"
