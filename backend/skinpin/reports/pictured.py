"""The place of a defect on a calibrated drawing or photograph: the part of it round the place."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from skinpin.domain.place import is_shown, picture_views, view_point

Record = Mapping[str, Any]
WIDE_MM = 100.0


class Pictured(NamedTuple):
    """A view with its picture laid out: the window, and where the place lies in it, in mm."""

    view: Mapping[str, Any]
    ground: dict[str, Any]
    x: float
    y: float


def drawing_file(sha256: str) -> str:
    """Return what the picture of a drawing is called beside the template."""
    return f"drawing-{sha256}.jpg"


def drawings_shown(definition: Mapping[str, Any], record: Record) -> list[Mapping[str, Any]]:
    """Return the views with a picture in which a defect lies, the last of the definition first."""
    place = record["place"]
    if not place:
        return []
    views = picture_views(definition, str(place.get("structure")))
    return [view for view in reversed(views) if is_shown(view, definition, place)]


def pictured(
    definition: Mapping[str, Any], record: Record, here: Mapping[str, str], top: float, high: float
) -> Pictured | None:
    """Return the newest drawing of a defect whose picture is at hand.

    Parameters
    ----------
    here
        Files of pictures by SHA-256.
    top, high
        Where the window begins and how high it may be, in mm; it is as wide as the picture.
    """
    for view in drawings_shown(definition, record):
        picture = view["picture"]
        if picture["sha256"] in here:
            return _laid(view, definition, record, here[picture["sha256"]], (top, high))
    return None


def _laid(
    view: Mapping[str, Any],
    definition: Mapping[str, Any],
    record: Record,
    file: str,
    room: tuple[float, float],
) -> Pictured:
    """Lay the picture as wide as there is room; of a high one the part round the place is shown."""
    top, high = room
    mm = WIDE_MM / view["picture"]["width_px"]
    whole = view["picture"]["height_px"] * mm
    x, y = (each * mm for each in view_point(view, definition, record["place"]))
    window = min(whole, high)
    above = min(max(y - window / 2, 0), whole - window)
    sizes = {"top": top, "width": WIDE_MM, "height": window, "whole": whole, "above": above}
    ground = {"file": file, **{name: round(each, 3) for name, each in sizes.items()}}
    return Pictured(view, ground, round(x, 3), round(top + y - above, 3))
