"""Places on an airframe: stations, zones, cells, steps, words, views, by its definition."""

from skinpin.domain.place_stations import (
    Definition,
    Place,
    at_station,
    member_before,
    member_of,
    read_position,
    station_of,
    structure_of,
)
from skinpin.domain.place_steps import Step, step_bay, step_strake
from skinpin.domain.place_views import place_at, view_point
from skinpin.domain.place_words import place_words, station_words
from skinpin.domain.place_zones import (
    cell_of,
    hand_of,
    strake_indexes,
    zone_of,
    zone_parts,
    zones_of,
)

__all__ = [
    "Definition",
    "Place",
    "Step",
    "at_station",
    "cell_of",
    "hand_of",
    "member_before",
    "member_of",
    "place_at",
    "place_words",
    "read_position",
    "station_of",
    "station_words",
    "step_bay",
    "step_strake",
    "strake_indexes",
    "structure_of",
    "view_point",
    "zone_of",
    "zone_parts",
    "zones_of",
]
