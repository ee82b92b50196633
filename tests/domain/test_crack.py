import json
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.crack import crack, root_text
from skinpin.domain.errors import Refused

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/crack.json").read_text("utf-8"))
DEMO = VECTORS["demo"]


def seen(day, hundredths, uncertainty="0.03"):
    value = f"{hundredths // 100}.{hundredths % 100:02d}"
    doubt = {"value": uncertainty, "unit": "in"}
    length = {"value": value, "unit": "in", "uncertainty": doubt}
    when = date(2025, 3, 8) + timedelta(days=day)
    return {"date": when.isoformat(), "length": length, "method": "eye"}


def test_the_demo_crack_comes_out_to_the_figure():
    told = crack(DEMO["observations"], DEMO["limit"])
    assert told == DEMO["crack"]
    assert [point["growth_shown"] for point in told["points"]] == [False, False, True, True]
    last = told["points"][-1]
    assert last["since_previous"]["words"] == "Since 09-06: +0.02, within ±, no growth proved"
    assert last["since_first"]["words"] == "Since 03-08: +0.19, growth proved (CK3)"
    assert told["points"][1]["since_previous"]["limit"] == "0.042"
    rate = told["rate"]
    assert (rate["per_30_days"], rate["standard_error"], rate["points"]) == ("0.028", "0.006", 4)
    assert told["left"]["words"] == "To next hole: 1.60 − 0.81 = 0.79 ± 0.03 in"


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_cracks_agree_with_the_shared_vectors(case):
    assert crack(case["observations"], case["limit"], case["to"]) == case["crack"]


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_what_is_no_observation_is_refused(case):
    with pytest.raises(Refused) as refusal:
        crack(case["observations"])
    assert refusal.value.code == case["code"]


points = st.lists(st.tuples(st.integers(0, 400), st.integers(0, 300)), min_size=3, max_size=8)


@settings(deadline=None)
@given(points)
def test_the_rate_is_the_least_squares_line_of_another_library(made):
    told = crack([seen(day, length) for day, length in made])
    days, lengths = (np.array(column, dtype=float) for column in zip(*made, strict=True))
    if len(set(days)) == 1:
        assert told["rate"] is None
        return
    (slope, _), residual, *_ = np.linalg.lstsq(
        np.stack([days - days.mean(), np.ones_like(days)], axis=1), lengths / 100, rcond=None
    )
    spread = ((days - days.mean()) ** 2).sum()
    error = np.sqrt(residual[0] / (len(made) - 2) / spread)
    shown = told["rate"]["per_30_days"].replace("−", "-"), told["rate"]["standard_error"]
    assert float(shown[0]) == pytest.approx(slope * 30, abs=0.000501)
    assert float(shown[1]) == pytest.approx(error * 30, abs=0.000501)


@settings(deadline=None)
@given(st.integers(0, 300), st.integers(0, 300), st.sampled_from(["0", "0.01", "0.03", "0.2"]))
def test_a_larger_uncertainty_never_makes_a_claim(first, second, uncertainty):
    narrow = crack([seen(0, first, uncertainty), seen(30, second, uncertainty)])
    wide = crack([seen(0, first, uncertainty), seen(30, second, "0.5")])
    assert narrow["growth_shown"] or not wide["growth_shown"] or uncertainty == "0.5"
    assert narrow["rate"] is None


@settings(deadline=None)
@given(st.integers(0, 10**40), st.integers(1, 10**20))
def test_a_root_is_rounded_half_up(part, whole):
    steps = int(root_text(part, whole, 1, 3).replace(".", ""))
    # (steps − ½)² ≤ part ÷ whole × 10⁶ < (steps + ½)²
    assert (2 * steps - 1) ** 2 * whole <= part * 4 * 10**6 or steps == 0
    assert part * 4 * 10**6 < (2 * steps + 1) ** 2 * whole
