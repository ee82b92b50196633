"""Structures of the Marram: axes, members, strakes, plating and the thickness of parts."""

from typing import Any

from skinpin_demo import marram

Part = tuple[str, str, str]

HULL_PARTS: list[Part] = [
    ("bottom plating", "0.064", "AL"),
    ("side plating", "0.036", "AL"),
    ("deck plating", "0.028", "AL"),
    ("frame", "0.048", "AL"),
    ("stringer", "0.040", "AL"),
    ("chine angle", "0.080", "AL"),
    ("keel", "0.128", "AL"),
    ("gunwale stringer", "0.040", "AL"),
    ("sternpost fitting", "0.125", "ST"),
]
WING_PARTS: list[Part] = [
    ("upper skin", "0.028", "AL"),
    ("lower skin", "0.028", "AL"),
    ("rib flange", "0.028", "AL"),
    ("rib nose", "0.022", "AL"),
    ("front spar boom", "0.160", "AL"),
    ("front spar web", "0.048", "AL"),
    ("rear spar boom", "0.128", "AL"),
    ("spar fitting bolt", "0.3125", "ST"),
    ("float strut fitting", "0.190", "ST"),
    ("engine bearer fitting", "0.190", "AL"),
]
WING_FACES = ["upper skin", "lower skin", "front spar", "rear spar"]

# The smaller structures: name, axis, hands, datum, direction, stations, parts.
_SMALL: list[tuple[str, str, str, str, str, list[str], list[Part]]] = [
    ("Fin", "WL", "C", "WL 0 = keel at the main step", "up",
     ["60", "66", "72", "78", "84", "90", "97", "104"], [("fin leading edge", "0.028", "AL")]),
    ("Rudder", "WL", "C", "WL 0 = keel at the main step", "up",
     ["46", "58", "70", "82", "94", "106"], [("hinge bolt", "0.250", "ST")]),
    ("Port tailplane", "TS", "P", "TS 0 = aircraft centreline", "outboard",
     ["0", "12", "26", "40", "52", "64"], [("elevator hinge bracket", "0.100", "MG")]),
    ("Starboard tailplane", "TS", "S", "TS 0 = aircraft centreline", "outboard",
     ["0", "12", "26", "40", "52", "64"], [("elevator hinge bracket", "0.100", "MG")]),
    ("Port elevator", "TS", "P", "TS 0 = aircraft centreline", "outboard",
     ["0", "12", "26", "40", "52", "64"], []),
    ("Starboard elevator", "TS", "S", "TS 0 = aircraft centreline", "outboard",
     ["0", "12", "26", "40", "52", "64"], []),
    ("Port nacelle", "NS", "P", "NS 0 = front of the nacelle, hull Sta 118", "aft",
     ["0", "12", "27", "42", "57", "72", "88"], [("firewall", "0.036", "AL")]),
    ("Starboard nacelle", "NS", "S", "NS 0 = front of the nacelle, hull Sta 118", "aft",
     ["0", "12", "27", "42", "57", "72", "88"], [("firewall", "0.036", "AL")]),
    ("Port float", "FS", "P", "FS 0 = float stem", "aft",
     ["0", "15", "30", "45", "60", "75", "90"], [("float bottom plating", "0.036", "AL")]),
    ("Starboard float", "FS", "S", "FS 0 = float stem", "aft",
     ["0", "15", "30", "45", "60", "75", "90"], [("float bottom plating", "0.036", "AL")]),
]  # fmt: skip
_GEAR = [("wheel", "0"), ("jack", "24"), ("pick-up", "46")]


def small_stations(structure: str) -> list[tuple[str, str]]:
    """Return name and station of every member of a smaller structure."""
    if structure == "Alighting gear":
        return _GEAR
    axis, stations = next((row[1], row[5]) for row in _SMALL if row[0] == structure)
    return [(f"{axis} {station}", station) for station in stations]


def structures() -> list[dict[str, Any]]:
    """Every structure of the airframe definition, hull first."""
    small = [_small(*row) for row in _SMALL]
    return [_hull(), _wing("Port wing", "P"), _wing("Starboard wing", "S"), *small, _gear()]


def _parts(parts: list[Part]) -> list[dict[str, str]]:
    return [{"part": part, "thickness": thick, "material": alloy} for part, thick, alloy in parts]


def _hull() -> dict[str, Any]:
    return {
        "name": "Hull",
        "axis": "Sta",
        "unit": "in",
        "datum": "Sta 0 = upright plane 4 in forward of the stem; WL 0 = keel at the main step",
        "positive": "aft",
        "hands": ["P", "S", "C"],
        "members": [_frame(frame) for frame in marram.FRAMES],
        "strakes": marram.STRAKES,
        "plating": [
            _plating([0, 4], "0.064", "bottom plating"),
            _plating([4, 9], "0.036", "side plating"),
            _plating([9, 13], "0.028", "deck plating"),
        ],
        "parts": _parts(HULL_PARTS),
        "faces": ["inner", "outer"],
    }


def _plating(strakes: list[int], thickness: str, part: str) -> dict[str, Any]:
    return {"strakes": strakes, "thickness": thickness, "part": part, "material": "AL"}


def _frame(frame: marram.Frame) -> dict[str, Any]:
    return {
        "name": frame.name,
        "kind": "half frame" if frame.name in marram.HALF_FRAMES else "frame",
        "station": frame.station,
        "main": frame.name in marram.MAIN_FRAMES,
        "thickness": "0.048",
    }


def _wing(name: str, hand: str) -> dict[str, Any]:
    ribs = [_rib(rib.name, rib.ws) for rib in marram.RIBS]
    ends = {"thickness": "0.028", "main": False}
    return {
        "name": name,
        "axis": "WS",
        "unit": "in",
        "datum": "WS 0 = aircraft centreline; chordwise in hull Sta",
        "positive": "outboard",
        "hands": [hand],
        "members": [
            {"name": "CL", "kind": "centreline", "station": "0", **ends},
            *ribs,
            {"name": "tip", "kind": "tip", "station": marram.TIP_WS, **ends},
        ],
        "strakes": [],
        "plating": [
            {"thickness": "0.028", "part": face, "material": "AL"} for face in WING_FACES[:2]
        ],
        "parts": _parts(WING_PARTS),
        "faces": WING_FACES,
    }


def _rib(name: str, station: str) -> dict[str, Any]:
    main = name in marram.MAIN_RIBS
    return {"name": name, "kind": "rib", "station": station, "main": main, "thickness": "0.028"}


def _small(
    name: str, axis: str, hand: str, datum: str, positive: str, stations: list[str],
    parts: list[Part],
) -> dict[str, Any]:  # fmt: skip
    return {
        "name": name,
        "axis": axis,
        "unit": "in",
        "datum": datum,
        "positive": positive,
        "hands": [hand],
        "members": [
            {"name": f"{axis} {station}", "kind": "station", "station": station, "main": False}
            for station in stations
        ],
        "strakes": [],
        "plating": [],
        "parts": _parts(parts),
        "faces": [],
    }


def _gear() -> dict[str, Any]:
    return {
        "name": "Alighting gear",
        "axis": "Gear",
        "unit": "in",
        "datum": "Gear 0 = main wheel",
        "positive": "inboard",
        "hands": ["P", "S"],
        "members": [
            {"name": name, "kind": "unit", "station": station, "main": False}
            for name, station in _GEAR
        ],
        "strakes": [],
        "plating": [],
        "parts": [],
        "faces": [],
    }
