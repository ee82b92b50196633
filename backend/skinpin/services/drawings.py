"""Drawings and photographs that become views: taken in as pictures, fitted through points."""

from typing import NamedTuple

from skinpin.domain.calibration import Asked, Fitted, fit_view
from skinpin.services.people import need_lead
from skinpin.services.photographs import keep_bytes
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop


class Kept(NamedTuple):
    """A drawing's picture in the store of photographs, and how many pages its file has."""

    sha256: str
    media_type: str
    width_px: int
    height_px: int
    size_bytes: int
    pages: int


def keep_drawing(workshop: Workshop, lead: str, content: bytes, page: int) -> Kept:
    """Keep the picture of a PNG, JPEG, SVG or page of a PDF; the file itself is not kept.

    Raises
    ------
    Refused
        No lead; `unreadable_picture`, `too_many_pixels`, `too_many_pages`, `no_such_page`.
    """
    _need_lead(workshop, lead)
    drawn = workshop.renderer.draw(content, page)
    sha256 = keep_bytes(workshop, drawn.content)
    told = (drawn.media_type, drawn.width_px, drawn.height_px, len(drawn.content), drawn.pages)
    return Kept(sha256, *told)


def fit_drawing(workshop: Workshop, lead: str, asked: Asked) -> Fitted:
    """Return the fit of a picture through touched points; nothing is stored."""
    _need_lead(workshop, lead)
    return fit_view(asked)


def _need_lead(workshop: Workshop, lead: str) -> None:
    with workshop.reading() as connection:
        need_lead(connection, lead, workshop_day(workshop, connection))
