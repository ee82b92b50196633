"""Documents to take away: zone reports, made while one waits or by and by, and the defect book."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response
from fastapi.responses import FileResponse

from skinpin.services.export import export_records
from skinpin.services.report import report_zone
from skinpin.services.report_jobs import ReportJobs
from skinpin.web.callers import AtWorkshop, ByPerson
from skinpin.web.wire import ReportsIn

router = APIRouter()


async def the_reports(request: Request) -> ReportJobs:
    """Return the reports of this server."""
    reports = request.app.state.reports
    assert isinstance(reports, ReportJobs)
    return reports


AtReports = Annotated[ReportJobs, Depends(the_reports)]


@router.get("/api/reports/zone/{zone}.pdf")
def get_zone_report(
    workshop: AtWorkshop, caller: ByPerson, zone: str, airframe: str = "", as_at: str = ""
) -> Response:
    """Hand out the report of a zone as it stands now, or stood at the end of a day; a draft."""
    pdf = report_zone(workshop, zone, airframe, as_at)
    headers = {"Content-Disposition": f'inline; filename="{_named(zone)}"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


@router.get("/api/reports")
def get_reports(reports: AtReports, caller: ByPerson) -> list[dict[str, Any]]:
    """List the reports made, being made and waiting, the newest first."""
    return reports.all()


@router.post("/api/reports", status_code=202)
def post_reports(reports: AtReports, caller: ByPerson, asked: ReportsIn) -> list[dict[str, Any]]:
    """Ask for the reports of zones; they are made one after the other."""
    return reports.ask(caller, asked.zones, asked.airframe)


@router.get("/api/reports/{report}.pdf")
def get_report_made(reports: AtReports, caller: ByPerson, report: str) -> Response:
    """Hand out a report that is made, the same bytes every time."""
    path, job = reports.pdf(report)
    return FileResponse(path, media_type="application/pdf", filename=_named(job["zone"]))


@router.post("/api/reports/{report}/cancel")
def post_cancel(reports: AtReports, caller: ByPerson, report: str) -> dict[str, Any]:
    """Cancel a report that is not made yet."""
    return reports.cancel(report)


@router.get("/api/exports/defects.{ending}")
def get_defects(
    workshop: AtWorkshop,
    caller: ByPerson,
    ending: str,
    airframe: str = "",
    zone: str = "",
    as_at: str = "",
) -> Response:
    """Hand out the defect book, or a zone of it, one row a record: csv, xlsx or jsonl."""
    made = export_records(workshop, ending, airframe, zone, as_at)
    headers = {
        "Content-Disposition": f'attachment; filename="{made.name}"',
        "Skinpin-Records": str(made.records),
        "Skinpin-Sha256": made.sha256,
    }
    return Response(made.content, media_type=made.media_type, headers=headers)


def _named(zone: str) -> str:
    return f"zone-{zone if zone.isalnum() and zone.isascii() else 'report'}.pdf"
