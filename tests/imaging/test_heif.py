"""HEIC in: turned upright once, by its own sign."""

import base64
import io
import json
from pathlib import Path

import pytest
from PIL import Image
from skinpin.domain.errors import Refused
from skinpin.imaging.child import upright_grey
from skinpin.imaging.renderer import Renderer

PICTURES = json.loads((Path(__file__).parents[1] / "frontend/imaging/pictures.json").read_text())
RED, GREEN, BLUE = (200, 40, 40), (40, 200, 40), (40, 40, 200)


@pytest.fixture(params=["plain-heic", "turned-heic"])
def heic(request):
    return base64.b64decode(PICTURES[request.param])


def test_a_heic_becomes_an_upright_jpeg(heic):
    renderer = Renderer()
    try:
        made = renderer.render(heic, [1600])
    finally:
        renderer.close()
    assert (made.width_px, made.height_px) == (96, 64)
    shown = Image.open(io.BytesIO(made.pictures[1600]))
    assert shown.size == (96, 64)
    assert shown.getexif().get(0x0112, 1) == 1
    for at, colour in (((10, 10), RED), ((85, 10), GREEN), ((10, 54), BLUE)):
        got = shown.getpixel(at)
        assert max(abs(a - b) for a, b in zip(got, colour, strict=True)) < 12


def test_its_grey_is_upright_too(heic):
    assert upright_grey_in_child(heic).shape == (64, 96)


def upright_grey_in_child(content):
    import pi_heif

    pi_heif.register_heif_opener(thumbnails=False)
    return upright_grey(content)


def test_a_heic_cut_short_is_refused(heic):
    renderer = Renderer()
    try:
        for length in (40, 300, len(heic) - 5):
            with pytest.raises(Refused) as refused:
                renderer.render(heic[:length], [320])
            assert refused.value.code == "unreadable_picture"
    finally:
        renderer.close()
