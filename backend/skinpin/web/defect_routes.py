"""Rows of the defect book."""

from typing import Annotated, Any

import orjson
from fastapi import APIRouter, Query, Response

from skinpin.services.as_at import as_at as book_as_at
from skinpin.services.defects import defects_numbered, find_defects, list_defects_json
from skinpin.web.callers import AtWorkshop, ByPerson

router = APIRouter()
MOST_LETTERS = 400
"""No question asked in place words is longer."""


@router.get("/api/defects")
def get_defects(
    workshop: AtWorkshop,
    person: ByPerson,
    airframe: str | None = None,
    zone: str | None = None,
    state: str | None = None,
    stage: str | None = None,
    kind: str | None = None,
    find: Annotated[str, Query(max_length=MOST_LETTERS)] = "",
    as_at: str = "",
) -> Response:
    """List rows, by number; each wish given narrows the list, and so does what is to be found."""
    asked = {"airframe": airframe, "zone": zone, "state": state, "stage": stage, "kind": kind}
    wanted = {name: value for name, value in asked.items() if value is not None}
    with book_as_at(workshop, as_at) as then:
        listed = (
            orjson.dumps(find_defects(then, find, wanted))
            if find
            else list_defects_json(then, wanted)
        )
    return Response(listed, media_type="application/json")


@router.get("/api/defects/{file_number}")
def get_defect(
    workshop: AtWorkshop, person: ByPerson, file_number: str, as_at: str = ""
) -> list[dict[str, Any]]:
    """Return the rows that bear a number, written A0017: mostly one."""
    with book_as_at(workshop, as_at) as then:
        return defects_numbered(then, file_number)
