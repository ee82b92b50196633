"""Files of memory sticks, taken in at a desk by a lead or a clerk."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request

from skinpin.services.stick_jobs import StickJobs
from skinpin.web.bodies import WholeBody
from skinpin.web.callers import ByPerson
from skinpin.web.wire import StickIn, TakeInIn

router = APIRouter()


async def the_sticks(request: Request) -> StickJobs:
    """Return the files on their way into this server."""
    sticks = request.app.state.sticks
    assert isinstance(sticks, StickJobs)
    return sticks


AtSticks = Annotated[StickJobs, Depends(the_sticks)]


@router.post("/api/stick-files", status_code=201)
def post_stick_file(sticks: AtSticks, caller: ByPerson, told: StickIn) -> dict[str, Any]:
    """Begin to send a file; the answer names it."""
    return sticks.begin(caller, told.size_bytes)


@router.put("/api/stick-files/{file}")
def put_piece(
    sticks: AtSticks, caller: ByPerson, file: str, body: WholeBody, at: int = 0
) -> dict[str, Any]:
    """Take the next piece."""
    return sticks.add(caller, file, at, body)


@router.post("/api/stick-files/{file}/take-in", status_code=202)
def post_take_in(sticks: AtSticks, caller: ByPerson, file: str, told: TakeInIn) -> dict[str, Any]:
    """Check a file that is here whole and take it in."""
    return sticks.start(caller, file, told.reason)


@router.get("/api/stick-files/{file}")
def get_stick_file(sticks: AtSticks, caller: ByPerson, file: str) -> dict[str, Any]:
    """Say how far a file is: coming, running, done with what was new, or refused and why."""
    return sticks.one(caller, file)
