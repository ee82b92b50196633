import random
from math import cos, hypot, radians, sin

import cv2
import numpy as np
import pytest
from shapely.affinity import affine_transform
from shapely.geometry import Point as ShapelyPoint
from skimage.transform import AffineTransform, ProjectiveTransform
from skinpin.domain.calibration import Asked, Touched, fit_view
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply, inverse

SEED = 20261129
FRAMES = [(0.0, 0.0), (450.0, 0.0), (450.0, 75.0), (0.0, 75.0), (200.0, 40.0), (320.0, 10.0)]
CHECK = (150.0, 60.0)
# Nose to the left, water lines up, three pixels an inch, scanned askew by two degrees.
ASKEW = (3 * cos(radians(2)), 3 * sin(radians(2)), 120.0,
         3 * sin(radians(2)), -3 * cos(radians(2)), 700.0, 0.0, 0.0, 1.0)  # fmt: skip
TILTED = (2.9, 0.2, 130.0, 0.1, -3.1, 690.0, 0.0004, -0.0006, 1.0)


def touched(transform, places):
    return [Touched(apply(transform, one), one) for one in places]


def asked(transform=ASKEW, places=FRAMES[:3], check=CHECK, second="water line", **more):
    checked = Touched(apply(transform, check), check) if check else None
    return Asked(touched(transform, places), checked, second, **more)


def codes(fitted):
    return [(one.code, one.weight) for one in fitted.troubles]


@pytest.mark.parametrize(
    ("count", "method", "fitted"),
    [(2, None, "similarity"), (3, None, "affine"), (4, None, "affine"),
     (4, "homography", "homography"), (3, "similarity", "similarity")],
)  # fmt: skip
def test_points_make_the_fit_that_they_can(count, method, fitted):
    made = fit_view(asked(places=FRAMES[:count], method=method))
    assert made.method == fitted
    assert made.rms < 1e-9
    assert made.troubles == []
    assert made.to_picture == pytest.approx(ASKEW, abs=1e-6)


@pytest.mark.parametrize(
    ("method", "transform"),
    [("similarity", ASKEW), ("affine", ASKEW), ("homography", TILTED)],
)
def test_a_known_transform_is_found_within_a_tenth_of_a_percent(method, transform):
    chance = random.Random(SEED)
    points = [
        Touched((x + chance.uniform(-0.3, 0.3), y + chance.uniform(-0.3, 0.3)), at)
        for (x, y), at in touched(transform, FRAMES)
    ]
    made = fit_view(Asked(points, None, "water line", method))
    for _ in range(200):
        place = (chance.uniform(0, 450), chance.uniform(0, 75))
        along, second = apply(inverse(made.to_picture), apply(transform, place))
        assert hypot(along - place[0], second - place[1]) < 0.001 * 450, f"seed {SEED}"


def test_three_points_place_as_shapely_and_scikit_image_do():
    made = fit_view(asked())
    a, b, x, d, e, y, *_ = made.to_picture
    other = AffineTransform.from_estimate(
        np.array([one.at for one in touched(ASKEW, FRAMES[:3])]),
        np.array([one.px for one in touched(ASKEW, FRAMES[:3])]),
    )
    by_opencv = cv2.getAffineTransform(
        np.float32([one.at for one in touched(ASKEW, FRAMES[:3])]),
        np.float32([one.px for one in touched(ASKEW, FRAMES[:3])]),
    )
    for place in FRAMES:
        here = apply(made.to_picture, place)
        there = affine_transform(ShapelyPoint(place), [a, b, d, e, x, y])
        assert here == pytest.approx((there.x, there.y))
        assert here == pytest.approx(tuple(other(np.array([place]))[0]))
        assert here == pytest.approx(tuple(by_opencv @ (*place, 1.0)), abs=1e-3)


def test_least_squares_agree_with_numpy_scikit_image_and_opencv():
    chance = random.Random(SEED)
    points = [
        Touched((x + chance.gauss(0, 1), y + chance.gauss(0, 1)), at)
        for (x, y), at in touched(TILTED, FRAMES)
    ]
    places, pixels = np.array([one.at for one in points]), np.array([one.px for one in points])
    affine = fit_view(Asked(points, None, "water line", "affine"))
    rows = np.linalg.lstsq(np.c_[places, np.ones(6)], pixels, rcond=None)[0].T
    assert np.array(affine.to_picture[:6]) == pytest.approx(rows.ravel(), rel=1e-9)
    homography = fit_view(Asked(points, None, "water line", "homography"))
    by_opencv = cv2.findHomography(places, pixels)[0]
    by_skimage = ProjectiveTransform.from_estimate(places, pixels)
    for place in FRAMES:
        here = apply(homography.to_picture, place)
        # OpenCV goes on from the same equations to the least error in pixels.
        assert here == pytest.approx(apply(by_opencv.ravel(), place), abs=0.5)
        assert here == pytest.approx(tuple(by_skimage(np.array([place]))[0]), abs=0.5)


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_a_picture_turned_and_calibrated_again_gives_the_same_stations(turn):
    a, b = round(cos(radians(turn))), round(sin(radians(turn)))

    def turned(px):
        return (a * px[0] - b * px[1] + 900.0, b * px[0] + a * px[1] + 900.0)

    for count, method in ((3, None), (6, "homography")):
        points = touched(ASKEW, FRAMES[:count])
        straight = fit_view(Asked(points, None, "water line", method))
        again = [Touched(turned(one.px), one.at) for one in points]
        made = fit_view(Asked(again, None, "water line", method))
        assert made.mirrored is straight.mirrored is False
        assert straight.forward == "left"
        assert made.forward == {90: "up", 180: "right", 270: "down"}[turn]
        for px in ((300.0, 500.0), (1200.0, 620.0)):
            here = apply(inverse(straight.to_picture), px)
            assert apply(inverse(made.to_picture), turned(px)) == pytest.approx(here, abs=1e-6)


@pytest.mark.parametrize("aft_to_the_left", [False, True])
def test_two_points_have_water_lines_run_up_the_picture(aft_to_the_left):
    way = -3.0 if aft_to_the_left else 3.0
    points = [
        Touched((900.0, 500.0), (0.0, 10.0)),
        Touched((900.0 + 200 * way, 500.0), (200.0, 10.0)),
    ]
    made = fit_view(Asked(points, None, "water line", hand="S" if aft_to_the_left else "P"))
    assert apply(made.to_picture, (0.0, 20.0)) == pytest.approx((900.0, 470.0))
    assert not made.mirrored


def test_points_nearly_on_one_line_are_refused():
    places = [(0.0, 10.0), (200.0, 10.3), (450.0, 10.0)]
    with pytest.raises(Refused) as refused:
        fit_view(asked(places=places))
    assert refused.value.code == "collinear_points"


@pytest.mark.parametrize(
    ("off_px", "limit", "told"),
    [(6.7, 0.5, []), (6.9, 0.5, [("check_point_off", "refused")]), (6.9, 1.0, [])],
)
def test_a_check_point_may_be_off_by_half_a_percent_of_the_span_or_what_is_said(
    off_px, limit, told
):
    # Half a percent of 450 in is 2.25 in, at three pixels an inch 6.75 px.
    x, y = apply(ASKEW, CHECK)
    made = fit_view(
        Asked(
            touched(ASKEW, FRAMES[:3]),
            Touched((x + off_px, y), CHECK),
            "water line",
            limit_percent=limit,
        )
    )
    assert made.check_error == pytest.approx(off_px / 3)
    assert made.span == 450.0
    assert codes(made) == told


def test_the_check_point_is_no_point_of_the_fit():
    made = fit_view(asked(check=FRAMES[1]))
    assert codes(made) == [("check_point_used", "refused")]
    assert codes(fit_view(asked(check=None))) == [("no_check_point", "said")]


@pytest.mark.parametrize(
    ("hand", "second", "positive", "turned", "mirrored"),
    [
        ("P", "water line", "aft", False, False),
        (None, "water line", "aft", False, False),
        ("S", "water line", "aft", False, True),
        ("S", "water line", "aft", True, False),
        ("P", "water line", "aft", True, True),
        ("P", "water line", "fwd", True, False),
        (None, "strake", "aft", False, True),
        ("P", "strake", "aft", False, False),
    ],
)
def test_a_view_seen_from_its_back_is_told(hand, second, positive, turned, mirrored):
    transform = (-3.0, 0.0, 1500.0, 0.0, -3.0, 700.0, 0.0, 0.0, 1.0) if turned else ASKEW
    made = fit_view(asked(transform, second=second, hand=hand, positive=positive))
    assert made.mirrored is mirrored
    assert ("mirrored_view", "said") in codes(made) if mirrored else codes(made) == []


def test_an_error_in_strakes_counts_as_high_as_they_are_drawn():
    developed = (2.0, 0.0, 60.0, 0.0, 19.0, 300.0, 0.0, 0.0, 1.0)
    places = [(0.0, -4.0), (450.0, -4.0), (450.0, 4.0), (0.0, 4.0)]
    points = touched(developed, places)
    x, y = apply(developed, (100.0, 2.0))
    made = fit_view(Asked(points, Touched((x, y + 4.0), (100.0, 2.0)), "strake"))
    assert made.method == "affine"
    # Four pixels are two inches, at two pixels an inch.
    assert made.check_error == pytest.approx(2.0, rel=1e-6)
    assert made.span == 450.0


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"places": FRAMES[:1]}, "too_few_points"),
        ({"places": FRAMES[:3], "method": "homography"}, "too_few_points"),
        ({"places": FRAMES[:2], "method": "affine"}, "too_few_points"),
        ({"method": "spline"}, "no_such_method"),
        ({"second": "strake", "method": "similarity"}, "no_such_method"),
        ({"second": "girth"}, "wrong_shape"),
        ({"limit_percent": 0}, "wrong_shape"),
        ({"places": [(0.0, 0.0), (float("nan"), 1.0), (5.0, 5.0)]}, "wrong_shape"),
    ],
)
def test_what_can_not_be_fitted_is_refused(change, code):
    with pytest.raises(Refused) as refused:
        fit_view(asked(**change))
    assert refused.value.code == code


def strakes_at(*heights_px):
    """Return points touched on strakes drawn at heights, at two frames each."""
    return [
        Touched((100 + 3 * along, 700 - height), (along, float(line)))
        for line, height in enumerate(heights_px)
        for along in (0.0, 100.0)
    ]


def test_strakes_drawn_at_unequal_heights_are_told_with_what_to_do():
    """Common practice, no source: in a side view strakes close up towards keel and gunwale."""
    [told] = [
        one
        for one in fit_view(Asked(strakes_at(0, 90, 120), None, "strake", hand="P")).troubles
        if one.code == "unequal_strakes"
    ]
    # Equal steps of 60 px put the middle strake 20 px and the outer ones 10 px from where they are.
    assert told.message == "Strakes lie up to 6.67 in from where equal steps would put them."
    assert "water line" in told.hint
    assert told.weight == "said"


def test_strakes_drawn_at_equal_heights_and_water_lines_are_told_of_nothing():
    even = Asked(strakes_at(0, 60, 120), None, "strake", hand="P")
    assert codes(fit_view(even)) == [("no_check_point", "said")]
    assert "unequal_strakes" not in dict(codes(fit_view(even._replace(second="water line"))))


def test_a_check_point_on_a_strake_that_lies_elsewhere_is_refused_and_told_why():
    check = Touched((250.0, 700.0 - 90), (50.0, 1.0))
    made = fit_view(Asked(strakes_at(0, 60, 120), check, "strake", hand="P"))
    assert codes(made) == [("check_point_off", "refused"), ("unequal_strakes", "said")]
