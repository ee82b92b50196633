"""Each point in exactly one zone: by our rules, by polygons, and alike in both languages."""

import hashlib
import json
import random
from collections import Counter
from pathlib import Path

import pytest
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union
from skinpin.domain.definition import check
from skinpin.domain.definition_zones import areas, lines_of, zone_words
from skinpin.domain.place import hand_of, strake_indexes, structure_of, zone_of, zones_of
from skinpin.domain.place_stations import in_tenth_nm, span_tenth_nm

from tests.domain.definitions import MARRAM, SECOND, second, smallest
from tests.domain.random_points import POINTS, points

AIRFRAMES = {"Marram": MARRAM, "in mm": SECOND}
VECTORS = json.loads((Path(__file__).parents[1] / "vectors/zone_points.json").read_text("utf-8"))
FAR = 10**13


def polygon(structure, zone):
    """Return a zone rule as a box of stations (0.1 nm) and strake lines."""
    ends = [None if one is None else in_tenth_nm(structure, one)
            for one in zone.get("along") or (None, None)]  # fmt: skip
    begin, end = -FAR if ends[0] is None else ends[0], FAR if ends[1] is None else ends[1]
    low, high = zone.get("strakes") or (0, 1000)
    return box(begin, low, end, high) if begin < end else Polygon()


def zones_by_polygons(definition):
    """Return by structure and hand the boxes of the zones there."""
    found = {}
    for structure in definition["structures"]:
        for hand in structure["hands"]:
            found[structure["name"], hand] = [
                (zone["zone"], polygon(structure, zone))
                for zone in definition["zones"]
                if zone["structure"] == structure["name"] and zone.get("hand") in (None, hand)
            ]
    return found


def zones_at(boxes, definition, place):
    """Return the zones whose boxes hold a place: a hair aft of its station, on its lower strake."""
    structure = structure_of(definition, place)
    strakes = strake_indexes(structure, place) or (0, 0)
    at = Point(span_tenth_nm(structure, place)[0] + 1, strakes[0] + 0.5)
    found = boxes[structure["name"], hand_of(structure, place)]
    return {name for name, one in found if one.contains(at)}


@pytest.mark.parametrize("name", AIRFRAMES)
def test_ten_thousand_random_points_lie_each_in_one_zone_as_polygons_have_it(name):
    definition, seed = AIRFRAMES[name], random.randrange(2**32)
    print(f"seed {seed}")
    boxes = zones_by_polygons(definition)
    drawn = list(points(definition, seed))
    assert len(drawn) == POINTS
    for place in drawn:
        zone = zone_of(definition, place)
        assert zones_of(definition, place) == [zone], (seed, place)
        assert zones_at(boxes, definition, place) == {zone}, (seed, place)


@pytest.mark.parametrize("name", AIRFRAMES)
def test_both_languages_put_the_same_points_into_the_same_zones(name):
    expected = VECTORS[name]
    zones = [zone_of(AIRFRAMES[name], one) for one in points(AIRFRAMES[name], expected["seed"])]
    assert dict(sorted(Counter(zones).items())) == expected["zones"]
    assert hashlib.sha256("\n".join(zones).encode()).hexdigest() == expected["sha256"]


def test_the_boundary_belongs_aft_and_nowhere_else():
    frame = {"structure": "Hull", "hand": "P", "member": "F8", "strakes": ["K", "B1"]}
    assert zone_of(MARRAM, frame) == "121"
    before = {**frame, "offset": {"value": "-0.001", "unit": "in"}}
    assert zone_of(MARRAM, before) == "111"


def with_random_zones(chance):
    """Return the airframe in mm with zones that anybody may have typed."""
    made = second()
    structure = made["structures"][0]
    edges = [None, *(one["station"] for one in structure["members"]), "100.5", "-9999", "9999"]
    made["zones"] = [
        {
            "zone": str(100 + chance.randrange(30)),
            "title": "made up",
            "structure": structure["name"],
            "hand": chance.choice([None, "P", "S", "C"]),
            "along": [chance.choice(edges), chance.choice(edges)],
            "strakes": chance.choice([None, sorted(chance.sample(range(10), 2))]),
        }
        for _ in range(chance.randrange(1, 12))
    ]
    made["structures"] = [structure]
    return made


def area_of(area):
    return (area.to - area.begin) * (area.high - area.low)


def solid(shape):
    """Return a shape without the lines along which zones only touch, which have no area."""
    return unary_union([part for part in getattr(shape, "geoms", [shape]) if part.area > 0])


def test_gaps_and_overlaps_are_those_of_the_polygons():
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    chance = random.Random(seed)
    gaps = overlaps = 0
    for _ in range(150):
        made = with_random_zones(chance)
        structure = made["structures"][0]
        stations = [in_tenth_nm(structure, one["station"]) for one in structure["members"]]
        whole = box(min(stations), 0, max(stations), len(lines_of(structure)))
        boxes = zones_by_polygons(made)
        found = areas(made, structure)
        for hand in structure["hands"]:
            mine = [one for one in found if one.hand == hand]
            assert sum(map(area_of, mine)) == whole.area
            named = {}
            for name, one in boxes[structure["name"], hand]:
                named.setdefault(name, []).append(solid(one.intersection(whole)))
            shapes = [unary_union(some) for some in named.values()]
            gap = whole.difference(unary_union(shapes)).area
            twice = unary_union([solid(a.intersection(b)) for at, a in enumerate(shapes)
                                 for b in shapes[at + 1:]]).area  # fmt: skip
            assert sum(area_of(one) for one in mine if not one.zones) == gap, seed
            assert sum(area_of(one) for one in mine if len(one.zones) > 1) == twice, seed
            gaps, overlaps = gaps + (gap > 0), overlaps + (twice > 0)
    assert gaps > 50
    assert overlaps > 50


def test_gaps_and_overlaps_are_told_in_words():
    made = smallest()
    made["zones"] = [
        {"zone": "111", "title": "a", "structure": "Hull", "hand": "P", "along": ["10", "20"]},
        {"zone": "121", "title": "b", "structure": "Hull", "hand": "P", "along": ["15", "30"],
         "strakes": [0, 2]},
        {"zone": "112", "title": "c", "structure": "Hull", "hand": "S"},
    ]  # fmt: skip
    gaps, overlaps = zone_words(made)
    assert overlaps == ["Hull, port, Sta 15 to F2, K to C: in zones 111 and 121"]
    assert gaps == [
        "Hull, port, F3 itself, K to C: no zone",
        "Hull, port, F2 to F3, C: no zone",
    ]
    refused = {one.code for one in check(made) if one.weight == "refused"}
    assert refused == {"no_zone", "zones_overlap"}


@pytest.mark.parametrize(("hand", "word"), [("P", "port"), ("S", "starboard")])
def test_a_hand_without_a_zone_is_one_gap(hand, word):
    made = smallest()
    made["zones"] = [one for one in made["zones"] if one["hand"] != hand]
    assert zone_words(made) == ([f"Hull, {word}, F1 to F3: no zone"], [])
