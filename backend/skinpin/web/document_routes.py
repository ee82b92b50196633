"""Documents to take away: the zone report and the defect book as CSV."""

from fastapi import APIRouter, Response

from skinpin.services.export import export_defects
from skinpin.services.report import report_zone
from skinpin.web.callers import AtWorkshop, ByPerson

router = APIRouter()


@router.get("/api/reports/zone/{zone}.pdf")
def get_zone_report(
    workshop: AtWorkshop, caller: ByPerson, zone: str, airframe: str = ""
) -> Response:
    """Hand out the report of a zone as it stands now, a draft."""
    pdf = report_zone(workshop, zone, airframe)
    name = f'inline; filename="zone-{zone if zone.isalnum() and zone.isascii() else "report"}.pdf"'
    headers = {"Content-Disposition": name, "Cache-Control": "no-store"}
    return Response(pdf, media_type="application/pdf", headers=headers)


@router.get("/api/exports/defects.csv")
def get_defects_csv(workshop: AtWorkshop, caller: ByPerson, airframe: str = "") -> Response:
    """Hand out the defect book as CSV, one row a record."""
    headers = {
        "Content-Disposition": 'attachment; filename="defects.csv"',
        "Cache-Control": "no-store",
    }
    text = export_defects(workshop, airframe)
    return Response(text.encode(), media_type="text/csv; charset=utf-8", headers=headers)
