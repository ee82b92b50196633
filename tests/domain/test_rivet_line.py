import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.quantities import TENTH_NM, scaled
from skinpin.domain.rivet_line import rivet_line
from skinpin.domain.rivet_line_holes import Rivet, read_line
from skinpin.domain.rivet_line_shear import load_of, pounds, share_text
from skinpin.domain.rivet_line_sizes import (
    CATALOGUE,
    head_holds,
    head_target,
    next_larger,
    oversize_allowed,
    read_code,
    size_for_sheet,
    stock_length,
)
from skinpin.domain.rivet_line_states import insert_hole, remove_hole, reverse_line

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/rivet_line.json").read_text("utf-8"))
BASE = VECTORS["base"]


def line_of(own):
    return {key: value for key, value in {**BASE, **own}.items() if value is not None}


def inches(text):
    return scaled(text, TENTH_NM["in"])


def test_the_demo_line_comes_out_to_the_figure():
    line = rivet_line(VECTORS["demo"]["line"])
    assert line == VECTORS["demo"]["survey"]
    found, now = line["as_found"], line["as_now"]
    assert found["counts"] == {"C": 8, "L": 4, "N": 2, "S": 31, "W": 3}
    assert now["counts"] == {"C": 3, "D": 4, "L": 2, "N": 2, "R": 1, "S": 31, "V": 2, "W": 3}
    assert (found["not_effective"], now["not_effective"]) == (15, 12)
    assert found["run"] == now["run"] == {"length": 6, "from": 18, "to": 23}
    assert found["possible_run"] == now["possible_run"] == {"length": 7, "from": 18, "to": 24}
    assert found["share"] == {"low": "64.6", "high": "68.8"}
    assert now["share"] == {"low": "72.7", "high": "76.8"}
    assert found["worst_six"] == now["worst_six"] == {"percent": "0.0", "from": 18, "to": 23}
    assert [row["pounds"] for row in line["allowable"]] == ["596", "860"]
    assert line["bearing"] == "bearing not checked"
    decided = {row["hole"]: (row["result"], row["diameter"]) for row in line["decisions"]}
    assert decided[18] == ("renew same size", "5/32")
    assert decided[19] == decided[20] == ("renew oversize", "3/16")
    assert decided[21] == ("refer to design authority", "3/16")
    demand = [(row["diameter"], row["length"], row["holes"]) for row in line["demand"]]
    assert demand == [
        ("5/32", "1/2", [5, 11, 12, 13, 18, 22, 23, 43, 48]),
        ("3/16", "1/2", [19, 20]),
    ]
    assert [row["count"] for row in line["demand"]] == [10, 3]
    assert (line["held"], line["not_reached"]) == ([21], [24, 29])


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_surveys_agree_with_the_shared_vectors(case):
    assert rivet_line(line_of(case["line"])) == case["survey"]


@pytest.mark.parametrize("case", VECTORS["refused"], ids=lambda case: case["name"])
def test_what_is_no_line_is_refused(case):
    with pytest.raises(Refused) as refusal:
        rivet_line(line_of(case["line"]))
    assert (refusal.value.code, refusal.value.message) == (case["code"], case["message"])


@pytest.mark.parametrize("case", VECTORS["pounds"], ids=lambda case: case["source"])
def test_allowable_shear_agrees_with_published_loads(case):
    line = read_line(line_of({"basis": case["basis"]}))
    loads = {
        size: pounds(load_of(Rivet(size, case["alloy"]), (1,), line)) for size in case["loads"]
    }
    assert loads == case["loads"]
    for worked, printed in zip(loads.values(), case["printed"], strict=bool(case["printed"])):
        assert abs(int(worked) - printed) * 100 <= case["within_percent"] * printed


@pytest.mark.parametrize("case", VECTORS["code"], ids=lambda case: case["text"])
def test_a_rivet_code_is_read(case):
    assert read_code(case["text"])._asdict() == {
        key: case[key] for key in ("head", "flush", "alloy", "diameter", "length")
    }


@pytest.mark.parametrize("text", VECTORS["code_refused"])
def test_what_is_no_rivet_code_is_refused(text):
    with pytest.raises(Refused, match="no rivet code"):
        read_code(text)


@pytest.mark.parametrize("case", VECTORS["length"], ids=lambda case: case["source"])
def test_a_length_is_the_next_stocked(case):
    assert (
        stock_length(inches(case["grip"]), case["diameter"], case["half_sizes"]) == case["length"]
    )


@pytest.mark.parametrize("case", VECTORS["head_target"], ids=lambda case: case["diameter"])
def test_a_driven_head_should_be_one_and_a_half_by_half_a_diameter(case):
    measured = head_target(case["diameter"])
    for length, printed in zip(measured, (case["width"], case["height"]), strict=True):
        assert abs(length - inches(printed)) <= inches("0.0005")


@pytest.mark.parametrize("case", VECTORS["head_holds"], ids=str)
def test_a_driven_head_is_judged_by_width_and_height(case):
    width, height = inches(case["width"]), inches(case["height"])
    assert head_holds(width, height, case["diameter"], case["alloy"]) == case["result"]


def test_steps_of_size_and_limits_of_oversize_agree_with_their_sources():
    for case in VECTORS["next_larger"]:
        assert next_larger(case["diameter"]) == case["next"]
    for case in VECTORS["oversize_allowed"]:
        assert oversize_allowed(case["count"]) == case["most"]
    for case in VECTORS["size_for_sheet"]:
        assert size_for_sheet(inches(case["thickness"])) == case["diameter"]


@pytest.mark.parametrize("case", VECTORS["checks"], ids=lambda case: case["source"])
def test_a_size_is_checked_against_edge_and_pitch(case):
    (decision,) = rivet_line(line_of(case["line"]))["decisions"]
    assert decision["result"] == case["result"]
    assert case["words"] in [check["words"] for check in decision["checks"]]


@pytest.mark.parametrize("case", VECTORS["share_text"], ids=lambda case: case["text"])
def test_a_share_under_a_limit_never_reads_as_reaching_it(case):
    assert share_text(case["part"], case["whole"]) == case["text"]


@pytest.mark.parametrize("case", VECTORS["turned"], ids=lambda case: case["do"])
def test_a_line_is_put_right_without_typing_it_again(case):
    given = {"reverse": reverse_line, "insert": insert_hole, "remove": remove_hole}
    more = [case[key] for key in ("at", "state") if key in case]
    assert given[case["do"]](case["line"], *more) == case["gives"]


def test_every_row_of_the_catalogue_has_two_columns_and_a_source():
    for row in CATALOGUE["sizes"].values():
        assert inches(row["structural_nominal_hole"])
        assert row["handbook_drill"]
    smallest = CATALOGUE["sizes"]["3/32"]
    assert (smallest["structural_nominal_hole"], smallest["handbook_drill"]) == ("0.096", "No. 40")
    bases = [
        row["basis"] for alloy in CATALOGUE["alloys"].values() for row in alloy["shear"].values()
    ]
    for basis in [*bases, *CATALOGUE["sizes_basis"].values(), *CATALOGUE["limits"].values()]:
        assert basis["source"]
        assert (basis["marker"] == "from memory") == basis.get("verify", False)


states = st.text("SSLCDNRV", min_size=1, max_size=14)


@settings(deadline=None)
@given(states)
def test_a_line_reversed_has_the_same_counts_runs_and_shares(text):
    line = line_of({"as_found": text, "as_now": text, "holes": {"1": {"alloy": "2024"}}})
    there, back = rivet_line(line), rivet_line(reverse_line(line))
    for key in ("counts", "not_effective", "share", "heads_off"):
        assert there["as_now"][key] == back["as_now"][key]
    for key in ("run", "possible_run"):
        assert there["as_now"][key]["length"] == back["as_now"][key]["length"]
    assert there["as_now"]["worst_six"]["percent"] == back["as_now"]["worst_six"]["percent"]
    assert reverse_line(reverse_line(line)) == line


@settings(deadline=None)
@given(states, st.data())
def test_a_hole_put_in_and_taken_out_leaves_the_line_as_it_was(text, data):
    holes = {"1": {"alloy": "2024"}, str(len(text)): {"edge": {"value": "0.3", "unit": "in"}}}
    line = line_of({"as_found": text, "as_now": text, "holes": holes})
    at = data.draw(st.integers(1, len(text) + 1))
    assert remove_hole(insert_hole(line, at, "N"), at) == line


@settings(deadline=None)
@given(states)
def test_every_hole_is_sound_decided_held_or_not_reached(text):
    survey = rivet_line(line_of({"as_found": text, "as_now": text}))
    drawn = [hole for row in survey["demand"] for hole in row["holes"]]
    asked = [at for at, state in enumerate(text, start=1) if state in "LCD"]
    assert sorted(drawn + survey["held"]) == asked
    assert sum(survey["as_now"]["counts"].values()) == len(text)


@settings(deadline=None)
@given(st.integers(1, 40), st.sampled_from(["hole", "rivet"]), st.sampled_from([None, "82000"]))
def test_all_sound_is_all_there(count, basis, f_bru_psi):
    text = "S" * count
    line = line_of({"as_found": text, "as_now": text, "basis": basis, "f_bru_psi": f_bru_psi})
    assert rivet_line(line)["as_now"]["share"] == {"low": "100.0", "high": "100.0"}
