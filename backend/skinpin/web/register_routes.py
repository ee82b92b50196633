"""What devices tell of themselves, and the register of tablets."""

from typing import Any

from fastapi import APIRouter, Request

from skinpin.services.register import keep_told, register
from skinpin.web.callers import AtWorkshop, ByDevice, ByPerson
from skinpin.web.wire import ToldIn, ToldOut

router = APIRouter()


@router.post("/api/devices/told")
def post_told(workshop: AtWorkshop, device: ByDevice, body: ToldIn) -> ToldOut:
    """Take what a device says of itself; tell it how far its clock is off."""
    return ToldOut(clock_off_ms=keep_told(workshop, device, body.model_dump()))


@router.get("/api/tablets")
def get_tablets(request: Request, workshop: AtWorkshop, person: ByPerson) -> list[dict[str, Any]]:
    """Return the register of tablets, for a lead or clerk."""
    return register(workshop, person.person, request.app.state.build)
