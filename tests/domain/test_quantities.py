import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.gauge import GAUGES, gauge_inches, gauge_of
from skinpin.domain.quantities import (
    compare,
    copied_from,
    exceeds_share,
    figure_text,
    is_unmeasured,
    other_unit_text,
    parse_typed,
    percent_text,
    round_up_tenth,
    to_tenth_nm,
    unmeasured_words,
)

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "quantities.json").read_text("utf-8"))
# Few digits, so that equal and neighbouring figures come up often.
figures = st.from_regex(r"[0-2]{1,2}(\.[059]{1,3})?", fullmatch=True)
quantities = st.builds(
    lambda value, unit: {"value": value, "unit": unit}, figures, st.sampled_from(["in", "mm"])
)


@pytest.mark.parametrize("case", VECTORS["tenth_nm"], ids=lambda case: str(case["quantity"]))
def test_a_figure_is_a_whole_number_of_tenth_nanometres(case):
    assert to_tenth_nm(case["quantity"]) == int(case["tenth_nm"])


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: str(case["quantity"]))
def test_what_is_no_figure_is_refused_with_a_sentence(case):
    with pytest.raises(Refused) as refused:
        to_tenth_nm(case["quantity"])
    assert refused.value.code == case["code"]
    assert refused.value.message.endswith(".")


@pytest.mark.parametrize("case", VECTORS["typed"], ids=lambda case: case["text"])
def test_a_figure_is_kept_exactly_as_typed(case):
    typed = parse_typed(case["text"], case.get("unit", "in"), case.get("signed", False))
    assert typed == {"value": case["value"], "unit": case["unit"]}


@pytest.mark.parametrize("case", VECTORS["typed_refused"], ids=lambda case: case["text"])
def test_a_slip_of_the_finger_is_refused_with_a_sentence(case):
    with pytest.raises(Refused) as refused:
        parse_typed(case["text"], "in")
    assert refused.value.code == case["code"]
    assert refused.value.message.endswith(".")
    assert refused.value.hint


@pytest.mark.parametrize("case", VECTORS["compare"], ids=str)
def test_units_are_brought_together_before_comparing(case):
    assert compare(case["a"], case["b"]) == case["sign"]
    assert compare(case["b"], case["a"]) == -case["sign"]


@pytest.mark.parametrize("case", VECTORS["share"], ids=str)
def test_a_share_is_compared_exactly_and_printed_to_a_tenth(case):
    assert exceeds_share(case["part"], case["whole"], case["percent"]) is case["exceeds"]
    assert percent_text(case["part"], case["whole"]) == case["text"]


@pytest.mark.parametrize("case", VECTORS["share_refused"], ids=str)
def test_a_share_of_nothing_or_of_no_percentage_is_refused(case):
    with pytest.raises(Refused) as refused:
        exceeds_share(case["part"], case["whole"], case["percent"])
    assert refused.value.code == case["code"]


@pytest.mark.parametrize("case", VECTORS["other_unit"], ids=str)
def test_the_other_unit_is_about_as_fine_as_what_was_typed(case):
    assert other_unit_text(case["quantity"]) == case["text"]


@pytest.mark.parametrize("case", VECTORS["figure_text"], ids=str)
def test_a_figure_is_read_with_what_it_is_sure_to(case):
    assert figure_text(case["quantity"]) == case["text"]


@pytest.mark.parametrize("case", VECTORS["round_up_tenth"], ids=str)
def test_damage_is_rounded_up_to_the_next_tenth_and_a_tenth_stays(case):
    rounded = round_up_tenth(case["quantity"])
    assert rounded == {"value": case["value"], "unit": case["quantity"]["unit"]}


@pytest.mark.parametrize("case", VECTORS["copied"], ids=str)
def test_a_figure_that_counts_for_no_measurement_says_why(case):
    value = case["value"]
    told = copied_from(value), is_unmeasured(value), unmeasured_words(value)
    assert told == (case["from"], case["words"] != "", case["words"])


@pytest.mark.parametrize("case", VECTORS["gauge"], ids=str)
def test_a_gauge_number_writes_inches_and_is_found_again(case):
    assert gauge_inches(case["number"], case["gauge"]) == case["inches"]
    assert gauge_of(case["inches"] + "0", case["gauge"]) == case["number"]


@pytest.mark.parametrize("case", VECTORS["gauge_refused"], ids=str)
def test_a_gauge_number_that_is_not_in_the_table_is_refused(case):
    with pytest.raises(Refused, match="no SWG"):
        gauge_inches(case["number"], case["gauge"])


def test_brown_and_sharpe_sizes_follow_their_published_formula():
    # ASTM B258 (from memory): 0.005 in × 92^((36 − n) ÷ 39).
    for number, inches in GAUGES["B&S"]["inches"].items():
        assert f"{0.005 * 92 ** ((36 - int(number)) / 39):.3f}" == inches, number


@settings(deadline=None)
@given(figures)
def test_inches_and_their_exact_millimetres_are_one_length(figure):
    in_mm = to_tenth_nm({"value": figure, "unit": "in"})
    typed = {"value": f"{in_mm // 10_000_000}.{in_mm % 10_000_000:07d}", "unit": "mm"}
    assert compare({"value": figure, "unit": "in"}, typed) == 0


@settings(deadline=None)
@given(quantities, quantities, st.integers(1, 5))
def test_a_share_exactly_at_the_limit_is_never_over(part, whole, trailing):
    if to_tenth_nm(whole) == 0:
        whole = {"value": "1", "unit": "in"}
    length = to_tenth_nm(whole)
    tenth = {"value": f"{length / 10 / 10_000_000:.8f}"[:-1], "unit": "mm"}
    if to_tenth_nm(tenth) * 10 == length:
        assert not exceeds_share(tenth, whole, "10." + "0" * trailing)
    over = exceeds_share(part, whole, "10")
    assert over is (to_tenth_nm(part) * 10 > length)
