"""Check figures of the defect book."""

from typing import Any

from fastapi import APIRouter

from skinpin.services.figures import check_figures
from skinpin.web.callers import AtWorkshop, ByPerson

router = APIRouter()


@router.get("/api/figures")
def get_figures(workshop: AtWorkshop, caller: ByPerson, airframe: str = "") -> dict[str, Any]:
    """Return the check figures of an airframe as at the workshop's day."""
    return check_figures(workshop, airframe)
