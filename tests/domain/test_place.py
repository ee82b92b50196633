import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.domain.place import (
    cell_of,
    entered_words,
    member_before,
    place_at,
    place_words,
    read_position,
    station_of,
    station_words,
    step_bay,
    step_strake,
    structure_of,
    view_point,
    zone_of,
    zone_parts,
    zones_of,
)
from skinpin.domain.quantities import compare, to_tenth_nm

ROOT = Path(__file__).parents[2]
VECTORS = json.loads((ROOT / "tests/vectors/place.json").read_text("utf-8"))
MADE = VECTORS["definition"]
MARRAM = json.loads(
    (ROOT / "sample_data/skinpin_demo/data/definition_2603.json").read_text("utf-8")
)
VIEWS = {view["name"]: view for view in MADE["views"]}


def named(case):
    return case.get("number") or case.get("why") or case.get("text") or str(case)


def refusal(act):
    with pytest.raises(Refused) as refused:
        act()
    assert refused.value.message.endswith(".")
    return refused.value.code


@pytest.mark.parametrize("case", VECTORS["demo"], ids=named)
def test_every_demo_record_lies_at_its_station_and_in_its_zone(case):
    assert zone_of(MARRAM, case["place"]) == case["zone"]
    assert zones_of(MARRAM, case["place"]) == [case["zone"]]
    assert place_words(MARRAM, case["place"]) == case["words"]
    if case["station"]:
        assert compare(station_of(MARRAM, case["place"]), case["station"]) == 0


def test_there_are_forty_five_demo_positions():
    assert len({case["number"] for case in VECTORS["demo"]}) == 45


@pytest.mark.parametrize("case", VECTORS["stations"], ids=str)
def test_a_station_is_member_and_offset(case):
    station = station_of(MADE, case["place"])
    assert station == case["station"]
    if "mm" in case:
        assert compare(station, {"value": case["mm"], "unit": "mm"}) == 0


@pytest.mark.parametrize("case", VECTORS["read"], ids=named)
def test_a_typed_position_never_reads_a_member_as_a_figure(case):
    structure = structure_of(MADE, case)
    if "refused" in case:
        assert refusal(lambda: read_position(structure, case["text"])) == case["refused"]
        return
    read = read_position(structure, case["text"])
    assert read == {
        "member": case["member"],
        "offset": {"value": case["offset"], "unit": structure["unit"]},
    }


@pytest.mark.parametrize("case", VECTORS["member_before"], ids=str)
def test_the_member_before_is_the_last_at_or_before_a_station(case):
    member = member_before(structure_of(MADE, case), case["station"])
    assert (member and member["name"]) == case["member"]


@pytest.mark.parametrize("case", VECTORS["zones"], ids=named)
def test_zones_are_half_open_and_outside_them_is_refused(case):
    if "refused" in case:
        assert refusal(lambda: zone_of(MADE, case["place"])) == case["refused"]
    else:
        assert zone_of(MADE, case["place"]) == case["zone"]


@pytest.mark.parametrize("case", VECTORS["through"], ids=str)
def test_a_long_place_runs_through_its_zones(case):
    assert zones_of(MADE, case["place"]) == case["zones"]


@pytest.mark.parametrize("case", VECTORS["cells"], ids=str)
def test_a_cell_is_bay_and_strake_or_bay_and_face(case):
    assert cell_of(MADE, case["place"]) == case["cell"]


@pytest.mark.parametrize("case", VECTORS["steps"], ids=str)
def test_a_step_leads_to_the_neighbour_or_says_why_not(case):
    step = {"bay": step_bay, "strake": step_strake}[case["step"]]
    taken = step(MADE, case["place"], case["by"])
    assert taken.place == case.get("to")
    assert taken.reason == case.get("reason", "")


@pytest.mark.parametrize("case", VECTORS["words"], ids=lambda case: case["words"])
def test_a_place_reads_in_trade_notation(case):
    assert place_words(MADE, case["place"]) == case["words"]
    assert entered_words(MADE, case["place"]) == case.get("entered", "")


def test_a_station_reads_with_its_axis():
    assert station_words(MARRAM, VECTORS["demo"][1]["place"]) == "Sta 72.0"


@pytest.mark.parametrize("case", VECTORS["points"], ids=str)
def test_a_place_has_its_point_on_a_view(case):
    point = view_point(VIEWS[case["view"]], MADE, case["place"])
    assert point == pytest.approx(case["point"], abs=1e-9)


@pytest.mark.parametrize("case", VECTORS["touches"], ids=str)
def test_a_touch_on_a_view_is_a_place(case):
    def touched():
        return place_at(VIEWS[case["view"]], MADE, case["x"], case["y"], case.get("hand"))

    if "refused" in case:
        assert refusal(touched) == case["refused"]
    else:
        assert touched() == case["place"]


@pytest.mark.parametrize("case", VECTORS["zone_parts"], ids=str)
def test_a_zone_number_has_its_major_zone_and_sub_zone(case):
    if "refused" in case:
        assert refusal(lambda: zone_parts(case["zone"])) == case["refused"]
    else:
        parts = zone_parts(case["zone"])
        assert (parts["major"], parts["sub_zone"]) == (case["major"], case["sub_zone"])


def test_two_zones_over_one_place_are_refused():
    doubled = {**MADE, "zones": [*MADE["zones"], {**MADE["zones"][1], "zone": "199"}]}
    place = VECTORS["zones"][0]["place"]
    assert refusal(lambda: zone_of(doubled, place)) == "zones_overlap"


def test_inserting_a_frame_moves_nothing_and_describes_anew():
    place = VECTORS["demo"][1]["place"]
    hull = MARRAM["structures"][0]
    added = {"name": "F6A", "kind": "frame", "station": "71", "main": False}
    altered = {
        **MARRAM,
        "structures": [{**hull, "members": [*hull["members"], added]}, *MARRAM["structures"][1:]],
    }
    assert station_of(altered, place) == station_of(MARRAM, place)
    assert cell_of(MARRAM, place)["bay"] == ["F6", "F7"]
    assert cell_of(altered, place)["bay"] == ["F6A", "F7"]


def test_a_moved_datum_shifts_stations_and_leaves_member_and_offset():
    place = VECTORS["demo"][1]["place"]
    hull = MARRAM["structures"][0]
    members = [{**row, "station": str(float(row["station"]) + 100)} for row in hull["members"]]
    altered = {**MARRAM, "structures": [{**hull, "members": members}]}
    moved = to_tenth_nm(station_of(altered, place)) - to_tenth_nm(station_of(MARRAM, place))
    assert moved == 100 * 254_000_000
    assert place_words(altered, place) == place_words(MARRAM, place)


def places_on(structure):
    strakes = structure["strakes"]
    pairs = st.integers(0, max(len(strakes) - 2, 0)).map(lambda at: strakes[at : at + 2])
    low, high = structure["members"][0]["station"], structure["members"][-1]["station"]
    # Stations by quarter inches, so that boundaries come up.
    along = st.integers(int(float(low) * 4), int(float(high) * 4))
    return st.builds(
        lambda quarters, hand, pair: {
            "structure": structure["name"],
            "hand": hand,
            **read_position(structure, f"{quarters / 4}"),
            **({"strakes": pair} if strakes else {}),
        },
        along,
        st.sampled_from(structure["hands"]),
        pairs,
    )


@settings(deadline=None, max_examples=400)
@given(st.sampled_from(MARRAM["structures"]).flatmap(places_on))
def test_every_place_on_the_marram_is_in_exactly_one_zone(place):
    zone = zone_of(MARRAM, place)
    assert zones_of(MARRAM, place) == [zone]
    assert {"1": "P", "2": "S", "0": "C"}.get(zone[2]) == place["hand"] or zone[0] in "3456"


@settings(deadline=None)
@given(places_on(MARRAM["structures"][0]), st.sampled_from(MARRAM["views"][:1]))
def test_a_point_of_a_place_touched_again_is_the_same_bay_and_strakes(place, view):
    x, y = view_point(view, MARRAM, place)
    again = place_at(view, MARRAM, x, y, place["hand"] if place["hand"] == "C" else None)
    if place["hand"] != "C":
        assert (again["hand"], again["strakes"]) == (place["hand"], place["strakes"])
    distance = to_tenth_nm(station_of(MARRAM, again)) - to_tenth_nm(station_of(MARRAM, place))
    assert abs(distance) <= 254_000_000 // 20


@settings(deadline=None)
@given(places_on(MARRAM["structures"][0]))
def test_a_bay_aft_and_a_bay_forward_lead_back(place):
    there = step_bay(MARRAM, place, 1).place
    if there is not None:
        back = step_bay(MARRAM, there, -1).place
        assert cell_of(MARRAM, back)["bay"] == cell_of(MARRAM, place)["bay"]
