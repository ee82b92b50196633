"""Riveted plates as grey pictures, and the same plate seen from elsewhere by a known homography."""

import cv2
import numpy as np

SIZE = (1600, 1200)
_CORNERS = np.array([(0, 0), (SIZE[0], 0), SIZE, (0, SIZE[1])], np.float32)


def plate(seed: int, *, marks: int = 400, grain: float = 1.0, pitch: int = 120) -> np.ndarray:
    """Return a plate with scratches and spots, rivets at a pitch in px (0: none)."""
    rng = np.random.default_rng(seed)
    wide, high = SIZE
    noise = rng.normal(0, 60, (high, wide)).astype(np.float32)
    metal = 140 + grain * cv2.GaussianBlur(noise, (0, 0), 3) + np.linspace(-20, 20, wide)
    grey = np.clip(metal, 0, 255).astype(np.uint8)
    heads = range(100, wide, pitch) if pitch else ()
    for x, y in [(x, y) for x in heads for y in range(150, high, 2 * pitch)]:
        for radius, tone in ((22, 90), (18, 150), (8, 220)):
            cv2.circle(grey, (x, y), radius, tone, -1, cv2.LINE_AA)
    for _ in range(marks):
        spot = [int(one) for one in rng.integers(0, SIZE)]
        tone = int(rng.integers(20, 230))
        cv2.circle(grey, spot, int(rng.integers(2, 9)), tone, -1, cv2.LINE_AA)
        if rng.random() < 0.1:
            end = [int(one) for one in spot + rng.integers(-120, 120, 2)]
            cv2.line(grey, spot, end, tone, 2, cv2.LINE_AA)
    return grey


def seen_again(
    grey: np.ndarray, seed: int, *, shift: float = 0.1, gain: float = 0.7, noise: float = 6.0
) -> tuple[np.ndarray, np.ndarray]:
    """Return a picture from elsewhere and the homography to it, px counted from the corner.

    Corners move by up to `shift` of half a side; it is darker and noisier.
    """
    rng = np.random.default_rng(seed)
    moved = _CORNERS + rng.uniform(-shift, shift, (4, 2)) * (SIZE[0] / 2, SIZE[1] / 2)
    to_other = cv2.getPerspectiveTransform(_CORNERS, moved.astype(np.float32))
    half = np.array([(1, 0, -0.5), (0, 1, -0.5), (0, 0, 1)])
    laid = cv2.warpPerspective(grey, half @ to_other @ np.linalg.inv(half), SIZE)
    dark = np.clip(laid * gain + rng.normal(0, noise, laid.shape), 0, 255)
    return dark.astype(np.uint8), to_other


def jpeg(grey: np.ndarray, quality: int = 90) -> bytes:
    """Return a picture as JPEG."""
    return cv2.imencode(".jpg", grey, [cv2.IMWRITE_JPEG_QUALITY, quality])[1].tobytes()


def median_off(true: np.ndarray, found: list[float], size: tuple[int, int] = SIZE) -> float:
    """Return the median distance in px over a grid of points that both pictures show."""
    across, down = np.meshgrid(np.linspace(0.05, 0.95, 9), np.linspace(0.05, 0.95, 9))
    points = np.c_[across.ravel() * size[0], down.ravel() * size[1]][None]
    there = cv2.perspectiveTransform(points, true)[0]
    ours = cv2.perspectiveTransform(points, np.array(found).reshape(3, 3))[0]
    inside = ((there > 0) & (there < size)).all(axis=1)
    assert inside.sum() > 8
    return float(np.median(np.linalg.norm(there - ours, axis=1)[inside]))
