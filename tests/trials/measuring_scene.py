"""A camera over a plate with the scale card on it: what it sees, where true points lie in it."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians, sin
from random import Random

import cv2
import numpy as np
from skinpin.domain.scale_card import CARD, card_corners

from tests.cards import PX_PER_MM, SKIN, as_jpeg, printed_card

SIZE = (1600, 1200)
FOCAL_PX = 1300.0
LOOKS = 3
Point = tuple[float, float]


@dataclass(frozen=True)
class Camera:
    """How one picture was taken.

    `tilt_deg` between the view and the plate's normal, about an axis in the plate at `axis_deg`;
    `distance_mm` to the middle of the card; `k1` of the lens: r' = r (1 + k1 r²), r over the focal
    length (Brown's first radial term); `times` the pixels of `SIZE` each way.
    """

    tilt_deg: float
    axis_deg: float
    roll_deg: float
    distance_mm: float
    off_px: Point
    k1: float
    blur_px: float
    noise: float
    quality: int
    times: float = 1.0

    @property
    def size(self) -> tuple[int, int]:
        """Return the width and height of its pictures, px."""
        return round(SIZE[0] * self.times), round(SIZE[1] * self.times)

    @property
    def focal_px(self) -> float:
        """Return the focal length, px."""
        return FOCAL_PX * self.times

    def seen(self, at_mm: Point) -> Point:
        """Return where a point of the plate lies in the picture, px from its corner."""
        x, y, depth = self.turned(at_mm)
        across, down = x / depth, y / depth
        bent = 1 + self.k1 * (across**2 + down**2)
        middle = (self.size[0] / 2, self.size[1] / 2)
        return middle[0] + self.focal_px * across * bent, middle[1] + self.focal_px * down * bent

    def turned(self, at_mm: Point) -> tuple[float, float, float]:
        """Return a point of the plate as the camera has it: right, down and away, mm."""
        x, y = at_mm[0] - CARD["width_mm"] / 2, at_mm[1] - CARD["height_mm"] / 2
        (a, b), tilt, roll = self._axis(), radians(self.tilt_deg), radians(self.roll_deg)
        along, across = a * x + b * y, -b * x + a * y
        flat, depth = across * cos(tilt), across * sin(tilt)
        x, y = a * along - b * flat, b * along + a * flat
        x, y = cos(roll) * x - sin(roll) * y, sin(roll) * x + cos(roll) * y
        off = [each / FOCAL_PX * self.distance_mm for each in self.off_px]
        return x + off[0], y + off[1], self.distance_mm + depth

    def _axis(self) -> Point:
        return cos(radians(self.axis_deg)), sin(radians(self.axis_deg))

    def plain(self) -> np.ndarray:
        """Return the homography from the plate, mm, to the picture of a lens that bends nothing."""
        straight = Camera(**{**self.__dict__, "k1": 0.0})
        corners = card_corners()
        there = np.float32([straight.seen(one) for one in corners])
        return cv2.getPerspectiveTransform(np.float32(corners), there).astype(float)

    def whole_card(self) -> bool:
        """Return whether the whole card is in the picture, and not on edge."""
        corners = [self.seen(one) for one in card_corners()]
        wide, high = self.size
        return all(20 < x < wide - 20 and 20 < y < high - 20 for x, y in corners)


def camera_of(tilt_deg: float, k1: float, chance: Random, times: float = 1.0) -> Camera:
    """Draw a camera that has the whole card in view."""
    while True:
        camera = Camera(
            tilt_deg,
            chance.uniform(0, 360),
            chance.uniform(0, 360),
            chance.choice((220.0, 300.0, 420.0)),
            (chance.uniform(-300, 300), chance.uniform(-220, 220)),
            k1,
            chance.choice((0.5, 1.0, 1.6)),
            chance.choice((2.0, 6.0)),
            chance.choice((60, 80, 92)),
            times,
        )
        if camera.whole_card():
            return camera


def photographed(camera: Camera, chance: Random) -> np.ndarray:
    """Return the grey of the picture, after blur, noise and JPEG."""
    picture = _plate(camera.size, chance)
    corners = [camera.seen(one) for one in card_corners()]
    xs, ys = zip(*corners, strict=True)
    left, top = (max(0, int(min(each)) - 8) for each in (xs, ys))
    right = min(camera.size[0], int(max(xs)) + 8)
    lower = min(camera.size[1], int(max(ys)) + 8)
    picture[top:lower, left:right] = _card(camera, (left, top, right, lower), picture)
    picture = cv2.GaussianBlur(picture, (0, 0), camera.blur_px)
    grain = np.random.default_rng(chance.getrandbits(32)).normal(0, camera.noise, picture.shape)
    jpeg = as_jpeg(picture + grain, camera.quality)
    return cv2.imdecode(np.frombuffer(jpeg, np.uint8), cv2.IMREAD_GRAYSCALE)


def _plate(size: tuple[int, int], chance: Random) -> np.ndarray:
    """Return a plate with rivets, lit from one side."""
    wide, high = size
    across = np.linspace(-18, 18, wide, dtype=np.float32)
    plate = np.tile(SKIN + across, (high, 1)).astype(np.float32)
    pitch = chance.randint(60, 140)
    for x in range(pitch // 2, wide, pitch):
        cv2.circle(plate, (x, chance.randint(40, 60)), 12, 95.0, -1, cv2.LINE_AA)
        cv2.circle(plate, (x, high - 50), 12, 150.0, 2, cv2.LINE_AA)
    return plate


def _card(camera: Camera, box: tuple[int, int, int, int], plate: np.ndarray) -> np.ndarray:
    """Return a part of the picture with the card in it: nine looks a pixel."""
    left, top, right, lower = box
    step = np.arange(0.5, LOOKS) / LOOKS
    xs = (np.arange(left, right)[:, None] + step).ravel()
    ys = (np.arange(top, lower)[:, None] + step).ravel()
    middle = (camera.size[0] / 2, camera.size[1] / 2)
    x, y = np.meshgrid((xs - middle[0]) / camera.focal_px, (ys - middle[1]) / camera.focal_px)
    u, v = x.copy(), y.copy()
    for _ in range(8):
        bent = 1 + camera.k1 * (u**2 + v**2)
        u, v = x / bent, y / bent
    u, v = u * camera.focal_px + middle[0], v * camera.focal_px + middle[1]
    back = np.linalg.inv(camera.plain())
    depth = back[2, 0] * u + back[2, 1] * v + back[2, 2]
    to_px = [
        ((back[row, 0] * u + back[row, 1] * v + back[row, 2]) / depth * PX_PER_MM - 0.5)
        for row in (0, 1)
    ]
    ink = printed_card().astype(np.float32) * (195 / 255) + 30
    ground = np.repeat(np.repeat(plate[top:lower, left:right], LOOKS, 0), LOOKS, 1)
    seen = cv2.remap(
        ink,
        to_px[0].astype(np.float32),
        to_px[1].astype(np.float32),
        cv2.INTER_LINEAR,
        ground,
        cv2.BORDER_TRANSPARENT,
    )
    return cv2.resize(seen, (right - left, lower - top), interpolation=cv2.INTER_AREA)


def true_length(one: Point, other: Point) -> float:
    """Return how far two points of the plate lie apart, mm."""
    return hypot(one[0] - other[0], one[1] - other[1])
