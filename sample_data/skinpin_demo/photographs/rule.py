"""A steel rule with true divisions, laid over the shaded picture."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from skinpin_demo.photographs.noise import HEIGHT, WIDTH

TOP_PX, HEIGHT_PX, LEFT_PX = 1010, 104, 130
_INK = (26, 27, 28)


def zero_px() -> int:
    """Return where the 0 of every rule lies, from the left edge of the picture."""
    return LEFT_PX + 28


def lay_rule(light: NDArray[np.float32], ppi: int, seed: int) -> NDArray[np.float32]:
    """Lay the rule over the picture: inches, tenths, and figures at the inches."""
    inches = (WIDTH - LEFT_PX - 28 - 150) // ppi
    width = inches * ppi + 110
    strip = _steel(width, seed)
    _engrave(strip, inches, ppi)
    top, left = TOP_PX, LEFT_PX
    shadow = light[top + 8 : top + HEIGHT_PX + 14, left + 6 : left + width + 12]
    shadow *= 0.55
    light[top : top + HEIGHT_PX, left : left + width] = np.asarray(strip, np.float32) / 255
    assert light.shape == (HEIGHT, WIDTH, 3)
    return light


def _steel(width: int, seed: int) -> Image.Image:
    rng = np.random.default_rng(seed)
    rows = np.linspace(0.86, 0.70, HEIGHT_PX, dtype=np.float32)[:, None]
    grain = rng.normal(0, 0.012, (HEIGHT_PX, width)).astype(np.float32)
    streak = rng.normal(0, 0.012, (HEIGHT_PX, 1)).astype(np.float32)
    along = 0.04 * np.sin(np.linspace(0.4, 2.6, width, dtype=np.float32))[None, :]
    face = rows + grain + streak + along
    face[:3] = 0.95
    face[-3:] = 0.42
    tones = face[..., None] * np.array([0.97, 0.98, 0.97], np.float32)
    return Image.fromarray((np.clip(tones, 0, 1) * 255).astype(np.uint8), "RGB")


def _engrave(strip: Image.Image, inches: int, ppi: int) -> None:
    draw = ImageDraw.Draw(strip)
    font = ImageFont.load_default(size=40 if ppi >= 70 else 30)
    tenth = ppi // 10
    figured = 1 if ppi >= 60 else 5
    for i in range(inches * 10 + 1):
        x = 28 + i * tenth
        long = 46 if i % 10 == 0 else 34 if i % 5 == 0 else 22
        wide = 1 if i % 10 == 0 and ppi >= 80 else 0
        draw.rectangle([x - wide, 0, x + wide, long], fill=_INK)
        if i % (10 * figured) == 0:
            draw.text((x + 8, 54), str(i // 10), fill=_INK, font=font)
