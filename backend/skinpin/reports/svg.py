"""Line work as SVG, a picture to the typesetter: lines cost it little; words stay its own."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from skinpin.reports.lettering import width_mm

Point = Sequence[float]
INK, WAX_LIGHT, STAMP = "#101510", "#FFF6D8", "#4A2468"
COLOURS = {
    "ink": INK,
    "ink2": "#39423B",
    "line2": "#5C655E",
    "draw": "#1B3F66",
    "white": "#FFFFFF",
}
WEIGHTS_MM = {"fine": 0.12, "view": 0.4, "thin": 0.18, "medium": 0.35, "thick": 0.7}
DASHES_MM: Mapping[str, Sequence[float]] = {
    "full": (),
    "hidden": (1.3, 0.8),
    "chain": (2.6, 0.7, 0.5, 0.7),
    "area": (3.6, 0.9, 0.7, 0.9),
}
RING_MM = 1.5


def svg(width: float, height: float, shapes: Iterable[str]) -> str:
    """Return shapes as one SVG, in millimetres."""
    size = f'width="{width:g}mm" height="{height:g}mm" viewBox="0 0 {width:g} {height:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{"".join(shapes)}</svg>'


def path(
    points: Iterable[Point],
    stroke: str,
    width: float,
    *,
    closed: bool = False,
    fill: str = "none",
    dash: Sequence[float] = (),
    cap: str = "butt",
) -> str:
    """Return a line through points."""
    along = " ".join(f"{x:.6g} {y:.6g}" for x, y in points)
    dashes = f' stroke-dasharray="{" ".join(map(str, dash))}"' if dash else ""
    return (
        f'<path d="M{along}{"Z" if closed else ""}" fill="{fill}" stroke="{stroke}" '
        f'stroke-width="{width:g}" stroke-linecap="{cap}" stroke-linejoin="round"{dashes}/>'
    )


def rect(
    box: Sequence[float], stroke: str, width: float, fill: str = "none", radius: float = 0
) -> str:
    """Return a box given as left, top, width and height."""
    x, y, wide, high = (f"{each:.6g}" for each in box)
    round_ = f' rx="{radius:g}"' if radius else ""
    return (
        f'<rect x="{x}" y="{y}" width="{wide}" height="{high}"{round_} fill="{fill}" '
        f'stroke="{stroke}" stroke-width="{width:g}"/>'
    )


def circle(x: float, y: float, radius: float, stroke: str, width: float, fill: str) -> str:
    """Return a circle."""
    return (
        f'<circle cx="{x:.6g}" cy="{y:.6g}" r="{radius:g}" fill="{fill}" stroke="{stroke}" '
        f'stroke-width="{width:g}"/>'
    )


def line_shape(item: Mapping[str, Any]) -> str:
    """Return a line of a drawing as a shape."""
    fill = COLOURS[item["fill"]] if item["fill"] else "none"
    return path(
        item["points"],
        COLOURS[item["colour"]],
        WEIGHTS_MM[item["weight"]],
        closed=item["closed"],
        fill=fill,
        dash=DASHES_MM[item["kind"]],
    )


def as_pictures(value: Any) -> Any:
    """Return data in which the line work of every drawing has become one SVG under its words."""
    if isinstance(value, list):
        return [as_pictures(each) for each in value]
    if not isinstance(value, dict):
        return value
    if isinstance(value.get("items"), list) and "height" in value:
        return value | _split(value)
    return {name: as_pictures(each) for name, each in value.items()}


def _split(drawing: Mapping[str, Any]) -> dict[str, Any]:
    shapes = []
    for item in drawing["items"]:
        if item["what"] == "line":
            shapes.append(line_shape(item))
        elif item["what"] == "ring":
            shapes.append(circle(item["x"], item["y"], RING_MM, INK, WEIGHTS_MM["thick"], "white"))
        elif item["what"] == "shape":
            shapes.append(item["svg"])
    words = [_placed(each) for each in drawing["items"] if each["what"] in ("text", "mark")]
    return {"items": words, "svg": svg(drawing["width"], drawing["height"], shapes)}


def _placed(item: Mapping[str, Any]) -> dict[str, Any]:
    """Return words with where they begin, wherever they are held."""
    if item["what"] == "mark":
        return dict(item)
    wide = width_mm(item["words"], item["size"], item["bold"])
    is_middle = item["turned"] or item["anchor"] == "middle"
    back = wide / 2 if is_middle else wide if item["anchor"] == "end" else 0.0
    return {**item, "x": round(item["x"] - back, 3)}
