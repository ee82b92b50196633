"""Drawings become pictures in the child; hostile files become a sentence.

`FAULT_SEED` plays other damaged files.
"""

import io
import json
import os
import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator

import pytest
from PIL import Image
from skinpin.domain.errors import Refused
from skinpin.imaging.drawings import MOST_PAGES, MOST_PIXELS
from skinpin.imaging.renderer import Renderer

from tests.imaging.pictures import bomb, picture
from tests.imaging.sheets import empty_pages, pdf, sheet, svg
from tests.imaging.test_mutated import highest_kb, mutated

SEED = int(os.environ.get("FAULT_SEED", "20251103"))
COUNT = 150
SLOW = svg('<g opacity="0.9"><circle r="90" cx="200" cy="50"/></g>' * 20_000)
SMALL = "import sys; from skinpin.imaging import child, drawings; drawings.LONGEST_PX = 200; "
SERVE = "child.limit_process(); child.serve(sys.stdin.buffer, sys.stdout.buffer)"


@pytest.fixture(scope="module")
def renderer() -> Iterator[Renderer]:
    one = Renderer()
    yield one
    one.close()


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def is_red(image: Image.Image, share: float) -> bool:
    red, green, _ = image.convert("RGB").getpixel((int(share * image.width), image.height // 2))
    return red > 200 > 60 > green


def test_an_svg_is_drawn_as_large_as_a_sheet(renderer):
    made = renderer.draw(svg(), 1)
    image = opened(made.content)
    assert (made.media_type, made.pages) == ("image/png", 1)
    assert image.size == (made.width_px, made.height_px)
    assert 4000 < image.width <= 4096
    assert image.width / image.height == pytest.approx(4, abs=0.01)
    assert is_red(image, 0.2)
    assert not is_red(image, 0.3)


def test_letters_of_an_svg_are_drawn_by_our_own_font(renderer):
    words = '<text x="250" y="80" font-size="60" font-family="No Such Font">F6</text>'
    plain, lettered = (opened(renderer.draw(svg(one), 1).content) for one in ("", words))
    darkest = [image.convert("L").crop((2000, 0, 4000, 1000)).getextrema()[0]
               for image in (plain, lettered)]  # fmt: skip
    assert darkest == [255, 0]


def test_a_page_of_a_pdf_is_chosen(renderer):
    content = pdf(["blue", "red", "green"])
    made = renderer.draw(content, 2)
    assert made.pages == 3
    assert is_red(opened(made.content), 0.1)
    assert not is_red(opened(renderer.draw(content, 3).content), 0.1)
    with pytest.raises(Refused) as refused:
        renderer.draw(content, 4)
    assert (refused.value.code, refused.value.message) == (
        "no_such_page",
        "There is no page 4: the file has 3.",
    )


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_jpeg_is_kept_upright_and_says_nothing_of_place_and_camera(renderer, orientation):
    made = renderer.draw(picture((600, 200), "JPEG", orientation), 1)
    image = opened(made.content)
    assert made.media_type == "image/jpeg"
    assert image.size == ((200, 600) if orientation in (6, 8) else (600, 200))
    assert not image.getexif()


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "P", "L", "1", "LA"])
def test_a_png_stays_one_on_white(renderer, mode):
    made = renderer.draw(picture((400, 100), "PNG", mode=mode), 1)
    assert (made.media_type, opened(made.content).mode) == (
        "image/png",
        "L" if mode in ("L", "1") else "RGB",
    )


def test_a_large_scan_is_made_no_larger_than_a_tablet_can_show(renderer):
    out = io.BytesIO()
    Image.new("1", (8000, 6000), 1).save(out, "PNG")
    made = renderer.draw(out.getvalue(), 1)
    assert made.width_px * made.height_px <= MOST_PIXELS
    assert made.width_px / made.height_px == pytest.approx(8 / 6, abs=0.001)


def test_a_page_that_is_a_photograph_becomes_a_jpeg(renderer):
    noise = Image.frombytes("RGB", (200, 150), random.Random(SEED).randbytes(90_000))
    out = io.BytesIO()
    noise.save(out, "PDF")
    assert renderer.draw(out.getvalue(), 1).media_type == "image/jpeg"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "unreadable_picture"),
        (b"solid part", "unreadable_picture"),
        (picture((800, 300))[:2000], "unreadable_picture"),
        (bomb(12_000, 12_000), "too_many_pixels"),
        (picture((800, 300), "PNG")[:-900], "unreadable_picture"),
        (pdf(["red"])[:300], "unreadable_picture"),
        (svg('<image href="file:///etc/hostname"/>'), "unreadable_picture"),
        (svg(before='<!DOCTYPE svg [<!ENTITY a "b">]>'), "unreadable_picture"),
        (empty_pages(5_000), "too_many_pages"),
    ],
    ids=["empty", "text", "cut jpeg", "bomb", "cut png", "cut pdf", "href", "entity", "pages"],
)
def test_what_is_no_drawing_of_sane_size_is_refused_with_a_sentence(renderer, content, code):
    with pytest.raises(Refused) as refused:
        renderer.draw(content, 1)
    assert refused.value.code == code
    assert refused.value.message.endswith(".")
    assert renderer.render(picture(), [320]).width_px == 600


def test_an_svg_in_utf_16_is_told_how_to_save_it(renderer):
    for code in ("utf-16", "utf-16-le", "utf-16-be"):
        with pytest.raises(Refused) as refused:
            renderer.draw(svg().decode().encode(code), 1)
        assert refused.value.message == "The SVG is written in UTF-16: save it as UTF-8."


def test_a_pdf_of_many_pages_is_looked_through_up_to_the_limit(renderer):
    assert renderer.draw(empty_pages(MOST_PAGES), MOST_PAGES).pages == MOST_PAGES


def test_a_page_that_is_larger_than_any_sheet_is_drawn_smaller(renderer):
    content = empty_pages(1).replace(b"[0 0 200 100]", b"[0 0 14400 14400]")
    made = renderer.draw(content, 1)
    assert made.width_px * made.height_px <= MOST_PIXELS


def test_a_drawing_that_takes_long_holds_up_no_photograph():
    """Many wide strokes, see-through and laid on each other: slow to draw, small as a file."""
    one, told = Renderer(time_limit_s=6), []
    one.render(picture(), [320])

    def draw():
        try:
            one.draw(SLOW, 1)
        except Refused as refused:
            told.append(refused.code)
        told.append("over")

    thread = threading.Thread(target=draw)
    thread.start()
    try:
        while not one._drawings._inside:
            time.sleep(0.001)
        for _ in range(3):
            assert one.render(picture(), [320]).width_px == 600
        assert told == []
        thread.join(30)
        assert told == ["unreadable_picture", "over"]
        assert one.draw(svg(), 1).pages == 1
    finally:
        thread.join(30)
        one.close()


def test_no_damaged_drawing_ends_or_swells_the_child():
    """The child draws small here, so that many fit into a test; nothing else is changed."""
    chance = random.Random(SEED)
    words = svg('<g id="a"><path d="M0 0L9 9"/></g><use href="#a"/><text x="9" y="9">F6</text>')
    png = io.BytesIO()
    sheet().save(png, "PNG")
    whole = [words, words, pdf(["red", "blue"]), empty_pages(3), png.getvalue(), picture()]
    command = [sys.executable, "-c", SMALL + SERVE]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as child:
        made = sum(_is_made(child, mutated(chance.choice(whole), chance)) for _ in range(COUNT))
        assert highest_kb(child.pid) < 1024 * 1024
        child.stdin.close()
        assert child.wait(10) == 0
    print(f"seed {SEED}: {COUNT} drawings, {made} of them made")
    assert 0 < made < COUNT


def _is_made(child: subprocess.Popen, content: bytes) -> bool:
    message = json.dumps({"size_bytes": len(content), "page": 1}).encode()
    child.stdin.write(message + b"\n" + content)
    child.stdin.flush()
    head = json.loads(child.stdout.readline())
    for size in head["sizes_bytes"]:
        assert len(child.stdout.read(size)) == size
    assert ("code" in head) is not ("media_type" in head)
    return "media_type" in head
