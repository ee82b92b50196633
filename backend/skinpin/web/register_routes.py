"""What devices tell of themselves, and the register of tablets."""

from typing import Any

from fastapi import APIRouter, Request, Response

from skinpin.services.register import keep_told, register
from skinpin.web.callers import AtWorkshop, ByDevice, ByPerson
from skinpin.web.wire import ToldIn

router = APIRouter()


@router.post("/api/devices/told", status_code=204)
def post_told(workshop: AtWorkshop, device: ByDevice, body: ToldIn) -> Response:
    """Take what a device says of itself."""
    keep_told(workshop, device, body.model_dump())
    return Response(status_code=204)


@router.get("/api/tablets")
def get_tablets(request: Request, workshop: AtWorkshop, person: ByPerson) -> list[dict[str, Any]]:
    """Return the register of tablets, for a lead or clerk."""
    return register(workshop, person.person, request.app.state.build)
