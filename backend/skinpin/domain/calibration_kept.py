"""The calibration that a view of a definition holds, fitted again from its own points."""

from collections.abc import Iterator, Mapping
from math import hypot
from typing import Any

from skinpin.domain.calibration import LIMIT_PERCENT, Asked, Fitted, Told, Touched, fit_view, judged
from skinpin.domain.definition_trouble import REFUSED
from skinpin.domain.errors import Refused
from skinpin.domain.photo_geometry import Point, Transform, apply, inverse

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
        agrees = _agrees(view, fitted)
        told = judged(asked_of(view, structure), _kept_transform(kept)) if agrees else []
    except Refused as refused:
        yield Told(refused.code, refused.message, refused.hint, REFUSED)
        return
    if not agrees:
        message = "The way from places to pixels is another than its points give."
        yield Told("recalibrate", message, HINT, REFUSED)
        return
    yield from told


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


def _kept_transform(kept: Mapping[str, Any]) -> Transform:
    return tuple(float(one) for one in kept["to_picture"])


def _agrees(view: Mapping[str, Any], fitted: Fitted) -> bool:
    """Say whether the kept numbers lay places where the fit does, over the whole picture.

    At the points alone they may agree and differ elsewhere: two points leave a whole side open.
    """
    to_picture = _kept_transform(view["calibration"])
    return all(
        hypot(x - u, y - v) <= AGREES_PX
        for at, (x, y) in _compared(view, fitted)
        for u, v in [apply(to_picture, at)]
    )


def _compared(view: Mapping[str, Any], fitted: Fitted) -> Iterator[tuple[Point, Point]]:
    """Return places with the pixels the fit gives: points, check point, corners of the picture."""
    kept = view["calibration"]
    checks = [kept["check"]] if "check" in kept else []
    for one in (*kept["points"], *checks):
        at = _touched(one).at
        yield at, apply(fitted.to_picture, at)
    if "picture" not in view:
        return
    to_place = inverse(fitted.to_picture)
    width, height = (float(view["picture"][side]) for side in ("width_px", "height_px"))
    for corner in ((0.0, 0.0), (width, 0.0), (0.0, height), (width, height)):
        try:
            at = apply(to_place, corner)
            apply(fitted.to_picture, at)
        except Refused:  # Past the horizon of a photograph there are no places.
            continue
        yield at, corner
