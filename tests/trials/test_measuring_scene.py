"""The camera of the measuring trial sees what a camera sees."""

from dataclasses import replace
from random import Random

import cv2
import numpy as np
import pytest
from skinpin.domain.scale_card import card_corners
from skinpin.imaging.cards import find_card

from tests.cards import as_jpeg
from tests.trials.measuring_scene import FOCAL_PX, SIZE, camera_of, photographed


@pytest.mark.parametrize("k1", [0.0, 0.02, -0.1])
def test_points_lie_where_opencv_projects_them(k1):
    camera = camera_of(40, k1, Random(3))
    inside = np.array([[FOCAL_PX, 0, SIZE[0] / 2], [0, FOCAL_PX, SIZE[1] / 2], [0, 0, 1.0]])
    points = [(0.0, 0.0), (80.0, 0.0), (33.0, 71.0), (-20.0, 12.0)]
    there = np.array([camera.turned(one) for one in points])
    projected, _ = cv2.projectPoints(
        there, np.zeros(3), np.zeros(3), inside, np.array([k1, 0, 0, 0.0])
    )
    assert np.abs(projected[:, 0] - [camera.seen(one) for one in points]).max() < 1e-6


def test_tilt_shortens_what_lies_along_it_by_its_cosine():
    # A far camera sees no perspective: what is left is cos 30°.
    flat = replace(
        camera_of(0, 0.0, Random(5)), axis_deg=0.0, roll_deg=0.0, distance_mm=1e6, off_px=(0.0, 0.0)
    )
    tilted = replace(flat, tilt_deg=30.0)
    high = [abs(one.seen((40, 50))[1] - one.seen((40, 0))[1]) for one in (flat, tilted)]
    assert high[1] / high[0] == pytest.approx(0.8660254, abs=1e-4)


def test_the_card_is_drawn_where_the_camera_sees_it():
    chance = Random(11)
    camera = camera_of(30, 0.0, chance)
    found = find_card(as_jpeg(photographed(camera, chance)))
    truth = [camera.seen(one) for one in card_corners()]
    assert np.linalg.norm(np.array(found.corners) - truth, axis=1).max() < 0.6
