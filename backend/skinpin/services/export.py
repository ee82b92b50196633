"""The defect book as CSV."""

from skinpin.domain.values import differing
from skinpin.reports.defects_csv import defects_csv
from skinpin.services.airframes import find_airframe, rows_of
from skinpin.services.people import list_people
from skinpin.services.workday import workshop_day
from skinpin.services.workshop import Workshop
from skinpin.storage.records import find_records


def export_defects(workshop: Workshop, airframe: str = "") -> str:
    """Return the defects of an airframe as CSV text, one row a record, by number."""
    with workshop.reading() as connection:
        meant = find_airframe(workshop, connection, airframe)
        rows = rows_of(connection, meant)
        standing = find_records(connection, [row["record"] for row in rows])
        names = {
            one.person: one.name
            for one in list_people(connection, workshop_day(workshop, connection))
        }
    units = {one["name"]: one["unit"] for one in meant.definition["structures"]}
    return defects_csv(
        {
            "row": row | {"raised_by": names.get(row["raised_by"], row["raised_by"])},
            "values": values_by_field(standing[row["record"]].standing.values),
            "unit": units.get(row["structure"]),
        }
        for row in rows
    )


def values_by_field(values: dict[str, dict[str, object]]) -> dict[str, list[object]]:
    """Return the values of a defect that stand and differ, by field."""
    fields = sorted({field for one in values.values() for field in one})
    return {field: differing("defect", values, field) for field in fields}
