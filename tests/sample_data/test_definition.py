"""The geometry of the Marram, against its formulas and points worked out by hand."""

import json

import pytest
from skinpin_demo import marram
from skinpin_demo.definition import DEFINITION, definition, definition_text

MARRAM = definition()


def view(name):
    return next(each for each in MARRAM["views"] if each["name"] == name)


def structure(name):
    return next(each for each in MARRAM["structures"] if each["name"] == name)


def test_the_file_holds_what_the_code_makes():
    text = DEFINITION.read_text(encoding="utf-8")
    assert text == definition_text()
    assert json.loads(text) == MARRAM


def test_thirty_frames_and_a_half_frame_stand_in_order_of_station():
    members = structure("Hull")["members"]
    stations = [float(each["station"]) for each in members]
    assert len(members) == 31
    assert stations == sorted(stations)
    assert [each["name"] for each in members if each["kind"] == "half frame"] == ["F12A"]
    assert [each["name"] for each in members if each["main"]] == ["F13", "F15", "F16", "F24", "F29"]


@pytest.mark.parametrize("rib", marram.RIBS, ids=lambda rib: rib.name)
def test_a_rib_lies_on_the_straight_taper(rib):
    ws = float(rib.ws)
    chord = 96.0 if ws <= 74 else 96.0 + (54.0 - 96.0) * (ws - 74) / (318 - 74)
    assert float(rib.chord) == pytest.approx(chord, abs=0.051)
    for share, station in [(-0.1875, rib.leading), (0.375, rib.rear_spar), (0.8125, rib.trailing)]:
        assert float(station) == pytest.approx(154 + share * chord, abs=0.076)


def test_cells_of_all_zones_are_916():
    cells = {}
    for rule in MARRAM["zones"]:
        cells[rule["zone"]] = cells.get(rule["zone"], 0) + rule.get("cells", 0)
    assert sum(cells.values()) == 916
    assert {z: cells[z] for z in ("111", "122", "221", "310", "520", "732")} == {
        "111": 28,
        "122": 32,
        "221": 64,
        "310": 12,
        "520": 32,
        "732": 2,
    }


@pytest.mark.parametrize(
    "rule", [r for r in MARRAM["zones"] if "cells" in r], ids=lambda r: r["zone"]
)
def test_the_cells_of_a_zone_are_its_bays_times_its_strakes(rule):
    members = structure(rule["structure"])["members"]
    start, end = (float(each) for each in rule["along"])
    inside = [m for m in members if start <= float(m["station"]) <= end]
    strakes = min(rule["strakes"][1], 12) - rule["strakes"][0] if rule["strakes"] else 0
    across = strakes or (4 if structure(rule["structure"])["faces"] else 1)
    assert rule["cells"] == (len(inside) - 1) * across


def test_every_half_inch_of_every_structure_has_exactly_one_zone():
    for each in MARRAM["structures"]:
        ends = [float(m["station"]) for m in each["members"]]
        for hand in each["hands"]:
            for strake in range(max(1, len(each["strakes"]))):
                for step in range(int(2 * (ends[-1] - ends[0])) + 1):
                    assert len(rules_at(each["name"], hand, ends[0] + step / 2, strake)) == 1


def rules_at(name, hand, station, strake):
    return [
        rule
        for rule in MARRAM["zones"]
        if rule["structure"] == name
        and rule["hand"] == hand
        and float(rule["along"][0]) <= station < float(rule["along"][1])
        and (rule["strakes"] is None or rule["strakes"][0] <= strake < rule["strakes"][1])
    ]


def test_shell_expansion_puts_a_port_place_above_and_a_starboard_place_below_the_keel():
    shell = view("shell expansion")
    x, y = shell["x"], shell["y"]
    # A/0002: Sta 72.0, strake K to B1.
    assert x["origin"] + x["per_unit"] * 72.0 == pytest.approx(211.2)
    assert y["origin"] - y["per_strake"] * 0.5 == pytest.approx(260.5)
    heavy = [each for each in shell["lines"] if each["weight"] == "medium"]
    across = sorted({p[1] for each in heavy for p in each["points"] if len(set_of_y(each)) == 1})
    assert across == [270 - 171, 270 - 76, 270, 270 + 76, 270 + 171]


def set_of_y(line):
    return {point[1] for point in line["points"]}


def test_the_profile_outline_steps_down_at_f15_and_f24():
    outline = view("hull profile")["lines"][0]["points"]
    main, aft = [60 + 2.1 * 178, 300.0], [60 + 2.1 * 178, 300 - 2.2 * 4.5]
    assert [round(v, 2) for v in main] in outline
    assert outline[outline.index([433.8, 300.0]) + 1] == [round(v, 2) for v in aft]
    assert [694.2, 300 - 2.2 * 13] in outline
    assert [694.2, 300 - 2.2 * 15] in outline


def test_the_port_wing_is_the_mirror_of_the_starboard_wing():
    port, starboard = view("port wing plan"), view("starboard wing plan")
    for left, right in zip(port["lines"], starboard["lines"], strict=True):
        mirrored = [[1000 - x, y] for x, y in left["points"]]
        assert mirrored == [pytest.approx(point) for point in right["points"]]
    # R12 leading edge: WS 218, Sta 140.6.
    assert [pytest.approx(650.4), pytest.approx(137.44)] in starboard["lines"][0]["points"]


def test_the_half_frame_is_drawn_hidden_and_short():
    hidden = [each for each in view("shell expansion")["lines"] if each["kind"] == "hidden"]
    assert [each["points"] for each in hidden] == [[[371.85, 194], [371.85, 346]]]
