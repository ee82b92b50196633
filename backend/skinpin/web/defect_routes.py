"""Rows of the defect book."""

from typing import Any

from fastapi import APIRouter, Response

from skinpin.services.defects import defects_numbered, list_defects_json
from skinpin.web.callers import AtWorkshop, ByPerson

router = APIRouter()


@router.get("/api/defects")
def get_defects(
    workshop: AtWorkshop,
    person: ByPerson,
    airframe: str | None = None,
    zone: str | None = None,
    state: str | None = None,
    stage: str | None = None,
    kind: str | None = None,
) -> Response:
    """List rows, by number; each wish given narrows the list."""
    asked = {"airframe": airframe, "zone": zone, "state": state, "stage": stage, "kind": kind}
    wanted = {name: value for name, value in asked.items() if value is not None}
    return Response(list_defects_json(workshop, wanted), media_type="application/json")


@router.get("/api/defects/{file_number}")
def get_defect(workshop: AtWorkshop, person: ByPerson, file_number: str) -> list[dict[str, Any]]:
    """Return the rows that bear a number, written A0017: mostly one."""
    return defects_numbered(workshop, file_number)
