import json
from math import cos, hypot, pi, radians, sin
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply
from skinpin.domain.photo_measure import (
    known_mm,
    measured,
    pixels,
    places_of_doubt,
    propagated,
    rounded,
    rounded_up,
    to_plane,
)

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/photo_measure.json").read_text("utf-8"))
SEED = 20261129
PICTURE = {"width_px": 2000, "height_px": 1400}
CORNERS = [[4120, 3000], [16080, 3880], [15400, 11020], [4680, 10100]]
CARD = {
    "method": "rectangle",
    "points": CORNERS,
    "width": {"value": "85.60", "unit": "mm"},
    "height": {"value": "53.98", "unit": "mm"},
    "tap": "1",
}
FACING = {
    "method": "two points",
    "points": [[0, 6000], [17120, 6000]],
    "length": {"value": "85.6", "unit": "mm"},
    "tap": "1",
}


def length(one, other, tap="1"):
    return {"shape": "length", "points": [one, other], "tap": tap}


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_sizes_agree_with_the_shared_vectors(case):
    spread = propagated(case["scale"], case["measurement"])
    assert spread.size == pytest.approx(case["size"], rel=1e-9)
    assert (spread.touch, spread.scale) == pytest.approx((case["touch"], case["scale_u"]), rel=1e-6)
    told = measured(case["scale"], case["measurement"], case["picture"], case["unit"])
    assert told == case["measured"]


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_what_can_have_no_length_is_refused_with_a_plain_sentence(case):
    with pytest.raises(Refused) as caught:
        measured(case["scale"], case["measurement"], PICTURE, "mm")
    assert (caught.value.code, str(caught.value)) == (case["code"], case["message"])


@pytest.mark.parametrize("case", VECTORS["rounded"], ids=str)
def test_a_value_rounds_half_up_and_its_doubt_is_never_made_smaller(case):
    """Common practice, no source."""
    assert rounded(case["value"], case["places"]) == case["words"]
    assert rounded_up(case["value"], case["places"]) == case["up"]


def test_cv_97_the_length_on_a_card():
    """CV-97: two solvers agree; 0.002 mm."""
    spread = propagated(CARD, length([7000, 6000], [9000, 7000]))
    assert spread.size == pytest.approx(16.251, abs=0.002)


def test_cv_98_its_uncertainty_is_that_of_corners_and_picks():
    """CV-98: A Plane Measuring Device; 0.002 mm."""
    spread = propagated(CARD, length([7000, 6000], [9000, 7000]))
    assert spread.u == pytest.approx(0.1053, abs=0.002)
    assert (spread.scale, spread.touch) == pytest.approx((0.0213, 0.1031), abs=0.002)


def test_cv_98_a_simulation_of_touches_spreads_as_far():
    """CV-98: 20,000 runs gave 0.1058; 4,000 runs here are sure to 1.1 % (one in the spread)."""
    chance = np.random.default_rng(SEED)
    picks = [(700.0, 600.0), (900.0, 700.0)]
    ends = []
    for _ in range(4000):
        plane = to_plane(pixels(CORNERS) + chance.normal(0, 1, (4, 2)), known_mm(CARD))
        (x, y), (u, v) = (apply(plane, one) for one in picks + chance.normal(0, 1, (2, 2)))
        ends.append(hypot(u - x, v - y))
    spread = propagated(CARD, length([7000, 6000], [9000, 7000]))
    assert np.std(ends) == pytest.approx(spread.u, rel=0.04), f"seed {SEED}"
    within = np.mean(np.abs(np.array(ends) - spread.size) <= 2 * spread.u)
    assert 0.94 <= within <= 0.97, f"seed {SEED}"


def test_cv_99_outside_the_card_the_error_grows():
    """CV-99: A Plane Measuring Device; 0.002 mm."""
    spread = propagated(CARD, length([17000, 6000], [19000, 6400]))
    assert spread.size == pytest.approx(14.709, abs=0.002)
    assert (spread.u, spread.scale) == pytest.approx((0.1174, 0.0579), abs=0.002)


def test_cv_100_a_facing_view_agrees_with_the_short_formula():
    """CV-100: derived; 0.001 mm. Full propagation 0.0725, short formula 0.0726."""
    s, n, sigma, size = 85.6 / 1712, 1712, 1, 20
    short = (2 * (s * sigma) ** 2 + 2 * (size * sigma / n) ** 2) ** 0.5
    two = propagated(FACING, length([5000, 7000], [9000, 7000]))
    four = {**CARD, "points": [[0, 0], [17120, 0], [17120, 10796], [0, 10796]]}
    full = propagated(four, length([5000, 7000], [9000, 7000]))
    assert (two.size, full.size) == pytest.approx((20.0, 20.0), abs=1e-9)
    assert (two.u, full.u) == pytest.approx((0.0725, 0.0725), abs=0.001)
    assert two.u == pytest.approx(short, rel=1e-6)


@pytest.mark.parametrize(("tilt_deg", "percent"), [(10, -1.52), (30, -13.40)])
def test_cv_101_two_points_do_not_correct_tilt_and_a_rectangle_does(tilt_deg, percent):
    """CV-101: cosine; 0.01 %. Seen from far off, so that tilt alone shortens."""
    lower = 10 * 1000 * cos(radians(tilt_deg))
    two = propagated(
        {**FACING, "points": [[0, 0], [10000, 0]], "length": {"value": "100", "unit": "mm"}},
        length([5000, 0], [5000, lower]),
    )
    assert 100 * (two.size / 100 - 1) == pytest.approx(percent, abs=0.01)
    square = {"width": {"value": "100", "unit": "mm"}, "height": {"value": "100", "unit": "mm"}}
    corners = [[0, 0], [10000, 0], [10000, lower], [0, lower]]
    four = propagated({**CARD, **square, "points": corners}, length([5000, 0], [5000, lower]))
    assert four.size == pytest.approx(100, rel=1e-9)


def test_cv_102_crossed_and_collinear_corners_and_depth_are_refused():
    """CV-102: common practice."""
    line = [[1000, 2000], [4000, 2010], [8000, 1990], [12000, 2000]]
    crossed = [CORNERS[0], CORNERS[2], CORNERS[1], CORNERS[3]]
    picks = [[7000, 6000], [9000, 7000]]
    for corners, shape, code in (
        (line, "length", "collinear_points"),
        (crossed, "length", "crossed_points"),
        (CORNERS, "depth", "depth_from_photograph"),
    ):
        with pytest.raises(Refused) as caught:
            propagated({**CARD, "points": corners}, {"shape": shape, "points": picks, "tap": "1"})
        assert caught.value.code == code


@given(st.floats(0.5, 2))
@settings(deadline=None)
def test_a_scale_longer_by_a_share_makes_the_length_longer_by_that_share(share):
    """Derived: a change of the scale by 1 % changes the length by 1 %."""
    changed = {**FACING, "length": {"value": f"{85.6 * share:.6f}", "unit": "mm"}}
    one = propagated(FACING, length([5000, 7000], [9000, 7000]))
    other = propagated(changed, length([5000, 7000], [9000, 7000]))
    assert other.size / one.size == pytest.approx(share, rel=1e-6)
    assert other.u / one.u == pytest.approx(share, rel=1e-5)


@given(st.integers(0, 359), st.integers(-500, 500))
@settings(deadline=None)
def test_a_turned_and_shifted_picture_gives_the_same(turn_deg, shift):
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))

    def turned(points):
        return [[c * x - s * y + shift, s * x + c * y - shift] for x, y in points]

    picks = [[7000, 6000], [9000, 7000], [8600, 8200]]
    for shape in ("polyline", "area", "diameter"):
        one = propagated(CARD, {"shape": shape, "points": picks, "tap": "1"})
        moved = {**CARD, "points": turned(CORNERS)}
        other = propagated(moved, {"shape": shape, "points": turned(picks), "tap": "1"})
        assert tuple(other) == pytest.approx(tuple(one), rel=1e-5)


def test_a_disc_has_its_diameter_and_a_many_sided_outline_its_area():
    """Area of a circle, and of a regular polygon of 60 corners: geometry."""
    angles = [2 * pi * at / 60 for at in range(60)]
    rim = [[9000 + 2000 * cos(one), 6000 + 2000 * sin(one)] for one in angles]
    three = [rim[0], rim[17], rim[41]]
    assert propagated(FACING, {"shape": "diameter", "points": three, "tap": "1"}).size == (
        pytest.approx(20.0, rel=1e-9)
    )
    area = propagated(FACING, {"shape": "area", "points": rim, "tap": "1"}).size
    assert area == pytest.approx(60 / 2 * 100 * sin(2 * pi / 60), rel=1e-9)


def test_the_loupe_halves_the_doubt_and_more_of_a_finger():
    finger = propagated({**CARD, "tap": "1.5"}, length([7000, 6000], [9000, 7000], "1.5"))
    loupe = propagated({**CARD, "tap": "0.6"}, length([7000, 6000], [9000, 7000], "0.6"))
    assert finger.u / loupe.u == pytest.approx(2.5, rel=1e-6)


def test_a_bad_fit_of_the_card_widens_the_doubt():
    card = {**CARD, "method": "scale card"}
    good = propagated({**card, "card": {"residual_px": 0.0}}, length([7000, 6000], [9000, 7000]))
    poor = propagated({**card, "card": {"residual_px": 3.0}}, length([7000, 6000], [9000, 7000]))
    assert poor.scale == pytest.approx(good.scale * hypot(1, 3), rel=1e-6)


@pytest.mark.parametrize(
    ("doubt", "value", "words"),
    [
        # m_S = 100.02147 g with u = 0.35 mg, the example of JCGM 100 (GUM), 7.2.2, from memory.
        (0.00035, 100.021469, "100.02147"),
        (0.2106, 16.2506, "16.25"),
        (28.0, 1238.0, "1238"),
        (280.0, 1238.0, "1240"),
        (2800.0, 1238.0, "1200"),
    ],
)
def test_a_figure_ends_at_the_second_figure_of_its_doubt(doubt, value, words):
    assert rounded(value, places_of_doubt(doubt)) == words


def test_warnings_are_words_and_no_refusal():
    told = measured(CARD, length([17900, 6000], [19000, 6400]), {**PICTURE, "zoom": "2"}, "mm")
    assert [one["code"] for one in told["warnings"]] == ["granted", "edge", "zoomed"]
    plain = measured(FACING, length([5000, 7000], [9000, 7000]), PICTURE, "mm")
    assert [one["code"] for one in plain["warnings"]] == ["granted", "tilt"]
