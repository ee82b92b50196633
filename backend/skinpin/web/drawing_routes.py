"""Drawings: taken in as pictures, fitted as views."""

from typing import Annotated

from fastapi import APIRouter, Query
from pydantic import Field

from skinpin.domain.calibration import LIMIT_PERCENT, Asked, Touched
from skinpin.services.drawings import fit_drawing, keep_drawing
from skinpin.web.bodies import WholeBody
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import Shape

router = APIRouter()
Two = Annotated[list[float], Field(min_length=2, max_length=2)]


class DrawingOut(Shape):
    """The picture of a drawing as it is kept."""

    sha256: str
    media_type: str
    width_px: int
    height_px: int
    size_bytes: int
    pages: int


class TouchedIn(Shape):
    """A point touched: its pixel, and where it is, along and second axis."""

    px: Two
    at: Two


class FitIn(Shape):
    """The points of a picture and what its axes are."""

    points: Annotated[list[TouchedIn], Field(max_length=200)]
    check: TouchedIn | None = None
    second: str
    method: str | None = None
    hand: str | None = None
    positive: str = "aft"
    unit: str = "in"
    limit_percent: float = LIMIT_PERCENT


class ToldOut(Shape):
    """What is to be said of a fit; of weight "refused" it must not be kept."""

    code: str
    message: str
    hint: str
    weight: str


class FitOut(Shape):
    """A fit."""

    method: str
    to_picture: list[float]
    rms: float
    errors: list[float]
    fitted_px: list[Two]
    check_error: float | None
    check_px: Two | None
    span: float
    limit: float
    mirrored: bool
    forward: str | None
    troubles: list[ToldOut]


@router.post("/api/drawings", status_code=201)
def post_drawing(
    workshop: AtWorkshop,
    lead: ByPerson,
    content: WholeBody,
    page: Annotated[int, Query(ge=1, description="Of a PDF")] = 1,
) -> DrawingOut:
    """Take a drawing in: the picture of a PNG, JPEG, SVG or page of a PDF."""
    return DrawingOut(**keep_drawing(workshop, lead.person, content, page)._asdict())


@router.post("/api/drawings/fit")
def post_fit(workshop: AtWorkshop, lead: ByPerson, body: FitIn) -> FitOut:
    """Fit a picture through touched points; nothing is stored."""
    fitted = fit_drawing(workshop, lead.person, _asked(body))
    told = {**fitted._asdict(), "troubles": [one._asdict() for one in fitted.troubles]}
    for name in ("to_picture", "check_px"):
        told[name] = told[name] and list(told[name])
    told["fitted_px"] = [list(one) for one in fitted.fitted_px]
    return FitOut(**told)


def _asked(body: FitIn) -> Asked:
    check = _touched(body.check) if body.check else None
    more = (body.method, body.hand, body.positive, body.unit, body.limit_percent)
    return Asked([_touched(one) for one in body.points], check, body.second, *more)


def _touched(one: TouchedIn) -> Touched:
    (x, y), (along, second) = one.px, one.at
    return Touched((x, y), (along, second))
