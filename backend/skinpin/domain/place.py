"""Places on an airframe: stations, zones, cells, steps, words, views, by its definition."""

from skinpin.domain.place_pictures import is_shown, picture_place, picture_point, picture_views
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
from skinpin.domain.place_words import entered_words, is_gone, is_off, place_words, station_words
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
    "entered_words",
    "hand_of",
    "is_gone",
    "is_off",
    "is_shown",
    "member_before",
    "member_of",
    "picture_place",
    "picture_point",
    "picture_views",
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
