"""The doubt that a lens brings into a size, beside OpenCV's lens and a case worked out by hand."""

from math import hypot

import cv2
import numpy as np
import pytest
from skinpin.domain.photo_lens import LENS, bent, lens_u
from skinpin.domain.photo_measure import measured

PICTURE = {"width_px": 1600, "height_px": 1200}
HALF_PX = 1000.0
FOCAL_PX = 1300.0


@pytest.mark.parametrize("k", [0.01, -0.03])
def test_points_are_bent_as_opencv_bends_them(k):
    points = [(800.0, 600.0), (0.0, 0.0), (1600.0, 90.0), (333.0, 1111.0)]
    rays = np.array([((x - 800) / FOCAL_PX, (y - 600) / FOCAL_PX, 1.0) for x, y in points])
    inside = np.array([[FOCAL_PX, 0, 800], [0, FOCAL_PX, 600], [0, 0, 1.0]])
    k1 = k * (FOCAL_PX / HALF_PX) ** 2
    there, _ = cv2.projectPoints(rays, np.zeros(3), np.zeros(3), inside, np.array([k1, 0, 0, 0.0]))
    assert np.abs(there[:, 0] - bent(points, PICTURE, k)).max() < 1e-6


def length(corners, picks):
    """Return the length between two picks, in lengths of a scale of two corners."""
    (a, b), (c, d) = corners, picks
    return hypot(d[0] - c[0], d[1] - c[1]) / hypot(b[0] - a[0], b[1] - a[1])


def test_a_scale_at_the_edge_makes_what_lies_in_the_middle_doubtful():
    """Worked out by hand: at the share s the scale grows by k s², the middle does not."""
    corners = [(200.0, 600.0), (1400.0, 600.0)]
    picks = [(799.0, 600.0), (801.0, 600.0)]
    by_hand = LENS * 0.6**2 * length(corners, picks)
    assert lens_u(length, corners, picks, PICTURE) == pytest.approx(by_hand, rel=1e-4)


def test_what_is_bent_as_the_scale_is_has_no_doubt_by_the_lens():
    corners = [(200.0, 600.0), (1400.0, 600.0)]
    assert lens_u(length, corners, corners, PICTURE) == pytest.approx(0, abs=1e-9)
    turned = [(800.0, 0.0), (800.0, 1200.0)]
    assert lens_u(length, corners, turned, PICTURE) == pytest.approx(0, abs=1e-9)


def test_a_length_farther_from_the_middle_than_its_scale_is_told_with_more_doubt():
    scale = {
        "method": "two points",
        "points": [[7000, 6000], [9000, 6000]],
        "length": {"value": "100", "unit": "mm"},
        "tap": "0.6",
    }

    def doubt(x):
        one = {"shape": "length", "points": [[x, 6000], [x, 7000]], "tap": "0.6"}
        return float(measured(scale, one, PICTURE, "mm")["uncertainty"])

    assert doubt(11500) > doubt(8000)
