import json
import math
from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.transform import SimilarityTransform
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply
from skinpin.domain.same_view import (
    fit_of,
    same_view,
    shown_point,
    transform_of,
    view_of,
)

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/same_view.json").read_text("utf-8"))
SIZE = (1600, 1200)
near = {"abs": 1e-4}


def of(case):
    return same_view(case["here"], case["earlier"], case["size"], case["earlier_size"])


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_a_pair_laid_by_a_known_transform_gives_it_back(case):
    view = of(case)
    assert view.turn_deg == pytest.approx(case["turn_deg"], **near)
    assert view.scale_percent == pytest.approx(case["scale_percent"], **near)
    assert view.shift_px == pytest.approx(case["shift_px"], **near)
    assert view.residual_px == pytest.approx(0, **near)
    assert view.good is case["good"]
    assert view.alike


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_what_says_nothing_of_a_view_is_refused(case):
    with pytest.raises(Refused) as refused:
        of(case)
    assert refused.value.code == case["code"]


taps = st.integers(0, 2**32 - 1)


def pair(seed, error_px):
    """Three rivets and more with taps that miss by some px, well apart."""
    rng = np.random.default_rng(seed)
    corners = np.array([(200, 200), (1400, 250), (700, 1000), (1300, 1050)])[: rng.integers(3, 5)]
    earlier = corners + rng.uniform(-150, 150, corners.shape)
    turn, k = math.radians(rng.uniform(-40, 40)), rng.uniform(0.6, 1.7)
    linear = k * np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    here = (earlier - 600) @ linear.T + rng.uniform(400, 800, 2)
    return here + rng.normal(0, error_px, here.shape), earlier


@given(taps)
@settings(deadline=None, max_examples=60)
def test_the_fit_is_that_of_two_other_libraries(seed):
    here, earlier = pair(seed, 3.0)
    ours = np.array(same_view(here.tolist(), earlier.tolist(), SIZE, SIZE).to_other).reshape(3, 3)
    # Umeyama 1991 as scikit-image has it: it weighs the scale otherwise, so only nearly the same.
    theirs = SimilarityTransform.from_estimate(here, earlier).params
    corners = np.array([(0, 0, 1), (1600, 0, 1), (0, 1200, 1), (1600, 1200, 1)]).T
    assert np.abs(ours @ corners - theirs @ corners).max() < 1.0
    # OpenCV's partial affine: without outliers and after refining it minimises the same sum.
    partial, _ = cv2.estimateAffinePartial2D(
        here, earlier, method=cv2.RANSAC, ransacReprojThreshold=1e6, refineIters=100
    )
    assert np.abs((ours @ corners)[:2] - partial @ corners).max() < 1e-3


@given(taps)
@settings(deadline=None, max_examples=60)
def test_a_kept_fit_lays_the_picture_within_a_pixel_of_what_was_fitted(seed):
    here, earlier = pair(seed, 2.0)
    view = same_view(here.tolist(), earlier.tolist(), SIZE, SIZE)
    for by in ("three rivets", "registration"):
        kept = transform_of(json.loads(json.dumps(fit_of(view, by))), SIZE, SIZE)
        assert kept is not None
        for corner in ((0, 0), (1600, 0), (0, 1200), (1600, 1200)):
            off = np.subtract(apply(kept, corner), apply(view.to_other, corner))
            assert np.abs(off).max() < 1.0


def test_a_plane_seen_askew_is_told_by_its_middle():
    askew = (1.02, 0.01, 5.0, -0.015, 0.99, 8.0, 2e-5, -1e-5, 1.0)
    view, step = view_of(askew, SIZE, SIZE), 1e-3
    x0, y0 = apply(askew, (800, 600))
    x1, y1 = apply(askew, (800 + step, 600))
    x2, y2 = apply(askew, (800, 600 + step))
    area = ((x1 - x0) * (y2 - y0) - (y1 - y0) * (x2 - x0)) / step**2
    assert view.scale_percent == pytest.approx(100 * (1 / math.sqrt(area) - 1), abs=1e-4)
    assert view.shift_px == pytest.approx((x0 - 800, y0 - 600))


def test_rivets_that_do_not_lie_alike_are_told_apart_from_a_good_fit():
    earlier = [(400, 300), (1250, 340), (700, 980)]
    here = [(400, 300), (1250, 340), (700, 820)]
    view = same_view(here, earlier, SIZE, SIZE)
    assert not view.alike
    assert view.residual_px > 32


def test_a_fit_that_cannot_be_read_lays_nothing():
    good = fit_of(view_of((1, 0, 3, 0, 1, 4, 0, 0, 1), SIZE, SIZE), "three rivets")
    assert transform_of(good, SIZE, SIZE) == pytest.approx((1, 0, 3, 0, 1, 4, 0, 0, 1))
    for broken in (None, {}, {**good, "turn_deg": "x"}, {**good, "shift_px": ["1"]},
                   {**good, "scale_percent": "-100"}, {**good, "shift_px": "12"}):  # fmt: skip
        assert transform_of(broken, SIZE, SIZE) is None


def test_a_point_seen_in_a_mirror_is_shown_on_the_other_side():
    assert shown_point((10, 20), 1600, True) == (1590, 20)
    assert shown_point(shown_point((10, 20), 1600, True), 1600, True) == (10, 20)
    assert shown_point((10, 20), 1600, False) == (10, 20)
