"""Every place that the scenario's records name lies at its station and in its zone."""

import pytest
from skinpin.domain.place import station_of, zone_of
from skinpin_demo.definition import definition

MARRAM = definition()

# number | structure | hand | member | offset | strakes | station | zone, as the scenario has them
PLACES = """
A/0001 | Hull | P | F5 | 6.5 | B1 | B2 | 63.5 | 111
A/0002 | Hull | P | F6 | 2.0 | K | B1 | 72.0 | 111
A/0003 | Hull | S | F6 | 3.5 | K | B1 | 73.5 | 112
A/0004 | Hull | S | F7 | 0.0 | K | B1 | 83.0 | 112
A/0005 | Hull | P | F8 | 4.0 | B2 | B3 | 100.0 | 121
A/0006 | Hull | P | F9 | 0.0 | B1 | B2 | 108.0 | 121
A/0007 | Hull | S | F9 | 6.0 | B3 | C | 114.0 | 122
A/0008 | Hull | S | F10 | 5.0 | B1 | B2 | 125.0 | 122
A/0009 | Hull | P | F11 | 0.0 | S1 | S2 | 132.0 | 221
A/0010 | Hull | P | F12A | 0.0 | B2 | B3 | 148.5 | 121
A/0011 | Hull | S | F13 | 3.0 | K | B1 | 157.0 | 122
A/0012 | Hull | C | F14 | 6.0 | K | K | 172.0 | 120
B/0001 | Port wing | P | R5 | 0.0 | - | - | 92.0 | 520
B/0002 | Port wing | P | R6 | 4.0 | - | - | 114.0 | 520
B/0003 | Port wing | P | R7 | 0.0 | - | - | 128.0 | 520
B/0004 | Port wing | P | R8 | 0.0 | - | - | 146.0 | 520
B/0005 | Port wing | P | R4 | 0.0 | - | - | 74.0 | 520
B/0006 | Port wing | P | R10 | 0.0 | - | - | 182.0 | 520
B/0007 | Port wing | P | R9 | 8.0 | - | - | 172.0 | 520
B/0008 | Port wing | P | R12 | 0.0 | - | - | 218.0 | 530
B/0009 | Port wing | P | R11 | 0.0 | - | - | 200.0 | 520
A/0013 | Hull | P | F10 | 4.0 | S2 | S3 | 124.0 | 221
A/0014 | Hull | P | F12 | 5.0 | S3 | S4 | 148.0 | 221
A/0015 | Hull | S | F13 | 2.0 | G | D1 | 156.0 | 222
A/0016 | Hull | P | F15 | 5.0 | D1 | D2 | 183.0 | 231
A/0017 | Hull | S | F17 | 8.0 | D1 | D2 | 211.0 | 232
A/0018 | Hull | P | F13 | 6.0 | S1 | S2 | 160.0 | 221
A/0019 | Hull | S | F11 | 0.0 | S1 | S2 | 132.0 | 222
A/0020 | Hull | P | F19 | 6.0 | S1 | S2 | 236.0 | 231
B/0010 | Fin | C | WL 84 | 0.0 | - | - | - | 310
B/0011 | Port tailplane | P | TS 40 | 0.0 | - | - | - | 331
B/0012 | Starboard elevator | S | TS 52 | 0.0 | - | - | - | 332
B/0013 | Hull | P | F29 | 0.0 | S3 | S4 | 384.0 | 241
B/0014 | Rudder | C | WL 70 | 0.0 | - | - | - | 310
B/0015 | Hull | P | F6 | 2.5 | K | B1 | 72.5 | 111
B/0016 | Hull | P | F13 | 3.0 | K | B1 | 157.0 | 121
B/0017 | Hull | S | F12 | 5.0 | B2 | B3 | 148.0 | 122
B/0018 | Hull | P | F14 | 9.0 | B3 | C | 175.0 | 121
B/0019 | Hull | S | F10 | 5.2 | B1 | B2 | 125.2 | 122
A/0021 | Starboard wing | S | R2 | 6.0 | - | - | 46.0 | 610
A/0022 | Starboard wing | S | R3 | 0.0 | - | - | 56.0 | 610
A/0023 | Starboard nacelle | S | NS 12 | 0.0 | - | - | - | 420
A/0024 | Alighting gear | S | jack | 0.0 | - | - | - | 732
A/0025 | Alighting gear | P | jack | 0.0 | - | - | - | 731
A/0026 | Starboard float | S | FS 30 | 0.0 | - | - | - | 722
"""


def place_of(line):
    number, structure, hand, member, offset, low, high, station, zone = line.split(" | ")
    place = {
        "structure": structure,
        "hand": hand,
        "member": member,
        "offset": {"value": offset, "unit": "in"},
    }
    if low != "-":
        place["strakes"] = [low, high]
    return number, place, station, zone


ROWS = [place_of(line) for line in PLACES.strip().split("\n")]


def test_there_are_forty_five_records():
    assert len({number for number, *_ in ROWS}) == 45


@pytest.mark.parametrize(
    ("number", "place", "station", "zone"), ROWS, ids=[number for number, *_ in ROWS]
)
def test_a_record_lies_at_its_station_in_its_zone(number, place, station, zone):
    assert zone_of(MARRAM, place) == zone
    if station != "-":
        assert float(station_of(MARRAM, place)["value"]) == float(station)
