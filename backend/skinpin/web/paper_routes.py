"""Paper: the form to print, a line of it typed at a desk, an earlier register read in."""

from typing import Any

from fastapi import APIRouter, Response

from skinpin.services.paper import enter, import_register
from skinpin.services.paper_form import paper_form
from skinpin.web.bodies import WholeBody
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import PaperIn

router = APIRouter()
ANSWER_S = 8.0


@router.post("/api/paper")
def post_line(workshop: AtWorkshop, caller: ByPerson, line: PaperIn) -> dict[str, Any]:
    """Store one record from paper, or say what is wrong with which column."""
    return enter(workshop, caller.person, line.typed, line.airframe)


@router.post("/api/paper/register")
def post_register(
    workshop: AtWorkshop, caller: ByPerson, body: WholeBody, airframe: str = "", register: str = ""
) -> dict[str, Any]:
    """Read a register in, CSV in UTF-8; with one faulty line nothing is stored.

    Whoever waits is answered before long: where lines are `left`, the same is asked again.
    """
    told = import_register(workshop, caller.person, body, airframe, register, for_s=ANSWER_S)
    return told._asdict() | {"troubles": [one._asdict() for one in told.troubles]}


@router.get("/api/paper/form.pdf")
def get_form(workshop: AtWorkshop, caller: ByPerson, airframe: str = "") -> Response:
    """Hand out the form to print."""
    headers = {"Content-Disposition": 'inline; filename="paper-form.pdf"'}
    return Response(paper_form(workshop, airframe), media_type="application/pdf", headers=headers)
