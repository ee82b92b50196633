"""Strake lines and heights of a structure: which strake a point touches, how high a strake lies."""

from skinpin.domain.errors import Refused
from skinpin.domain.place_stations import Definition, Structure

SLACK = 0.5  # how far beyond the outermost strake a touch still means it


def strake_under(structure: Structure, line: float) -> int:
    """Return the strake line under a touch; refused: `outside_airframe`."""
    last = len(structure["strakes"]) - 1
    if not -SLACK <= line <= last + SLACK:
        raise Refused(
            "outside_airframe",
            f"The point touched is outside {structure['name']}.",
            "Touch the drawing between its first and last strake.",
        )
    return min(max(int(line), 0), last - 1)


def corners(structure: Structure) -> list[int]:
    """Return the strake lines at keel, chine, gunwale and deck."""
    names = structure["strakes"]
    last = len(names) - 1
    chine = names.index("C") if "C" in names else last // 3
    gunwale = names.index("G") if "G" in names else (chine + last + 1) // 2
    return [0, chine, gunwale, last]


def heights(definition: Definition, station: float) -> list[float]:
    """Return the heights of keel, chine, gunwale and deck at a station, straight between frames.

    Where two rows have one station, a step, the aft one counts from there on.
    """
    rows = definition["profile_heights"]
    after = next((at for at, row in enumerate(rows) if float(row["station"]) > station), len(rows))
    first, second = rows[max(after - 1, 0)], rows[min(after, len(rows) - 1)]
    span = float(second["station"]) - float(first["station"])
    share = (station - float(first["station"])) / span if span else 0.0
    return [
        float(first[name]) + (float(second[name]) - float(first[name])) * share
        for name in ("keel", "chine", "gunwale", "deck")
    ]


def height_at(levels: list[float], lines: list[int], line: float) -> float:
    """Return how high a strake line lies, `levels` being the heights of the strakes `lines`."""
    height = levels[0]
    for at in range(3):
        width = lines[at + 1] - lines[at]
        share = min(max(line - lines[at], 0) / width, 1) if width else 0
        height += (levels[at + 1] - levels[at]) * share
    return height


def line_of_height(levels: list[float], lines: list[int], height: float) -> float:
    """Return the strake line at a height; -1 where nothing rises."""
    for at in range(3):
        rise = levels[at + 1] - levels[at]
        if (height <= levels[at + 1] or at == 2) and rise > 0:
            return lines[at] + (height - levels[at]) / rise * (lines[at + 1] - lines[at])
    return -1.0
