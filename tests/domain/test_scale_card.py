"""The scale card: what its table says of the markers is what the published dictionary says."""

import cv2
import numpy as np
from skinpin.domain.scale_card import CARD, card_corners, marker_bits, marker_corners


def test_markers_are_those_of_the_published_dictionary() -> None:
    published = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_ARUCO_MIP_36h12)
    for marker in CARD["markers"]:
        drawn = cv2.aruco.generateImageMarker(published, marker["id"], 8)[1:7, 1:7] // 255
        assert marker_bits(marker) == ["".join(map(str, row)) for row in drawn]


def test_no_marker_is_taken_for_another_or_for_itself_turned() -> None:
    squares = [np.array([list(row) for row in marker_bits(one)]) for one in CARD["markers"]]
    for at, one in enumerate(squares):
        for other, square in enumerate(squares):
            for turns in range(4):
                if at != other or turns:
                    # Three bits may be misread on the tablet, five on the server.
                    assert np.sum(one != np.rot90(square, turns)) >= 12


def test_every_marker_lies_on_the_card_with_white_round_it() -> None:
    module_mm = CARD["side_mm"] / 8
    (left, top), _, (right, bottom), _ = card_corners()
    for marker in CARD["markers"]:
        for x, y in marker_corners(marker):
            assert left + module_mm <= x <= right - module_mm
            assert top + module_mm <= y <= bottom - module_mm
