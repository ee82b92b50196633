"""The form for the day on which all tablets are flat: of one airframe, ready to print."""

from skinpin.domain.kinds import KINDS, WORDING, commonest_kinds, kind_words
from skinpin.domain.paper import CLEANED, COLUMNS
from skinpin.reports.paper_form import paper_form_pdf
from skinpin.services.airframes import find_airframe, last_value
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.records import find_records


def paper_form(workshop: Workshop, constructor: str = "") -> bytes:
    """Return the form as PDF: two defects a sheet, the fields in the order of the screen."""
    with workshop.reading() as connection:
        airframe = find_airframe(workshop, connection, constructor)
        book = find_records(connection, ["book"])["book"].standing
        today = workshop_day(workshop, connection)
    structures = airframe.definition["structures"]
    others = sorted(kind_words(kind) for kind in KINDS if kind not in (*commonest_kinds(), "nil"))
    return paper_form_pdf(
        {
            "airframe": f"{airframe.type} · {airframe.constructor}",
            "workshop": str(last_value(book, "workshop") or ""),
            "date": today,
            "safety": WORDING["full"],
            "columns": [one._asdict() for one in COLUMNS],
            "choices": {
                "structure": [str(one["name"]) for one in structures],
                "hand": ["port", "starboard", "centreline"],
                "face": ["inner", "outer"],
                "kind": [kind_words(kind) for kind in commonest_kinds() if kind != "nil"],
                "cleaned": list(CLEANED),
            },
            "other_kinds": others,
            "unit": str(structures[0]["unit"]),
        }
    )
