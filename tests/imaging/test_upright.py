"""The eight orientations of EXIF, to the pixel. CIPA DC-008, Exif 2.32, tag 0x0112.

What each turns six pixels into was worked out with an imaging library and written down.
"""

import io

import numpy as np
import pytest
from PIL import Image
from skinpin.imaging.child import render, upright_grey

STORED = [[0, 10, 20], [1, 11, 21]]
SEEN = {
    1: STORED,
    2: [[20, 10, 0], [21, 11, 1]],
    3: [[21, 11, 1], [20, 10, 0]],
    4: [[1, 11, 21], [0, 10, 20]],
    5: [[0, 1], [10, 11], [20, 21]],
    6: [[1, 0], [11, 10], [21, 20]],
    7: [[21, 20], [11, 10], [1, 0]],
    8: [[20, 21], [10, 11], [0, 1]],
}


def stored(orientation, kind, block=1):
    grey = np.kron(np.array(STORED, np.uint8) * 10, np.ones((block, block), np.uint8))
    exif = Image.Exif()
    exif[0x0112] = orientation
    out = io.BytesIO()
    Image.fromarray(grey).save(out, kind, exif=exif, **({"quality": 95} if kind == "JPEG" else {}))
    return out.getvalue()


@pytest.mark.parametrize("orientation", SEEN)
def test_every_orientation_is_upright_to_the_pixel(orientation):
    assert (upright_grey(stored(orientation, "PNG")) == np.array(SEEN[orientation]) * 10).all()


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
@pytest.mark.parametrize("orientation", SEEN)
def test_every_orientation_is_upright_in_a_rendition(orientation, kind):
    told, (jpeg,) = render(stored(orientation, kind, block=16), [320])
    shown = np.asarray(Image.open(io.BytesIO(jpeg)).convert("L")).astype(int)
    seen = np.array(SEEN[orientation])
    assert (told["height_px"], told["width_px"]) == shown.shape == tuple(16 * n for n in seen.shape)
    assert np.abs(shown[8::16, 8::16] - seen * 10).max() <= 4
