"""Renditions come from a child that hostile bytes can end but not abuse."""

import io
import json
import re
import subprocess
import sys
from collections.abc import Iterator

import pytest
from PIL import Image
from skinpin.domain.errors import Refused
from skinpin.imaging.renderer import Renderer

from tests.imaging.pictures import bomb, picture


@pytest.fixture
def renderer() -> Iterator[Renderer]:
    one = Renderer()
    yield one
    one.close()


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def test_a_rendition_has_its_longest_side_cut_and_keeps_the_shape(renderer):
    made = renderer.render(picture((3000, 1000)), [320, 1000, 1600])
    assert {size: opened(one).size for size, one in made.pictures.items()} == {
        320: (320, 107),
        1000: (1000, 333),
        1600: (1600, 533),
    }
    assert (made.width_px, made.height_px) == (3000, 1000)


def test_a_small_picture_is_not_blown_up(renderer):
    made = renderer.render(picture((600, 200)), [1600])
    assert opened(made.pictures[1600]).size == (600, 200)


@pytest.mark.parametrize(
    ("orientation", "size", "red_at"),
    [(1, (320, 107), (10, 50)), (3, (320, 107), (310, 50)), (6, (107, 320), (50, 10)),
     (8, (107, 320), (50, 310))],
)  # fmt: skip
def test_a_rendition_is_upright(renderer, orientation, size, red_at):
    made = renderer.render(picture((3000, 1000), orientation=orientation), [320])
    image = opened(made.pictures[320])
    red, _, blue = image.convert("RGB").getpixel(red_at)
    assert image.size == size
    assert red > 200 > 60 > blue
    assert image.getexif().get(0x0112, 1) == 1


@pytest.mark.parametrize(
    ("kind", "mode"),
    [
        ("PNG", "RGBA"),
        ("PNG", "P"),
        ("PNG", "L"),
        ("WEBP", "RGB"),
        ("PNG", "1"),
        ("JPEG", "CMYK"),
    ],
)
def test_other_kinds_of_picture_become_jpeg(renderer, kind, mode):
    made = renderer.render(picture((400, 100), kind, mode=mode), [320])
    assert (opened(made.pictures[320]).format, opened(made.pictures[320]).mode) == ("JPEG", "RGB")


def test_place_and_camera_do_not_reach_a_rendition(renderer):
    image = Image.new("RGB", (400, 100))
    exif = Image.Exif()
    exif[0x010F] = "camera maker"
    exif.get_ifd(0x8825)[1] = "N"
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif)
    assert b"camera maker" in out.getvalue()
    assert b"camera maker" not in renderer.render(out.getvalue(), [320]).pictures[320]


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (bomb(12_000, 12_000), "too_many_pixels"),
        (bomb(9_000, 9_000), "too_many_pixels"),
        (picture((800, 300))[:2000], "unreadable_picture"),
        (b"", "unreadable_picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "unreadable_picture"),
        (b"GIF89a" + b"\0" * 60, "unreadable_picture"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", "unreadable_picture"),
    ],
)
def test_what_is_no_whole_picture_of_sane_size_is_refused_with_a_sentence(renderer, content, code):
    with pytest.raises(Refused) as refused:
        renderer.render(content, [320])
    assert refused.value.code == code
    assert re.fullmatch(r"The (file|picture)[A-Za-z0-9 ,]+\.", refused.value.message)
    assert opened(renderer.render(picture(), [320]).pictures[320]).size == (320, 107)


def test_a_picture_just_within_the_limit_is_made():
    one = Renderer()
    try:
        out = io.BytesIO()
        Image.new("L", (8_000, 9_999)).save(out, "PNG")
        assert one.render(out.getvalue(), [320]).width_px == 8_000
    finally:
        one.close()


def test_a_decoder_that_takes_too_long_is_ended_and_the_next_picture_is_made():
    one = Renderer(time_limit_s=0.0)
    try:
        with pytest.raises(Refused):
            one.render(picture(), [320])
        one._warm._time_limit_s = 30.0
        assert opened(one.render(picture(), [320]).pictures[320]).size == (320, 107)
    finally:
        one.close()


def test_the_child_can_write_no_file(tmp_path):
    code = (
        "import os; from skinpin.imaging.child import limit_process; limit_process();"
        f"os.write(os.open({str(tmp_path / 'x')!r}, os.O_CREAT | os.O_WRONLY), b'1')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True)
    assert done.returncode != 0
    assert (tmp_path / "x").read_bytes() == b""


def test_the_child_has_a_bound_on_memory():
    code = (
        "from skinpin.imaging.child import limit_process; limit_process();"
        "import resource, json; print(json.dumps(resource.getrlimit(resource.RLIMIT_AS)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert json.loads(done.stdout) == [2 * 1024**3] * 2
