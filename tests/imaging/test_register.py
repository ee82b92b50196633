"""One picture is laid on another by a child process with limits."""

import subprocess
import sys

import cv2
import numpy as np
import pytest
from skinpin.domain.errors import Refused
from skinpin.imaging.register import Shown, register

from tests.imaging.plates import jpeg, median_off, plate, seen_again


@pytest.mark.parametrize(("seed", "shift", "most_px"), [(1, 0.1, 0.5), (2, 0.2, 0.5), (3, 0.35, 1)])
def test_a_plate_seen_from_elsewhere_is_laid_within_a_pixel(seed, shift, most_px):
    grey = plate(seed)
    again, true = seen_again(grey, seed, shift=shift)
    found = register(Shown(jpeg(grey)), Shown(jpeg(again)))
    off = median_off(true, found.to_other)
    print(f"seed {seed}, corners up to {shift:.0%}: median {off:.2f} px, {found.inliers} inliers")
    assert off < most_px
    assert found.inliers > 100
    assert found.cells == 9
    assert found.sizes_px == [[1600, 1200], [1600, 1200]]


def test_rivets_that_repeat_on_bare_metal_agree_in_the_wrong_place_as_well():
    grey = plate(4, marks=0, grain=0)
    again, _ = seen_again(grey, 4)
    found = register(Shown(jpeg(grey)), Shown(jpeg(again)))
    assert found.rival > found.likenesses or found.cells < 4


def test_one_seen_in_a_mirror_is_turned_before_it_is_laid():
    grey = plate(5)
    again, true = seen_again(grey, 5)
    turned = jpeg(cv2.flip(again, 1))
    found = register(Shown(jpeg(grey)), Shown(turned, is_mirrored=True))
    assert median_off(true, found.to_other) < 0.5
    assert register(Shown(jpeg(grey)), Shown(turned)).inliers < 30


def test_a_picture_with_nothing_to_hold_on_to_is_laid_nowhere():
    even = np.full((300, 400), 128, np.uint8)
    found = register(Shown(jpeg(even)), Shown(jpeg(plate(6))))
    assert (found.to_other, found.inliers) == (None, 0)


def test_bytes_that_are_no_picture_end_the_child_and_are_refused():
    with pytest.raises(Refused) as refused:
        register(Shown(b"no picture"), Shown(jpeg(plate(7))))
    assert refused.value.code == "unreadable_picture"


def test_a_child_that_takes_too_long_is_ended():
    with pytest.raises(Refused, match="too long"):
        register(Shown(jpeg(plate(8))), Shown(jpeg(plate(8))), time_limit_s=0.01)


def test_the_child_may_write_no_file_and_take_so_much_memory_only():
    code = (
        "from skinpin.imaging.register import limit_process, resource; limit_process();"
        "limit = resource.getrlimit;"
        "print(limit(resource.RLIMIT_AS)[0], limit(resource.RLIMIT_FSIZE))"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.split(maxsplit=1) == [str(1024**3), "(0, 0)\n"]
