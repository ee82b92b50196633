"""How one photograph lies on another, to be accepted by a person."""

from typing import Annotated

from fastapi import APIRouter
from pydantic import Field

from skinpin.services.registration import Asked, register_pair
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import Shape

router = APIRouter()


class RegisterIn(Shape):
    """The other photograph, and which of the two was seen in a mirror."""

    with_: Annotated[str, Field(alias="with")]
    mirrored: bool = False
    with_mirrored: bool = False


class RegisterOut(Shape):
    """What is offered, or why nothing is."""

    to_other: list[float] | None
    turn_deg: float | None
    scale_percent: float | None
    inliers: int
    cells: int
    offered: bool
    reason: str


@router.post("/api/photographs/{sha256}/register")
def post_register(
    workshop: AtWorkshop, caller: ByPerson, sha256: str, body: RegisterIn
) -> RegisterOut:
    """Lay a photograph on another; nothing is stored."""
    this, other = Asked(sha256, body.mirrored), Asked(body.with_, body.with_mirrored)
    return RegisterOut(**register_pair(workshop, this, other)._asdict())
