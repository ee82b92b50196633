"""Views of the Marram as line work: hull profile, shell expansion, wing plans, and the rest."""

from collections.abc import Callable
from math import cos, pi, sin
from typing import Any

from skinpin_demo import marram
from skinpin_demo.lines import Line, Point, draw_label, draw_line
from skinpin_demo.small_views import small_views

_HEAVY_ACROSS = {"K", "C", "G"}
_HEAVY_FRAMES = {"F13", "F15", "F16", "F24"}


def views() -> list[dict[str, Any]]:
    """Every view; the starboard wing plan is the drawn one, port its mirror."""
    wings = [_wing_plan("Port wing"), _wing_plan("Starboard wing")]
    return [_shell_expansion(), _profile(), *wings, *small_views()]


def profile_heights() -> list[dict[str, str]]:
    """Water lines of keel, chine, gunwale and deck by station; a step has two rows."""
    rows = []
    for frame in marram.FRAMES:
        rows.append(_heights(frame, frame.keel, frame.chine))
        if frame.name in marram.STEPS:
            rows.append(_heights(frame, *marram.STEPS[frame.name]))
    return rows


def _heights(frame: marram.Frame, keel: str, chine: str) -> dict[str, str]:
    return {
        "member": frame.name,
        "station": frame.station,
        "keel": keel,
        "chine": chine,
        "gunwale": frame.gunwale,
        "deck": frame.deck,
    }


# ---- shell expansion


def _shell_expansion() -> dict[str, Any]:
    def at(station: float, strake: float) -> Point:
        return 60 + 2.1 * station, 270 - 19 * strake

    lines = [draw_line([at(8, i), at(401, i)], _across(i)) for i in range(-12, 13)]
    labels = []
    for frame in marram.FRAMES:
        half = frame.name in marram.HALF_FRAMES
        station, reach = float(frame.station), 4 if half else 12
        weight = "medium" if frame.name in _HEAVY_FRAMES else "thin"
        kind = "hidden" if half else "full"
        lines.append(draw_line([at(station, reach), at(station, -reach)], weight, kind))
        labels.append(draw_label(at(station, 0)[0], 40 if half else 30, frame.name))
    for i, name in enumerate(marram.STRAKES):
        for hand, side in [("P", 1), ("S", -1)] if i else [("", 1)]:
            x, y = at(405, side * i)
            labels.append(draw_label(x, y + 4, f"{name}{hand}", "start"))
    return {
        "name": "shell expansion",
        "title": "SHELL EXPANSION, SEEN FROM OUTSIDE",
        "structure": "Hull",
        "seen_from": "outside",
        "forward": "left",
        "box": [1000, 560],
        "x": {"origin": 60, "per_unit": 2.1},
        "y": {"origin": 270, "per_strake": 19},
        "lines": lines,
        "labels": labels,
    }


def _across(i: int) -> str:
    return "medium" if marram.STRAKES[abs(i)] in _HEAVY_ACROSS else "thin"


# ---- hull profile

# Station and water line of the parts above and around the hull.
_SHAPES: list[tuple[list[Point], bool]] = [
    ([(98, 66), (108, 78), (118, 78), (120, 66)], True),
    ([(118, 78), (140, 76), (140, 66), (120, 66)], True),
    ([(34, 53), (50, 56), (50, 58), (34, 55)], True),
    ([(352, 60), (376, 104), (392, 104), (384, 60)], True),
    ([(384, 60), (392, 104), (406, 102), (414, 66), (412, 46), (401, 57)], True),
    ([(154, 66), (154, 76), (190, 76), (190, 65)], True),
    ([(136, 79), (142, 84), (160, 86), (190, 84), (232, 78), (190, 76), (150, 75)], True),
    ([(118, 88), (122, 98), (140, 102), (180, 98), (206, 90), (180, 84), (140, 84)], True),
    ([(118, 72), (118, 116)], False),
]


def _on_profile(station: float, water_line: float) -> Point:
    return 60 + 2.1 * station, 300 - 2.2 * water_line


def _profile() -> dict[str, Any]:
    lines = [
        draw_line(map(_at, _outline()), "medium", closed=True),
        *_long_lines(),
        *_frame_lines(),
    ]
    for points, closed in _SHAPES:
        lines.append(draw_line(map(_at, points), closed=closed))
    lines += [_porthole(station) for station in (60, 76, 212, 228)]
    return {
        "name": "hull profile",
        "title": "PORT SIDE",
        "structure": "Hull",
        "seen_from": "port",
        "forward": "left",
        "box": [1000, 360],
        "x": {"origin": 60, "per_unit": 2.1},
        "y": {"origin": 300, "per_unit": -2.2},
        "lines": [*lines, *_station_ticks()],
        "labels": _profile_labels(),
    }


def _at(point: Point) -> Point:
    return _on_profile(*point)


def _outline() -> list[Point]:
    keel: list[Point] = [(4, 41)]
    for row in profile_heights():
        keel.append((float(row["station"]), float(row["keel"])))
    deck = [(float(f.station), float(f.deck)) for f in reversed(marram.FRAMES)]
    return [*keel, (412, 48), (412, 58), *deck, (4, 46)]


def _long_lines() -> list[Line]:
    rows = [
        (float(r["station"]), float(r["chine"]), float(r["gunwale"])) for r in profile_heights()
    ]
    step = next(i for i, row in enumerate(rows) if row[0] == 178)
    fore: list[Point] = [(4, 37), *[(sta, chine) for sta, chine, _ in rows[: step + 1]]]
    aft = [(sta, chine) for sta, chine, _ in rows[step + 1 :]]
    gunwale: list[Point] = [(4, 44), *[(sta, height) for sta, _, height in rows]]
    return [
        draw_line(map(_at, fore)),
        draw_line(map(_at, aft)),
        draw_line(map(_at, gunwale), kind="chain"),
    ]


def _frame_lines() -> list[Line]:
    lines = []
    for frame in marram.FRAMES:
        station, half = float(frame.station), frame.name in marram.HALF_FRAMES
        top = float(frame.gunwale) if half else float(frame.deck)
        weight = "medium" if frame.name in marram.MAIN_FRAMES else "thin"
        kind = "hidden" if half else "full"
        lines.append(
            draw_line(map(_at, [(station, float(frame.keel)), (station, top)]), weight, kind)
        )
    return lines


def _porthole(station: float) -> Line:
    x, y = _on_profile(station, 44)
    turns = [2 * pi * i / 16 for i in range(16)]
    return draw_line([(x + 6 * cos(turn), y + 6 * sin(turn)) for turn in turns], closed=True)


def _station_ticks() -> list[Line]:
    xs = [60 + 2.1 * station for station in range(0, 420, 20)]
    return [draw_line([(x, 344), (x, 350)]) for x in xs]


def _profile_labels() -> list[dict[str, Any]]:
    labels = []
    for frame in marram.FRAMES:
        x = 60 + 2.1 * float(frame.station)
        labels.append(draw_label(x, 338 if frame.name in marram.HALF_FRAMES else 328, frame.name))
    return labels


# ---- wing plan

_NACELLE: list[Point] = [
    (56, 100), (53, 110), (53, 206), (62, 222), (65, 222), (77, 206), (77, 110), (74, 100),
]  # fmt: skip
_AILERON: list[Point] = [(200, 196), (306, 184), (306, 199.6), (200, 214.4)]


def _wing_plan(structure: str) -> dict[str, Any]:
    port = structure == "Port wing"

    def at(point: Point) -> Point:
        x, y = 40 + 2.8 * point[0], 112 + 2.4 * (point[1] - 130)
        return (1000 - x if port else x), y

    hand = "PORT" if port else "STARBOARD"
    return {
        "name": f"{structure.lower()} plan",
        "title": f"{hand} WING, SEEN FROM ABOVE",
        "structure": structure,
        "seen_from": "above",
        "forward": "up",
        "box": [1000, 432],
        "x": {"origin": 960 if port else 40, "per_unit": -2.8 if port else 2.8},
        # Half way between the spars: a place on the wing has no chordwise part.
        "y": {"origin": 212.8, "per_strake": 0},
        "lines": _wing_lines(at),
        "labels": [draw_label(at((float(r.ws), 0))[0], 422, r.name) for r in marram.RIBS],
    }


def _wing_lines(at: Callable[[Point], Point]) -> list[Line]:
    leading = [(float(r.ws), float(r.leading)) for r in marram.RIBS]
    trailing = [(float(r.ws), float(r.trailing)) for r in reversed(marram.RIBS)]
    tip: list[Point] = [(318, 144.5), (324, 152), (324, 172), (318, 197.5)]
    outline = [(0.0, 136.0), *leading, *tip, *trailing, (0.0, 232.0)]
    rear = [(0.0, 190.0), *[(float(r.ws), float(r.rear_spar)) for r in marram.RIBS]]
    ribs = [
        draw_line(
            map(at, [(float(r.ws), float(r.leading)), (float(r.ws), float(r.trailing))]),
            "medium" if r.name in marram.MAIN_RIBS else "thin",
        )
        for r in marram.RIBS
    ]
    return [
        draw_line(map(at, outline), "medium", closed=True),
        *ribs,
        draw_line(map(at, [(0, 154), (318, 154)]), "medium"),
        draw_line(map(at, rear), "medium"),
        draw_line(map(at, _NACELLE), kind="chain", closed=True),
        draw_line(map(at, _AILERON), closed=True),
    ]
