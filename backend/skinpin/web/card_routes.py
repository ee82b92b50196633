"""The scale card: the sheet to print, and a second look for it in a photograph."""

from typing import Annotated

from fastapi import APIRouter, Response
from pydantic import Field

from skinpin.services.scale_card import check_card, scale_card
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import Shape

router = APIRouter()
Tenths = Annotated[int, Field(ge=-10_000_000, le=10_000_000)]
Point = Annotated[list[Tenths], Field(min_length=2, max_length=2)]


class CardIn(Shape):
    """The corners that the tablet found, or none: whole tenths of an upright pixel."""

    points: Annotated[list[Point], Field(max_length=4)] = []


class CardOut(Shape):
    """The card as the server finds it, and how far the two lie apart at most."""

    points: list[list[int]]
    residual_px: float
    ids: list[int]
    apart_px: float | None


@router.get("/api/scale-card.pdf")
def get_card(workshop: AtWorkshop, caller: ByPerson, card: str = "SC-1") -> Response:
    """Hand out the sheet to print."""
    headers = {"Content-Disposition": 'inline; filename="scale-card.pdf"'}
    return Response(scale_card(workshop, card), media_type="application/pdf", headers=headers)


@router.post("/api/photographs/{sha256}/card")
def post_card(workshop: AtWorkshop, caller: ByPerson, sha256: str, body: CardIn) -> CardOut:
    """Look for the card; nothing is stored."""
    return CardOut(**check_card(workshop, sha256, body.points)._asdict())
