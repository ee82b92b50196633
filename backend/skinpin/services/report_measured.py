"""The scale of a photograph and what was measured with it, as shapes that a report draws."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.domain.photo_measure import measured
from skinpin.domain.quantities import figure_text
from skinpin.services.airframes import last_value
from skinpin.storage.records import StandingRecord

_SCALE = ("method", "points", "length", "width", "height", "object", "tap", "card", "struck")
_MEASUREMENT = ("scale", "shape", "points", "tap", "struck")
_AFTER = {"polyline": " along", "diameter": " across"}
Shape = dict[str, Any]


def measured_on(
    photograph: StandingRecord,
    lying: Sequence[StandingRecord],
    unit: str,
    used: Collection[str] = (),
) -> list[Shape]:
    """Return what is drawn of the scale that stands, and of each measurement that rests on it.

    `kind` is "scale" or "measured"; an outline comes back to its first point. What can't be read
    is left out: nothing has a length without a scale. Beside a measurement that a figure rests
    on (`used`) the others are `quiet`: two values of one crack would only be asked about.
    """
    scales = [
        one for one in lying if one.kind == "scale" and not last_value(one.standing, "struck")
    ]
    if not scales:
        return []
    size = {name: last_value(photograph.standing, name) for name in ("width_px", "height_px")}
    size["zoom"] = last_value(photograph.standing, "zoom")
    scale = _fields(scales[0], _SCALE)
    found = [_measured(scales[0].record, scale, one, size, unit) for one in lying]
    words = scale_words(scale)
    shown = {"kind": "scale", "points": scale["points"], "label": words}
    named = {"short": str(scale["object"] or "scale"), "record": scales[0].record}
    told = [one for one in found if one is not None]
    is_any = any(one["record"] in used for one in told)
    return [shown | named, *(one | {"quiet": is_any and one["record"] not in used} for one in told)]


def scale_words(scale: Mapping[str, Any]) -> str:
    """Return what a scale is called: "bank card 85.60 mm × 53.98 mm"."""
    sizes = [figure_text(scale[name]) for name in ("length", "width", "height") if scale[name]]
    return " ".join([str(scale["object"] or "scale"), " × ".join(sizes)])


def _measured(
    record: str, scale: Mapping[str, Any], one: StandingRecord, size: Mapping[str, Any], unit: str
) -> Shape | None:
    if one.kind != "measurement" or last_value(one.standing, "struck"):
        return None
    measurement = _fields(one, _MEASUREMENT)
    if measurement["scale"] != record:
        return None
    try:
        told = measured(scale, measurement, size, unit)
    except (Refused, KeyError, TypeError, ValueError):  # what a later version or a fault wrote
        return None
    points = list(measurement["points"])
    shape = measurement["shape"]
    closed = [*points, points[0]] if shape in ("area", "diameter") else points
    label = f"{told['words']}{_AFTER.get(shape, '')}"
    return {"kind": "measured", "points": closed, "label": label, "record": one.record}


def _fields(one: StandingRecord, names: Sequence[str]) -> dict[str, Any]:
    return {name: last_value(one.standing, name) for name in names}
