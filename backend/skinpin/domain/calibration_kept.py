"""The calibration that a view of a definition holds, fitted again from its own points."""

from collections.abc import Iterator, Mapping
from math import hypot
from typing import Any

from skinpin.domain.calibration import LIMIT_PERCENT, Asked, Fitted, Told, Touched, fit_view
from skinpin.domain.definition_trouble import REFUSED
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import apply

AGREES_PX = 0.5
HINT = "Calibrate the picture again."


def kept_troubles(view: Mapping[str, Any], structure: Mapping[str, Any]) -> Iterator[Told]:
    """Tell what is wrong with the calibration of a view: its points decide, not its figures."""
    kept = view["calibration"]
    named = kept.get("strakes")
    if view["second"] == "strake" and named is not None and named != structure["strakes"]:
        message = f"Strakes of {structure['name']} are others than when the picture was calibrated."
        yield Told("recalibrate", message, HINT, REFUSED)
        return
    try:
        fitted = fit_view(asked_of(view, structure))
        agrees = _agrees(kept, fitted)
    except Refused as refused:
        yield Told(refused.code, refused.message, refused.hint, REFUSED)
        return
    if not agrees:
        message = "The way from places to pixels is another than its points give."
        yield Told("recalibrate", message, HINT, REFUSED)
        return
    yield from fitted.troubles


def asked_of(view: Mapping[str, Any], structure: Mapping[str, Any]) -> Asked:
    """Return what a view was fitted by."""
    kept = view["calibration"]
    return Asked(
        points=[_touched(one) for one in kept["points"]],
        check=_touched(kept["check"]) if "check" in kept else None,
        second=view["second"],
        method=kept["method"],
        hand=view.get("hand"),
        positive=structure["positive"],
        unit=structure["unit"],
        limit_percent=float(kept.get("limit_percent", LIMIT_PERCENT)),
    )


def _touched(one: Mapping[str, Any]) -> Touched:
    (x, y), (along, second) = one["px"], one["at"]
    return Touched((float(x), float(y)), (float(along), float(second)))


def _agrees(kept: Mapping[str, Any], fitted: Fitted) -> bool:
    to_picture = [float(one) for one in kept["to_picture"]]
    for one, (x, y) in zip(kept["points"], fitted.fitted_px, strict=True):
        u, v = apply(to_picture, _touched(one).at)
        if hypot(x - u, y - v) > AGREES_PX:
            return False
    return True
