"""Check figures of the whole defect book of an airframe, as at the workshop's day."""

from typing import Any

from skinpin.domain.figures import figures
from skinpin.services.airframes import find_airframe, rows_of
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop


def check_figures(workshop: Workshop, airframe: str = "") -> dict[str, Any]:
    """Return `domain/figures` over every record of an airframe."""
    with workshop.reading() as connection:
        rows = rows_of(connection, find_airframe(workshop, connection, airframe))
        return figures(rows, workshop_day(workshop, connection))
