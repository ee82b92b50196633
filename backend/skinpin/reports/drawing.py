"""Line work of a report in millimetres: views of the airframe, zones outlined, places found."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from skinpin.reports.lettering import fitting_size, width_mm

Point = tuple[float, float]
Item = dict[str, Any]
ToPaper = Callable[[float, float], Point]
_ALL_HANDS = {"P": "Port", "S": "Starboard", "C": "Centreline"}
CHINE, GUNWALE = 4, 9
_HIGHEST_MM = 34.0
_LINE_MM = 3.8
_ON_PAPER = {"thin": "fine", "medium": "view", "thick": "view"}
"""A view is drawn smaller on paper than on a screen, so its lines are finer."""
_ARROWS: Mapping[str, tuple[Point, Point]] = {
    "left": ((-1, 0), (0, 1)),
    "right": ((1, 0), (0, 1)),
    "up": ((0, -1), (1, 0)),
    "down": ((0, 1), (1, 0)),
}


def line(
    points: Sequence[Point],
    weight: str = "thin",
    kind: str = "full",
    colour: str = "draw",
    *,
    closed: bool = False,
    fill: str | None = None,
) -> Item:
    """Return a line of a drawing."""
    rounded = [[round(x, 3), round(y, 3)] for x, y in points]
    return {"what": "line", "points": rounded, "weight": weight, "kind": kind,
            "colour": colour, "closed": closed, "fill": fill}  # fmt: skip


def text(
    x: float,
    y: float,
    words: str,
    *,
    size: float = 9,
    anchor: str = "start",
    bold: bool = False,
    colour: str = "ink",
    turned: bool = False,
) -> Item:
    """Return words of a drawing, `y` being their base line."""
    return {"what": "text", "x": round(x, 3), "y": round(y, 3), "words": words, "size": size,
            "anchor": anchor, "bold": bold, "colour": colour, "turned": turned}  # fmt: skip


def forward_arrow(x: float, y: float, towards: str = "left") -> list[Item]:
    """Return the arrow towards the nose, with its word; `y` is the middle of a level one."""
    words = text(x + 11, y + 1.1, "FWD", size=9, bold=True)
    if towards in ("towards you", "away from you"):
        return [text(x, y + 1.1, f"FWD, {towards.upper()}", size=9, bold=True)]
    along, across = _ARROWS[towards]
    middle = (x + 4.5, y)

    def at(far: float, aside: float) -> Point:
        return (
            middle[0] + far * along[0] + aside * across[0],
            middle[1] + far * along[1] + aside * across[1],
        )

    reach = 4.5 if along[0] else 3.0
    head = [at(reach, 0), at(reach - 2.6, -1.0), at(reach - 2.6, 1.0)]
    return [
        line([at(reach - 1.3, 0), at(-reach, 0)], "medium", colour="ink"),
        line(head, colour="ink", closed=True, fill="ink"),
        words,
    ]


def view_of(definition: Mapping[str, Any], structure: str) -> Mapping[str, Any] | None:
    """Return the drawn view on which a structure's zones are shown, if it has one."""
    views = [
        view for view in definition["views"] if view["structure"] == structure and "lines" in view
    ]
    flat = [view for view in views if view["y"].get("per_unit")]
    found: Mapping[str, Any] | None = (flat or views or [None])[0]
    return found


def view_title(view: Mapping[str, Any], hand: str) -> str:
    """Return a view's title, and that what is meant lies on the side turned away, if so."""
    away = {"port": "S", "starboard": "P"}.get(str(view.get("seen_from"))) == hand
    return f"{view['title']}, PLACE ON THE FAR SIDE" if away else str(view["title"])


def view_head(view: Mapping[str, Any], hand: str, wide: float) -> tuple[list[Item], float]:
    """Return a view's title with the arrow to the nose behind it, and how much higher it is.

    A title that leaves no room for the arrow has two lines, or the smaller type.
    """
    words, forward = view_title(view, hand), str(view.get("forward", "left"))
    said = f"FWD, {forward.upper()}" if forward.endswith(" you") else ""
    arrow = 5 + (width_mm(said, 9, bold=True) if said else 18.5)
    size = fitting_size(words, wide - arrow, (9, 8.3))
    lines = _in_lines(words, size, wide - arrow)
    after = max(width_mm(each, size, bold=True) for each in lines) + 5
    more = _LINE_MM * (len(lines) - 1)
    titles = [
        text(0, 4.2 + _LINE_MM * at, each, size=size, bold=True) for at, each in enumerate(lines)
    ]
    return [*titles, *forward_arrow(after, 3.1, forward)], more


def _in_lines(words: str, size: float, wide: float) -> list[str]:
    """Break words between two of them, as often as the room asks for."""
    lines = [""]
    for word in words.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and width_mm(longer, size, bold=True) > wide:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def view_lines(view: Mapping[str, Any], paper: ToPaper) -> list[Item]:
    """Return the line work of a view on paper."""
    return [
        line(
            [paper(x, y) for x, y in each["points"]],
            _ON_PAPER[each["weight"]],
            each["kind"],
            closed=bool(each.get("closed")),
        )
        for each in _airframe_lines(view)
    ]


def _airframe_lines(view: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Leave out lines wholly under the outline: a scale for the screen, no part of the airframe."""
    low = max(y for _, y in view["lines"][0]["points"])
    return [each for each in view["lines"] if min(y for _, y in each["points"]) <= low]


def extent(view: Mapping[str, Any]) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of what a view draws."""
    points = [point for each in _airframe_lines(view) for point in each["points"]]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def to_paper(
    view: Mapping[str, Any], left: float, top: float, width: float, highest: float = _HIGHEST_MM
) -> tuple[ToPaper, float]:
    """Return the way from a view to paper, no larger than given, and the height it takes."""
    x0, y0, x1, y1 = extent(view)
    scale = min(width / (x1 - x0), highest / (y1 - y0))

    def paper(x: float, y: float) -> Point:
        return left + (x - x0) * scale, top + (y - y0) * scale

    return paper, (y1 - y0) * scale


def station_x(view: Mapping[str, Any], station: float) -> float:
    """Return where a station lies across a view."""
    return float(view["x"]["origin"] + view["x"]["per_unit"] * station)


# ---- heights on the profile


def height_of_strake(heights: Sequence[float], strake: float) -> float:
    """Return the water line of a strake index: keel to chine, to gunwale, to deck."""
    keel, chine, gunwale, deck = heights
    if strake <= CHINE:
        return keel + (chine - keel) * strake / CHINE
    if strake <= GUNWALE:
        return chine + (gunwale - chine) * (strake - CHINE) / (GUNWALE - CHINE)
    return gunwale + (deck - gunwale) * (strake - GUNWALE) / 3


# ---- the area meant


def zone_outline(
    definition: Mapping[str, Any], view: Mapping[str, Any], rule: Mapping[str, Any]
) -> list[Point]:
    """Return the outline of a zone on its view, in units of the view."""
    structure = next(s for s in definition["structures"] if s["name"] == rule["structure"])
    stations = [float(member["station"]) for member in structure["members"]]
    first, last = (None if end is None else float(end) for end in rule["along"])
    start = max(min(stations), first if first is not None else min(stations))
    end = min(max(stations), last if last is not None else max(stations))
    if view["y"].get("per_unit") and rule["strakes"]:
        return _hull_outline(definition, view, rule["strakes"], start, end)
    if view["y"].get("per_strake") and structure["strakes"]:
        return _developed_outline(view, rule, len(structure["strakes"]) - 1, (start, end))
    outline = [tuple(point) for point in view["lines"][0]["points"]]
    edges = sorted((station_x(view, start), station_x(view, end)))
    return _strip(outline, *edges)


def _developed_outline(
    view: Mapping[str, Any], rule: Mapping[str, Any], last: int, along: tuple[float, float]
) -> list[Point]:
    """Return the strakes of one hand; of the keel line half a strake on either side of it."""
    y, hand = view["y"], rule["hand"]
    low, high = rule["strakes"] or (0, last)
    lines: tuple[float, float] = (low, min(high, last))
    if hand == "C":
        lines = (-0.5, 0.5)
    up = (hand == "S") == (view["seen_from"] == "inside")
    near, far = (y["origin"] + (-1 if up else 1) * y["per_strake"] * each for each in lines)
    left, right = (station_x(view, station) for station in along)
    return [(left, near), (right, near), (right, far), (left, far)]


def _hull_outline(
    definition: Mapping[str, Any],
    view: Mapping[str, Any],
    strakes: Sequence[int],
    start: float,
    end: float,
) -> list[Point]:
    low, high = strakes[0], min(strakes[1], 12)
    rows = []
    for row in definition["profile_heights"]:
        at = float(row["station"])
        heights = [float(row[key]) for key in ("keel", "chine", "gunwale", "deck")]
        if start <= at <= end:
            rows.append((at, heights))
    if sum(at == start for at, _ in rows) == 2:
        rows = rows[1:]
    if sum(at == end for at, _ in rows) == 2:
        rows = rows[:-1]
    y = view["y"]
    lower = [(at, height_of_strake(heights, low)) for at, heights in rows]
    upper = [(at, height_of_strake(heights, high)) for at, heights in reversed(rows)]
    return [
        (station_x(view, at), y["origin"] + y["per_unit"] * height)
        for at, height in (*lower, *upper)
    ]


def _strip(polygon: list[Any], left: float, right: float) -> list[Point]:
    """Clip a polygon to an upright strip (Sutherland and Hodgman)."""
    kept = _half(polygon, lambda p: p[0] - left)
    return _half(kept, lambda p: right - p[0])


def _half(polygon: list[Any], inside: Callable[[Point], float]) -> list[Point]:
    kept: list[Point] = []
    for a, b in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        da, db = inside(a), inside(b)
        if da >= 0:
            kept.append(a)
        if (da > 0 > db) or (da < 0 < db):
            share = da / (da - db)
            kept.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    return kept


def hand_word(hand: str) -> str:
    """Return a hand in full."""
    return _ALL_HANDS.get(hand, hand)
