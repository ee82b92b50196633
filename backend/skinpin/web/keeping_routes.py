"""How well the book is kept: the age of its last backup and rehearsal."""

from typing import Any

from fastapi import APIRouter, Request

from skinpin.services.rehearse import keeping
from skinpin.web.callers import AtWorkshop, ByPerson

router = APIRouter()


@router.get("/api/keeping")
def get_keeping(workshop: AtWorkshop, by: ByPerson, request: Request) -> dict[str, Any]:
    """Return the days since the last backup and the last good rehearsal, and what is due."""
    return keeping(workshop, request.app.state.backups)
