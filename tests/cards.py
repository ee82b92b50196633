"""The scale card as it is printed, and a camera that looks at it."""

import io
from collections.abc import Sequence
from functools import cache

import cv2
import numpy as np
import resvg_py
from PIL import Image
from skinpin.domain.scale_card import CARD
from skinpin.reports.scale_card import card_svg

PX_PER_MM = 20
SKIN = 120.0


@cache
def printed_card() -> np.ndarray:
    """Return the card without its words, grey, `PX_PER_MM` pixels a millimetre."""
    wide, high = CARD["width_mm"], CARD["height_mm"]
    size = f'width="{wide * PX_PER_MM}" height="{high * PX_PER_MM}"'
    drawn = card_svg().replace(f'width="{wide}mm" height="{high}mm"', size)
    png = resvg_py.svg_to_bytes(svg_string=drawn)
    return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("L"))


def looked_at(
    to_picture: Sequence[Sequence[float]], size: tuple[int, int], looks: int = 3
) -> np.ndarray:
    """Return what a camera sees, grey: the card through a homography from mm to px.

    `looks` samples a pixel each way; pixels are counted from the corner of the picture.
    """
    card = printed_card().astype(np.float32) * (200 / 255) + 30
    larger = np.diag([looks, looks, 1.0])
    to_mm = np.array(
        [[1 / PX_PER_MM, 0, 0.5 / PX_PER_MM], [0, 1 / PX_PER_MM, 0.5 / PX_PER_MM], [0, 0, 1]]
    )
    half = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1.0]])
    through = half @ larger @ np.asarray(to_picture, float) @ to_mm
    seen = cv2.warpPerspective(
        card,
        through,
        (size[0] * looks, size[1] * looks),
        flags=cv2.INTER_AREA,
        borderMode=cv2.BORDER_CONSTANT,
        borderValue=SKIN,
    )
    return cv2.resize(seen, size, interpolation=cv2.INTER_AREA)


def as_jpeg(grey: np.ndarray, quality: int = 90, orientation: int = 1) -> bytes:
    """Return a picture as a JPEG that says how it is to be turned."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    out = io.BytesIO()
    image = Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8)).convert("RGB")
    image.save(out, "JPEG", quality=quality, exif=exif)
    return out.getvalue()
