"""Views of the smaller structures: tail, tailplanes, nacelles, floats, alighting gear.

A view puts stations along x. The fin and the rudder have theirs upright, so their view is turned
a quarter: the top lies to the right, the nose is up.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from skinpin_demo.lines import Line, Point, draw_label, draw_line
from skinpin_demo.structures import small_stations

To = Callable[[Point], Point]


@dataclass(frozen=True)
class Plan:
    """How a structure lies on its view: scale, the line its places are put on, what is drawn."""

    structure: str
    name: str
    title: str
    seen_from: str
    forward: str
    origin: Point
    scale: Point
    on: float
    outline: Sequence[Point]
    beside: Sequence[tuple[Sequence[Point], str, str]] = field(default_factory=tuple)

    def at(self, point: Point) -> Point:
        """Return a point of the structure, along and across, on the view."""
        return (
            self.origin[0] + self.scale[0] * point[0],
            self.origin[1] + self.scale[1] * point[1],
        )


def small_views() -> list[dict[str, Any]]:
    """Return the views of every structure that has neither strakes nor spars."""
    return [_view(plan) for plan in [*_tail(), *_tailplanes(), *_nacelles(), *_floats(), _gear()]]


def _view(plan: Plan) -> dict[str, Any]:
    lines = [draw_line(map(plan.at, plan.outline), "medium", closed=True)]
    for points, weight, kind in plan.beside:
        closed = len(points) > 2 and kind != "hidden"
        lines.append(draw_line(map(plan.at, points), weight, kind, closed))
    points = [point for each in lines for point in each["points"]]
    width, height = (max(p[axis] for p in points) + 40 for axis in (0, 1))
    stations = small_stations(plan.structure)
    return {
        "name": plan.name,
        "title": plan.title,
        "structure": plan.structure,
        "seen_from": plan.seen_from,
        "forward": plan.forward,
        "box": [round(width), round(height + 20)],
        "x": {"origin": plan.origin[0], "per_unit": plan.scale[0]},
        "y": {"origin": round(plan.at((0, plan.on))[1], 2), "per_strake": 0},
        "lines": [*lines, *_station_lines(plan, stations)],
        "labels": [
            draw_label(plan.at((float(station), 0))[0], height, name) for name, station in stations
        ],
    }


def _station_lines(plan: Plan, stations: Sequence[tuple[str, str]]) -> list[Line]:
    """Ribs, frames or whatever stands at a station, across the outline."""
    lines = []
    for _, station in stations:
        crossing = sorted(_across(plan.outline, float(station)))
        if len(crossing) > 1 and crossing[-1] - crossing[0] > 0.5:
            ends = [(float(station), crossing[0]), (float(station), crossing[-1])]
            lines.append(draw_line(map(plan.at, ends)))
    return lines


def _across(outline: Sequence[Point], along: float) -> list[float]:
    """Return where an outline is crossed at a station."""
    found = []
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if min(x0, x1) <= along <= max(x0, x1) and x0 != x1:
            found.append(y0 + (y1 - y0) * (along - x0) / (x1 - x0))
    return found


# ---- fin and rudder: station and water line, as on the hull profile

_FIN: list[Point] = [(352, 60), (376, 104), (392, 104), (384, 60)]
_RUDDER: list[Point] = [(384, 60), (392, 104), (406, 102), (414, 66), (412, 46), (401, 57)]
_STERN: list[Point] = [(352, 60), (401, 60), (412, 58), (412, 48), (401, 40)]


def _turned(points: Sequence[Point]) -> list[Point]:
    """Return points as water line along and station across."""
    return [(water_line, station) for station, water_line in points]


def _tail() -> list[Plan]:
    fin, rudder, stern = _turned(_FIN), _turned(_RUDDER), _turned(_STERN)
    hull = (stern, "thin", "hidden")
    where = "SEEN FROM PORT, TOP TO THE RIGHT"
    origin, scale = (60 - 9.0 * 40, 40 - 9.0 * 350), (9.0, 9.0)
    return [
        Plan("Fin", "fin, port side", f"FIN, {where}", "port", "up", origin, scale, 380,
             fin, [(rudder, "thin", "full"), hull]),
        Plan("Rudder", "rudder, port side", f"RUDDER, {where}", "port", "up", origin, scale, 394,
             rudder, [(fin, "thin", "full"), hull]),
    ]  # fmt: skip


# ---- tailplanes and elevators: TS outboard, inches aft of the tailplane's leading edge at TS 0

_PLANE: list[Point] = [(0, 0), (52, 7), (60, 10), (64, 15), (64, 21), (0, 21)]
_ELEVATOR: list[Point] = [(3, 21), (64, 21), (64, 25), (58, 32), (52, 34), (12, 37), (3, 33)]


def _tailplanes() -> list[Plan]:
    plans = []
    for word in ("Port", "Starboard"):
        origin = (940.0, 40.0) if word == "Port" else (60.0, 40.0)
        scale = (-13.0 if word == "Port" else 13.0, 13.0)
        for part, own, other, on in [
            ("tailplane", _PLANE, _ELEVATOR, 16.0),
            ("elevator", _ELEVATOR, _PLANE, 27.0),
        ]:
            title = f"{word} {part}, SEEN FROM ABOVE".upper()
            plans.append(
                Plan(f"{word} {part}", f"{word.lower()} {part} plan", title, "above", "up",
                     origin, scale, on, own, [(other, "thin", "full")])
            )  # fmt: skip
    return plans


# ---- nacelles: NS aft of hull Sta 118, water line

_NACELLE: list[Point] = [(0, 88), (4, 98), (22, 102), (62, 98), (88, 90), (62, 84), (22, 84)]
_AIRSCREW: list[Point] = [(0, 72), (0, 116)]
_WING: list[Point] = [(18, 79), (24, 84), (42, 86), (72, 84), (114, 78), (72, 76), (32, 75)]


def _nacelles() -> list[Plan]:
    plans = []
    for word in ("Port", "Starboard"):
        port = word == "Port"
        origin = (100.0 if port else 900.0, 40 + 6.5 * 116)
        beside = [(_AIRSCREW, "thin", "full"), (_WING, "thin", "chain")]
        plans.append(
            Plan(f"{word} nacelle", f"{word.lower()} nacelle, outer side",
                 f"{word} NACELLE, SEEN FROM {word}".upper(), word.lower(),
                 "left" if port else "right", origin, (6.5 if port else -6.5, -6.5), 93,
                 _NACELLE, beside)
        )  # fmt: skip
    return plans


# ---- floats: FS aft of the float's stem, height above its keel at the step

_FLOAT: list[Point] = [
    (0, 11), (6, 4), (16, 1), (30, 0), (50, 0), (50, 1.5), (76, 5), (90, 11), (88, 14), (60, 17),
    (30, 18), (8, 16),
]  # fmt: skip
_CHINE: list[Point] = [(0, 11), (16, 6), (50, 5), (90, 11)]
_STRUTS: list[Point] = [(28, 18), (24, 30)]
_AFT_STRUTS: list[Point] = [(54, 17.4), (58, 30)]


def _floats() -> list[Plan]:
    plans = []
    for word in ("Port", "Starboard"):
        port = word == "Port"
        origin = (60.0 if port else 940.0, 40 + 9.5 * 30)
        beside = [
            (_CHINE, "thin", "hidden"),
            (_STRUTS, "medium", "full"),
            (_AFT_STRUTS, "medium", "full"),
        ]
        plans.append(
            Plan(f"{word} float", f"{word.lower()} float, outer side",
                 f"{word} FLOAT, SEEN FROM {word}".upper(), word.lower(),
                 "left" if port else "right", origin, (9.5 if port else -9.5, -9.5), 3.5,
                 _FLOAT, beside)
        )  # fmt: skip
    return plans


# ---- alighting gear: inches inboard of the wheel, height above its axle

_LEG: list[Point] = [(0, -2.5), (6, -2.5), (47, 12), (47, 17), (44, 17), (26, 10), (0, 2.5)]
_TYRE: list[Point] = [
    (-3, -9), (-2, -11), (2, -11), (3, -9), (3, 9), (2, 11), (-2, 11), (-3, 9),
]  # fmt: skip
_JACK: list[Point] = [(24, 4), (26, 2.6), (46, 12.4), (44, 13.8)]
_HULL_SIDE: list[Point] = [(52, -14), (50, 20)]


def _gear() -> Plan:
    beside = [
        (_TYRE, "medium", "full"), (_JACK, "thin", "full"), (_HULL_SIDE, "thin", "chain"),
    ]  # fmt: skip
    return Plan(
        "Alighting gear", "alighting gear, from ahead",
        "ALIGHTING GEAR, EITHER HAND, DOWN, INBOARD TO THE RIGHT", "ahead", "towards you",
        (100.0, 40 + 15.0 * 20), (15.0, -15.0), 5.5, _LEG, beside,
    )  # fmt: skip
