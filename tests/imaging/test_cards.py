"""The server's own look for the scale card, as the sheet has it."""

import cv2
import numpy as np
import pytest
from skinpin.domain.errors import Refused
from skinpin.domain.scale_card import card_corners
from skinpin.imaging.cards import find_card

from tests.cards import as_jpeg, looked_at
from tests.imaging.pictures import bomb, picture

SIZE = (1200, 900)
FACING = [(200.3, 160.7), (1000.3, 160.7), (1000.3, 660.7), (200.3, 660.7)]
TILTED = [(251.2, 240.4), (900.8, 136.1), (981.9, 690.6), (178.7, 596.3)]


def through(corners):
    return cv2.getPerspectiveTransform(np.float32(card_corners()), np.float32(corners))


def farthest(found, truth):
    return max(np.hypot(x - a, y - b) for (x, y), (a, b) in zip(found, truth, strict=True))


@pytest.mark.parametrize("corners", [FACING, TILTED, TILTED[2:] + TILTED[:2]])
def test_the_card_is_found_to_three_tenths_of_a_pixel(corners):
    found = find_card(as_jpeg(looked_at(through(corners), SIZE)))
    assert found.ids == [11, 12, 13, 14]
    assert farthest(found.corners, corners) < 0.3
    assert found.residual_px < 0.5


def test_corners_are_those_of_the_picture_as_it_is_seen():
    seen = looked_at(through(TILTED), SIZE)
    # Stored turned by a quarter to the left; 6 says: turn it to the right to see it.
    found = find_card(as_jpeg(np.rot90(seen), orientation=6))
    assert farthest(found.corners, TILTED) < 0.3


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (picture(SIZE), "no_card"),
        (b"no picture", "unreadable_picture"),
        (bomb(12_000, 12_000), "unreadable_picture"),
    ],
)
def test_what_has_no_card_is_refused(content, code):
    with pytest.raises(Refused) as refused:
        find_card(content)
    assert refused.value.code == code


def test_two_cards_are_refused():
    seen = looked_at(through([(x / 2, y) for x, y in FACING]), SIZE)
    both = np.hstack([seen[:, :600], seen[:, :600]])
    with pytest.raises(Refused) as refused:
        find_card(as_jpeg(both))
    assert refused.value.code == "two_cards"


def test_a_look_that_takes_too_long_is_ended():
    with pytest.raises(Refused) as refused:
        find_card(picture(SIZE), time_limit_s=0.01)
    assert refused.value.code == "unreadable_picture"
