"""What is offered of two photographs of one view, and what is not."""

import io

import cv2
import numpy as np
import pytest
from PIL import Image
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply
from skinpin.imaging.register import Found
from skinpin.services.photographs import keep_bytes
from skinpin.services.registration import Asked, judge_found, register_pair

from tests.imaging.plates import SIZE, jpeg, median_off, plate, seen_again


def kept(bench, grey):
    return keep_bytes(bench.workshop, jpeg(grey))


def laid(bench, grey, other):
    return register_pair(bench.workshop, Asked(kept(bench, grey)), Asked(kept(bench, other)))


def test_the_same_plate_is_offered_with_its_turn_and_scale(bench):
    grey = plate(11)
    turn = cv2.getRotationMatrix2D((800, 600), -3.0, 1.04)
    again = cv2.warpAffine(grey, turn, SIZE, borderValue=120)
    told = laid(bench, again, grey)
    assert (told.offered, told.reason) == (True, "")
    # OpenCV turns counterclockwise for a positive angle: this one was turned 3° clockwise.
    assert told.turn_deg == pytest.approx(3.0, abs=0.05)
    assert told.scale_percent == pytest.approx(4.0, abs=0.1)


def test_it_is_offered_in_the_pixels_of_the_photographs_whatever_their_size(bench):
    grey = plate(12)
    again, true = seen_again(grey, 12)
    large = cv2.resize(again, (3200, 2400), interpolation=cv2.INTER_CUBIC)
    told = laid(bench, grey, large)
    assert told.offered
    halved = np.diag((0.5, 0.5, 1.0)) @ np.array(told.to_other).reshape(3, 3)
    assert median_off(true, list(halved.ravel())) < 0.5


def test_one_stored_on_its_side_is_laid_as_it_is_shown(bench):
    grey = plate(13)
    again, true = seen_again(grey, 13)
    exif = Image.Exif()
    exif[0x0112] = 6
    out = io.BytesIO()
    Image.fromarray(np.rot90(again)).save(out, "JPEG", quality=95, exif=exif)
    turned = keep_bytes(bench.workshop, out.getvalue())
    told = register_pair(bench.workshop, Asked(kept(bench, grey)), Asked(turned))
    assert told.offered
    assert median_off(true, told.to_other) < 0.5


def test_one_seen_in_a_mirror_is_laid_if_it_is_said(bench):
    grey = plate(14)
    again, _ = seen_again(grey, 14)
    mirror = kept(bench, cv2.flip(again, 1))
    this = Asked(kept(bench, grey))
    assert register_pair(bench.workshop, this, Asked(mirror, is_mirrored=True)).offered
    assert not register_pair(bench.workshop, this, Asked(mirror)).offered


def test_two_unrelated_pictures_are_not_offered(bench):
    told = laid(bench, plate(15, pitch=0), plate(16, pitch=0))
    assert not told.offered
    assert (told.to_other, told.turn_deg, told.scale_percent) == (None, None, None)
    assert "30 are needed" in told.reason


def test_bare_rivets_that_repeat_are_not_offered(bench):
    grey = plate(17, marks=0, grain=0)
    told = laid(bench, grey, seen_again(grey, 17)[0])
    assert not told.offered
    assert told.reason


ONE = [1.0, 0.0, 2.0, 0.0, 1.0, 3.0, 0.0, 0.0, 1.0]
FAIR = Found(ONE, 200, 9, 300, 20, [[1600, 1200], [1600, 1200]])


@pytest.mark.parametrize(("change", "why"), [
    ({"inliers": 29}, "29 places agree"),
    ({"cells": 3}, "3 of 9 fields"),
    ({"rival": 181}, "repeat"),
    ({"to_other": [-1.0, 0.0, 1600.0, 0.0, 1.0, 3.0, 0.0, 0.0, 1.0]}, "inside out"),
    ({"to_other": [9.0, 0.0, 2.0, 0.0, 9.0, 3.0, 0.0, 0.0, 1.0]}, "inside out"),
    ({"to_other": [1.0, 0.0, 2.0, 0.0, 1.0, 3.0, -0.001, 0.0, 1.0]}, "inside out"),
])  # fmt: skip
def test_what_speaks_too_weakly_is_not_offered(change, why):
    told = judge_found(FAIR._replace(**change), [SIZE, SIZE])
    assert not told.offered
    assert why in told.reason
    assert told.to_other is None


@pytest.mark.parametrize("change", [{"inliers": 30}, {"cells": 4}, {"rival": 180}])
def test_what_speaks_just_enough_is_offered(change):
    assert judge_found(FAIR._replace(**change), [SIZE, SIZE]).offered


def test_small_copies_are_told_in_the_pixels_of_the_photographs():
    told = judge_found(FAIR, [(3200, 2400), (800, 600)])
    assert apply(told.to_other, (0, 0)) == pytest.approx((1, 1.5))
    assert apply(told.to_other, (3200, 2400)) == pytest.approx((801, 601.5))


def test_a_photograph_that_is_not_here_is_refused(bench):
    here = kept(bench, plate(18))
    with pytest.raises(Refused) as refused:
        register_pair(bench.workshop, Asked(here), Asked("ab" * 32))
    assert refused.value.code == "no_such_photograph"


def test_a_file_that_is_no_picture_is_refused(bench):
    here, other = kept(bench, plate(19)), keep_bytes(bench.workshop, b'{"name": "a definition"}')
    with pytest.raises(Refused) as refused:
        register_pair(bench.workshop, Asked(here), Asked(other))
    assert refused.value.code == "unreadable_picture"
