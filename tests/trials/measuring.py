"""Lengths from rendered photographs: how far off they are, and whether their ± holds the truth.

The truth is known, the touches are drawn by `measuring_touches`, which no measuring code can see;
what error the page records for them comes from the page's own code.
The card's corners come from the tablet's own finder, or from touches on a rectangle, or the scale
is two touches. A share of 95 % is what twice the standard uncertainty promises of normal errors.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator
from math import cos, pi, sin
from pathlib import Path
from random import Random
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

import cv2
import numpy as np
from skinpin.domain.errors import Refused
from skinpin.domain.photo_measure import measured
from skinpin.domain.scale_card import CARD, card_corners

from tests.trials.browser import browser_part
from tests.trials.measuring_scene import SIZE, Camera, camera_of, photographed, true_length
from tests.trials.measuring_touches import touched
from tests.trials.record import Measured, percentile

SEED = 8
TILTS = (0, 10, 20, 30, 40, 50)
# A phone bends lines by about 1 % at the corner after its own correction: k1 = 0.02 does that.
LENSES = (0.0, 0.0, 0.02, -0.02)
STRONG_LENS = -0.1
PICTURES_A_CASE = 2
# 12 Mpx: a camera of today.
LARGE = 2.5
# How wide a picture is drawn on a tablet beside its keys, and on a desk: px of the screen.
DRAWN_PX = (435, 1200)
LOOK_PX = 1600
LENGTHS = 20
TWO_POINTS_MM = 60.0
MM = {"unit": "mm"}
Point = tuple[float, float]


class Touch(NamedTuple):
    """How points are touched, on a picture drawn how coarsely, and the error the page records."""

    how: str
    screen_px: float
    tap: str

    @property
    def name(self) -> str:
        """Return what its case is called."""
        drawn = f", {self.screen_px:.1f} px of the picture under one of the screen"
        return f"{self.how}{drawn if self.how == 'finger' else ''}"


class Told(NamedTuple):
    """One length: what it was measured by, how far off it is, and what was stated, mm."""

    scale: str
    touch: Touch
    camera: Camera
    off_mm: float
    stated_mm: float

    @property
    def holds(self) -> bool:
        """Return whether the truth lies inside what was stated; the last digit is decimal text."""
        return abs(self.off_mm) <= self.stated_mm + 1e-9


def measure() -> Iterator[Measured]:
    """Take the pictures, find the card, measure, and tell the share by case."""
    told, lost, refused = trial(Random(SEED))
    usual = [one for one in told if one.camera.k1 != STRONG_LENS]
    share = share_of(usual)
    said = f"{len(usual)} lengths of which {share:.2f} % hold, {refused} refused"
    yield Measured(
        *("measuring", abs(share - 95), f"% points off 95 %, all: {said}", None, None, "<= 1.5")
    )
    yield Measured(
        *("measuring", 100 * lost[0] / lost[1], "% of cards not found, finder", None, None, "<= 5")
    )
    for name, case in CASES.items():
        groups: dict[str, list[Told]] = defaultdict(list)
        for one in told if name == "lens" else usual:
            groups[case(one)].append(one)
        for of in sorted(groups):
            yield row(f"{name} {of}", groups[of])


def row(name: str, case: list[Told]) -> Measured:
    """Return the share of a case that holds, with its errors; a bent lens costs some."""
    off = [abs(one.off_mm) for one in case]
    errors = f"error median {median(off):.3f} mm and p95 {percentile(off, 0.95):.3f} mm"
    goal = ">= 75" if name == f"lens k1 {STRONG_LENS}" else ">= 90"
    said = f"% of {len(case)} hold, {name}: {errors}"
    return Measured("measuring", share_of(case), said, None, None, goal)


CASES: dict[str, Callable[[Told], str]] = {
    "scale": lambda one: one.scale,
    "touch": lambda one: one.touch.name,
    "picture": lambda one: f"{one.camera.size[0]} × {one.camera.size[1]}",
    "tilt": lambda one: f"{one.camera.tilt_deg:02.0f}°",
    "distance": lambda one: f"{one.camera.distance_mm:.0f} mm",
    "blur": lambda one: f"{one.camera.blur_px} px",
    "noise": lambda one: f"{one.camera.noise:.0f} grey levels",
    "JPEG": lambda one: f"quality {one.camera.quality}",
    "lens": lambda one: f"k1 {one.camera.k1}",
}


def share_of(told: list[Told]) -> float:
    """Return how many of a hundred lengths hold the truth."""
    return 100 * sum(one.holds for one in told) / len(told)


def trial(chance: Random) -> tuple[list[Told], tuple[int, int], int]:
    """Return the lengths, how many cards of how many were not found, how many were refused."""
    cameras = [
        camera_of(tilt, k1, chance)
        for tilt in TILTS
        for k1 in (*LENSES, STRONG_LENS)
        for _ in range(PICTURES_A_CASE)
    ]
    cameras += [camera_of(tilt, k1, chance, LARGE) for tilt in TILTS for k1 in LENSES]
    found, taps = cards_found(cameras, chance)
    told: list[Told] = []
    refused = 0
    for camera, card in zip(cameras, found, strict=True):
        for touch in touches(camera, taps):
            for scale in scales(camera, card, touch, chance):
                lengths = [length_in(camera, scale, touch, chance) for _ in range(LENGTHS)]
                told += [one for one in lengths if one is not None]
                refused += sum(one is None for one in lengths)
    lost = sum("code" in one for one in found)
    return told, (lost, len(found)), refused


def touches(camera: Camera, taps: dict[str, Any]) -> list[Touch]:
    """Return the ways a picture is touched."""
    fingers = [
        Touch("finger", screen_px, taps["finger"][SCREENS_PX.index(screen_px)])
        for screen_px in (camera.size[0] / wide for wide in DRAWN_PX)
    ]
    return [Touch("loupe", 1.0, taps["loupe"]), *fingers]


SCREENS_PX = [times * SIZE[0] / wide for times in (1.0, LARGE) for wide in DRAWN_PX]


def cards_found(
    cameras: list[Camera], chance: Random
) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """Return what the tablet's finder says of each picture, and the errors the page records."""
    with TemporaryDirectory() as folder:
        pictures = []
        for at, camera in enumerate(cameras):
            picture = photographed(camera, chance)
            whole = grey_file(Path(folder, f"{at}.grey"), picture)
            share = min(1.0, LOOK_PX / camera.size[0])
            small = cv2.resize(picture, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
            pictures.append({"whole": whole, "small": grey_file(Path(folder, f"{at}.s"), small)})
        given = Path(folder, "given.json")
        given.write_text(json.dumps({"pictures": pictures, "screens_px": SCREENS_PX}))
        said = browser_part("measuring", TRIAL_GIVEN=str(given))
    return said["cards"], said["taps"]


def grey_file(path: Path, picture: np.ndarray) -> tuple[str, int, int]:
    """Write a picture as raw grey; return its path, width and height."""
    path.write_bytes(np.ascontiguousarray(picture).tobytes())
    return str(path), picture.shape[1], picture.shape[0]


def scales(
    camera: Camera, card: dict[str, Any], touch: Touch, chance: Random
) -> Iterator[dict[str, Any]]:
    """Return the scales that can be set in a picture, as they would be recorded."""

    def seen(at_mm: Point) -> list[int]:
        return tenths(touched(camera.seen(at_mm), touch.how, chance, touch.screen_px))

    size = {"width": {"value": str(CARD["width_mm"]), **MM}}
    size |= {"height": {"value": str(CARD["height_mm"]), **MM}}
    if "code" not in card:
        kept = {"id": "SC-1", "measured": "100", "residual_px": f"{card['residual_px']:.2f}"}
        points = [tenths(one) for one in card["corners"]]
        yield {
            "method": "scale card",
            "points": points,
            "tap": CARD["corner_px"],
            "card": kept,
            **size,
        }
    rectangle = [seen(one) for one in card_corners()]
    yield {"method": "rectangle", "points": rectangle, "tap": touch.tap, **size}
    if camera.tilt_deg == 0:
        ends = [(10.0, 25.0), (10.0 + TWO_POINTS_MM, 25.0)]
        points = [seen(one) for one in ends]
        length = {"value": str(TWO_POINTS_MM), **MM}
        yield {"method": "two points", "points": points, "tap": touch.tap, "length": length}


def length_in(camera: Camera, scale: dict[str, Any], touch: Touch, chance: Random) -> Told | None:
    """Measure one length near the card; nothing where it is refused."""
    ends = ends_in(camera, chance)
    points = [tenths(touched(camera.seen(one), touch.how, chance, touch.screen_px)) for one in ends]
    measurement = {"shape": "length", "points": points, "tap": touch.tap}
    picture = {"width_px": camera.size[0], "height_px": camera.size[1]}
    try:
        said = measured(scale, measurement, picture, "mm")
    except Refused:
        return None
    off = float(said["value"]) - true_length(*ends)
    return Told(scale["method"], touch, camera, off, float(said["uncertainty"]))


def ends_in(camera: Camera, chance: Random) -> tuple[Point, Point]:
    """Return two points of the plate, 3 to 50 mm apart, that are both in the picture."""
    while True:
        one = chance.uniform(-50, CARD["width_mm"] + 50), chance.uniform(-40, 90)
        turn, far = chance.uniform(0, 2 * pi), chance.uniform(3, 50)
        other = one[0] + far * cos(turn), one[1] + far * sin(turn)
        wide, high = camera.size
        if all(5 < x < wide - 5 and 5 < y < high - 5 for x, y in map(camera.seen, (one, other))):
            return one, other


def tenths(at: Point | list[float]) -> list[int]:
    """Return a point as it is recorded."""
    return [round(10 * at[0]), round(10 * at[1])]
