import json
from math import cos, radians, sin
from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.transform import AffineTransform, ProjectiveTransform, SimilarityTransform
from skinpin.domain import photo_geometry as geometry
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import (
    apply,
    condition,
    fit_affine,
    fit_homography,
    fit_similarity,
    inverse,
    is_mirrored,
    residual_rms,
)

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/photo_geometry.json").read_text("utf-8"))
SEED = 20261129
CARD = [(0.0, 0.0), (85.6, 0.0), (85.6, 53.98), (0.0, 53.98)]
CV_97 = [(412.0, 300.0), (1608.0, 388.0), (1540.0, 1102.0), (468.0, 1010.0)]
GRID = [(float(x), float(y)) for x in (0, 120, 300, 450) for y in (0, 30, 75)]


def fitted(case):
    options = {"mirrored": True} if case.get("mirrored") else {}
    fit = getattr(geometry, f"fit_{case['fit']}")
    return fit(case["sources"], case["targets"], **options)


def places(transform, points):
    return np.array([apply(transform, one) for one in points])


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_fits_agree_with_the_shared_vectors(case):
    transform = fitted(case)
    assert transform == pytest.approx(case["transform"], rel=1e-9, abs=1e-12)
    assert inverse(transform) == pytest.approx(case["inverse"], rel=1e-9, abs=1e-12)
    residual = residual_rms(transform, case["sources"], case["targets"])
    assert residual == pytest.approx(case["residual_rms"], rel=1e-9, abs=1e-9)
    assert is_mirrored(transform) is case["is_mirrored"]
    for one in case["applied"]:
        assert apply(transform, one["from"]) == pytest.approx(one["to"], rel=1e-9)


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_points_that_tell_nothing_are_refused(case):
    with pytest.raises(Refused) as caught:
        fitted(case)
    assert caught.value.code == case["code"]


@pytest.mark.parametrize("case", VECTORS["conditions"], ids=lambda case: case["name"])
def test_the_spread_of_points_agrees_with_the_shared_vectors(case):
    assert condition(case["points"]) == pytest.approx(case["condition"], rel=1e-9)


def test_cv_97_the_card_leads_back_to_the_picks():
    """CV-97: two solvers agree; 0.002 mm."""
    back = inverse(fit_homography(CARD, CV_97))
    assert apply(back, (700, 600)) == pytest.approx((20.149, 19.846), abs=0.002)
    assert apply(back, (900, 700)) == pytest.approx((35.121, 26.162), abs=0.002)


def test_cv_102_collinear_and_crossed_corners_are_refused():
    """CV-102, common practice."""
    line = [(100, 200), (400, 201), (800, 199), (1200, 200)]
    crossed = [CV_97[0], CV_97[2], CV_97[1], CV_97[3]]
    for corners, code in ((line, "collinear_points"), (crossed, "crossed_points")):
        with pytest.raises(Refused) as caught:
            fit_homography(CARD, corners)
        assert caught.value.code == code


def test_four_points_agree_with_opencv_and_scikit_image():
    ours = places(fit_homography(CARD, CV_97), GRID[:6])
    theirs = cv2.getPerspectiveTransform(np.float32(CARD), np.float32(CV_97))
    as_cv = cv2.perspectiveTransform(np.float64([GRID[:6]]), theirs)[0]
    as_sk = ProjectiveTransform.from_estimate(np.array(CARD), np.array(CV_97))(np.array(GRID[:6]))
    # OpenCV takes these corners as floats of 32 bits.
    assert ours == pytest.approx(as_cv, abs=1e-3)
    assert ours == pytest.approx(as_sk, rel=1e-9)


def test_twelve_noisy_points_agree_with_opencv_and_scikit_image():
    chance = np.random.default_rng(SEED)
    known = (6.1, 0.7, 210.0, -0.4, 5.5, 130.0, 0.0004, 0.0005, 1.0)
    touched = places(known, GRID) + chance.normal(0, 0.6, (len(GRID), 2))
    ours = places(fit_homography(GRID, touched), GRID)
    theirs, _ = cv2.findHomography(np.array(GRID), touched, 0)
    as_cv = cv2.perspectiveTransform(np.float64([GRID]), theirs)[0]
    as_sk = ProjectiveTransform.from_estimate(np.array(GRID), touched)(np.array(GRID))
    # OpenCV goes on to the least distance in the picture, the others stop at the algebraic one.
    assert np.abs(ours - as_cv).max() < 0.3
    assert np.abs(ours - as_sk).max() < 0.3


def test_affine_and_similarity_agree_with_scikit_image():
    chance = np.random.default_rng(SEED)
    known = (6.1, 0.7, 210.0, -0.4, 5.5, 130.0, 0.0, 0.0, 1.0)
    touched = places(known, GRID) + chance.normal(0, 0.6, (len(GRID), 2))
    affine = AffineTransform.from_estimate(np.array(GRID), touched)(np.array(GRID))
    # Its affine fit takes noise in both pictures, ours in the one that was touched.
    assert np.abs(places(fit_affine(GRID, touched), GRID) - affine).max() < 0.01
    similar = SimilarityTransform.from_estimate(np.array(GRID), touched)(np.array(GRID))
    assert places(fit_similarity(GRID, touched), GRID) == pytest.approx(similar, rel=1e-9)


@given(
    st.tuples(*[st.floats(3, 20)] * 2, *[st.floats(-2, 2)] * 2, *[st.floats(-900, 900)] * 2),
    st.tuples(st.floats(-4e-4, 4e-4), st.floats(-4e-4, 4e-4)),
)
@settings(deadline=None)
def test_a_known_transform_is_recovered(linear, tilt):
    """Exactly, where nothing was touched beside: geometry."""
    a, e, b, d, c, f = linear
    known = (a, b, c, d, e, f, *tilt, 1.0)
    homography = fit_homography(GRID, places(known, GRID))
    assert np.allclose(places(homography, GRID), places(known, GRID), rtol=1e-9, atol=1e-7)
    flat = (a, b, c, d, e, f, 0.0, 0.0, 1.0)
    assert np.allclose(fit_affine(GRID, places(flat, GRID)), flat, rtol=1e-9, atol=1e-7)


@given(st.floats(0.05, 40), st.floats(-180, 180), st.floats(-2e3, 2e3), st.booleans())
@settings(deadline=None)
def test_a_known_similarity_is_recovered_from_two_points(scale, degrees, shift, mirrored):
    a, b = scale * cos(radians(degrees)), scale * sin(radians(degrees))
    flip = -1 if mirrored else 1
    known = (a, -b * flip, shift, b, a * flip, -shift, 0.0, 0.0, 1.0)
    two = [(3.0, 4.0), (110.0, -20.0)]
    assert np.allclose(fit_similarity(two, places(known, two), mirrored), known, atol=1e-7)
    assert is_mirrored(known) is mirrored


@pytest.mark.parametrize("fit", [fit_similarity, fit_affine, fit_homography])
def test_a_picture_turned_by_a_right_angle_gives_the_same_lengths(fit):
    height = 1400.0
    turned = [(height - y, x) for x, y in CV_97]
    upright, other = inverse(fit(CARD, CV_97)), inverse(fit(CARD, turned))
    for x, y in ((700, 600), (900, 700), (1300, 420)):
        assert apply(other, (height - y, x)) == pytest.approx(apply(upright, (x, y)), rel=1e-9)


def test_noise_of_the_touches_shows_in_the_residual():
    chance = np.random.default_rng(SEED)
    known = (6.1, 0.7, 210.0, -0.4, 5.5, 130.0, 0.0, 0.0, 1.0)
    touched = places(known, GRID) + chance.normal(0, 2.0, (len(GRID), 2))
    assert 1 < residual_rms(fit_affine(GRID, touched), GRID, touched) < 4


def test_what_lies_beyond_the_horizon_has_no_place():
    tilted = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, -0.01, 0.0, 1.0)
    assert apply(tilted, (50, 0)) == (100.0, 0.0)
    with pytest.raises(Refused) as caught:
        apply(tilted, (101, 0))
    assert caught.value.code == "beyond_horizon"


def test_a_transform_that_presses_all_on_a_line_has_no_way_back():
    with pytest.raises(Refused) as caught:
        inverse((1.0, 1.0, 0.0, 2.0, 2.0, 0.0, 0.0, 0.0, 1.0))
    assert caught.value.code == "collinear_points"
