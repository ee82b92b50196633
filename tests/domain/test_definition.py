"""Every trouble of a definition by its path and a sentence, and the one form that is kept."""

import json

import pytest
from skinpin.domain.definition import (
    check,
    count_cells,
    kept_form,
    spelt_out,
    stands_in_the_way,
)
from skinpin.domain.place import member_of, read_position, station_of, zone_of
from skinpin.domain.quantities import to_tenth_nm
from skinpin.services.definitions import definition_bytes

from tests.benches import DEFINITION
from tests.domain.definitions import MARRAM, SECOND, frame, marram, second, smallest


def told(definition):
    return {one.code: one for one in check(definition)}


@pytest.mark.parametrize("right", [MARRAM, DEFINITION, smallest()])
def test_a_definition_without_a_trouble_has_none(right):
    assert check(right) == []


def test_the_demo_has_the_cells_of_its_zones_and_the_two_wing_roots():
    counted = sum(zone.get("cells", 0) for zone in MARRAM["zones"])
    assert (count_cells(MARRAM), counted) == (924, 916)


def test_two_members_at_one_station_are_refused_whatever_their_figures():
    [one] = check(smallest(frame("F1", "10"), frame("F2", "10.0"), frame("F3", "30")))
    assert (one.at, one.code, one.weight) == (
        "structures/0/members/1/station", "one_station", "refused",
    )  # fmt: skip
    assert one.message == "F1 and F2 both stand at Sta 10.0 in."


def test_members_out_of_order_are_said_and_kept_in_order():
    made = smallest(frame("F3", "30"), frame("F1", "10"), frame("F2", "20"))
    [one] = check(made)
    assert (one.at, one.code, one.weight) == ("structures/0/members", "out_of_order", "said")
    assert "F1" in one.message
    kept = kept_form(made)["structures"][0]["members"]
    assert [member["name"] for member in kept] == ["F1", "F2", "F3"]
    assert check(kept_form(made)) == []


@pytest.mark.parametrize(
    ("changes", "at"),
    [
        ({"members": [frame("F1", "1"), frame("f1", "2")]}, "structures/0/members/1"),
        ({"strakes": ["K", "K"]}, "structures/0/strakes/1"),
        ({"faces": ["inner", "inner"]}, "structures/0/faces/1"),
        ({"hands": ["P", "P"]}, "structures/0/hands/1"),
        (
            {"members": [frame("F1", "1", written="340"), frame("340", "2")]},
            "structures/0/members/0/written",
        ),
    ],
)
def test_a_name_given_twice_is_refused(changes, at):
    assert (at, "refused") in {
        (one.at, one.weight) for one in check(smallest(**changes)) if one.code == "name_twice"
    }


def test_a_name_given_twice_is_told_while_another_structure_has_no_members_yet():
    made = smallest(frame("F1", "1"), frame("F2", "2"), frame("F1", "3"))
    made["structures"].append({**made["structures"][0], "name": "Wing", "members": []})
    found = check(made)
    assert {one.at: one.code for one in found} == {
        "structures/1/members": "wrong_shape",
        "structures/0/members/2": "name_twice",
    }
    made["structures"][0]["members"][0]["station"] = "1O"
    assert all(one.code == "wrong_shape" for one in check(made))


@pytest.mark.parametrize("word", ["structures", "off_aircraft", "views"])
def test_two_of_one_name_are_refused(word):
    made = marram(off_aircraft=[{"name": "Bench 1"}])
    made[word].append(made[word][0])
    [one] = [one for one in check(made) if one.code == "name_twice"]
    assert one.at == f"{word}/{len(made[word]) - 1}"


def test_a_half_frame_stands_between_two_others():
    ends = [frame("F1", "10"), frame("F2", "20") | {"kind": "half frame"}]
    assert told(smallest(*ends))["half_frame_at_end"].weight == "said"
    assert check(smallest(*ends, frame("F3", "30"))) == []


def test_canted_members_that_cross_are_said():
    made = smallest(frame("F1", "10", upper_station="21"), frame("F2", "20"), frame("F3", "30"))
    assert "F1 and F2" in told(made)["canted_across"].message
    made["structures"][0]["members"][1]["upper_station"] = "22"
    assert check(made) == []


def test_plug_members_are_names_and_never_figures():
    """CV-03: "FS 340B + 10.25" is 10.25 in aft of 340B and not 350.25."""
    made = smallest(frame("340", "340"), frame("F9", "372", written="340B"), frame("360", "395"))
    assert check(made) == []
    hull = made["structures"][0]
    read = read_position(hull, "FS 340B + 10.25")
    assert read == {"member": "F9", "offset": {"value": "10.25", "unit": "in"}}
    place = {"structure": "Hull", "hand": "P", **read}
    assert station_of(made, place) == {"value": "382.25", "unit": "in"}
    assert to_tenth_nm(read["offset"]) == to_tenth_nm({"value": "260.35", "unit": "mm"})


def test_a_frame_station_is_so_far_aft_of_the_datum():
    """CV-02: FS 137 lies 137 in = 3479.8 mm aft of the datum (FAA-H-8083-31, chapter 1)."""
    made = smallest(frame("F1", "10"), frame("F2", "137"))
    place = {"structure": "Hull", "hand": "P", "member": "F2"}
    assert to_tenth_nm(station_of(made, place)) == 34_798_000_000


@pytest.mark.parametrize(
    ("axis", "datum", "code"),
    [
        ("WL", "WL 0 = nose tip", None),
        ("WL", "WL 0 = nominal ground plane", "below_ground"),
        ("Sta", "Sta 0 = front face of the firewall", "before_datum"),
    ],
)
def test_a_station_below_nought_is_right_or_odd_by_its_datum(axis, datum, code):
    """CV-04: WL −4.5 is right with WL 0 at the nose tip; below the ground plane it is odd."""
    low = {"name": "WL -4.5", "kind": "station", "station": "-4.5"}
    made = smallest(low, frame("F2", "20"), axis=axis, datum=datum)
    assert [(one.code, one.weight) for one in check(made)] == ([(code, "said")] if code else [])
    place = {"structure": "Hull", "hand": "P", "member": "WL -4.5"}
    assert station_of(made, place) == {"value": "-4.5", "unit": "in"}
    assert zone_of(made, place) == "111"


def test_either_hand_of_a_butt_line_is_a_side_and_a_distance():
    """CV-05: RBL 12.0 is side R, 12.0 outboard; LBL 12.0 side L: a hand, and no minus."""
    made = smallest(frame("BL 0", "0"), frame("BL 20", "20"), axis="BL", positive="outboard")
    for hand, zone in (("S", "112"), ("P", "111")):
        place = {"structure": "Hull", "hand": hand, **read_position(made["structures"][0], "12.0")}
        assert station_of(made, place)["value"] == "12.0"
        assert zone_of(made, place) == zone


@pytest.mark.parametrize("zone", ["047", "1000"])
def test_zone_numbers_have_three_digits_from_100(zone):
    """CV-07: 047 and 1000 are rejected."""
    made = smallest()
    made["zones"][0]["zone"] = zone
    assert [one.at for one in check(made)] == ["zones/0/zone"]


@pytest.mark.parametrize(
    ("path", "put", "code", "weight"),
    [
        (("structures", 0, "members", 1, "station"), "20.00000001", "too_fine", "refused"),
        (("structures", 0, "datum"), " ", "no_datum", "said"),
        (("zones", 0, "structure"), "Wing", "no_structure", "refused"),
        (("zones", 0, "hand"), "C", "no_hand", "refused"),
        (("zones", 0, "along"), ["20", "20"], "empty_zone", "refused"),
        (("zones", 0, "strakes"), [1, 1], "no_such_strakes", "refused"),
        (("zones", 0, "strakes"), [0, 4], "no_such_strakes", "refused"),
        (("zones", 0, "cells"), 5, "cells_differ", "said"),
        (("structures", 0, "stringers"), ["S-1"], "two_sets_of_lines", "refused"),
    ],
)
def test_what_is_wrong_is_named(path, put, code, weight):
    made = smallest()
    at = made
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = put
    one = told(made)[code]
    assert one.weight == weight
    assert one.at.startswith("/".join(map(str, path[:2])))
    assert one.message.endswith(".")
    assert one.hint.endswith(".")


def test_plates_and_access_items_are_looked_at():
    plate = {"part": "skin", "thickness": "0.064", "material": "XX", "strakes": [0, 9]}
    made = smallest(plating=[plate])
    made["zones"][0]["access"] = [{"name": "P1", "kind": "panel"}, {"name": "P1", "kind": "floor"}]
    found = {(one.at, one.code, one.weight) for one in check(made)}
    assert found == {
        ("structures/0/plating/0/strakes", "no_such_strakes", "refused"),
        ("structures/0/plating/0/material", "unknown_material", "said"),
        ("zones/0/access/1/name", "name_twice", "refused"),
    }


def test_views_show_structures_and_hands_that_are_there():
    made = second()
    view = {"title": "T", "seen_from": "port", "box": [1, 1], "x": {"origin": 0, "per_unit": 1},
            "y": {"origin": 0}, "lines": [], "labels": []}  # fmt: skip
    made["views"] = [
        view | {"name": "1", "structure": "Tail"},
        view | {"name": "2", "structure": "Fin", "hand": "P"},
        view | {"name": "3", "structure": "Fin", "second": "strake"},
    ]
    found = [(one.at, one.code) for one in check(made) if one.weight == "refused"]
    assert found == [
        ("views/0/structure", "no_structure"),
        ("views/1/hand", "no_hand"),
        ("views/2/second", "no_strake"),
    ]


def test_stringers_become_the_lines_that_cells_lie_between():
    made = second()
    made["structures"][0]["strakes"] = []
    assert not stands_in_the_way(check(made))
    assert kept_form(made) == SECOND


def test_the_kept_form_is_one_spelling_that_reads_back():
    decomposed = "F1e\N{COMBINING ACUTE ACCENT}"
    made = smallest(frame(decomposed, "10"), frame("F2", "20"))
    made["views"] = [{"box": [1000.0, 2.5]}]
    first = definition_bytes(made)
    assert definition_bytes(json.loads(first)) == first
    assert "F1é".encode() in first
    assert b'"box":[1000,2.5]' in first
    assert member_of(json.loads(first)["structures"][0], "F1é")


def test_what_is_spelt_out_means_the_same_and_leaves_nothing_open():
    zones = {zone["zone"] for zone in SECOND["zones"]}
    spelt = spelt_out(SECOND)
    assert {zone["zone"] for zone in spelt["zones"]} == zones
    assert all({"hand", "along", "strakes"} <= zone.keys() for zone in spelt["zones"])
    assert [zone["hand"] for zone in spelt["zones"] if zone["zone"] == "310"] == ["C"]
    # The keel line is counted in the cells beside it.
    assert sum(zone.get("cells", 0) for zone in spelt["zones"]) == count_cells(SECOND) == 235
    assert "cells" not in next(zone for zone in spelt["zones"] if zone["zone"] == "110")
    assert spelt_out(MARRAM)["zones"] == MARRAM["zones"]


def test_five_hundred_members_are_checked():
    made = smallest(*[frame(f"F{at}", str(at * 10)) for at in range(500)])
    assert check(made) == []
    made["structures"][0]["members"][499]["station"] = "0"
    assert {one.code for one in check(made)} == {"one_station", "out_of_order"}
