"""The web app of one book."""

from collections.abc import AsyncIterator, Collection
from contextlib import asynccontextmanager
from importlib.metadata import version
from pathlib import Path

from fastapi import FastAPI
from starlette.middleware import Middleware

from skinpin.services.report_jobs import ReportJobs
from skinpin.services.stick_jobs import StickJobs
from skinpin.services.workshop import Workshop
from skinpin.web import (
    card_routes,
    defect_routes,
    definition_routes,
    document_routes,
    drawing_routes,
    errors,
    exchange_routes,
    figure_routes,
    keeping_routes,
    paper_routes,
    part_routes,
    people_routes,
    register_routes,
    registration_routes,
    standard_routes,
    stick_routes,
)
from skinpin.web.bodies import BodyLimit
from skinpin.web.guard import Guard
from skinpin.web.pages import STATIC, build_name, page_routes
from skinpin.web.wire import Trouble

SAID = {"description": "Every error has this shape.", "model": Trouble}


def build_server(
    workshop: Workshop,
    hosts: Collection[str],
    static: Path = STATIC,
    backups: Path | None = None,
) -> FastAPI:
    """Return the app that serves a book to these host names."""

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        app.state.reports.begin()
        yield
        app.state.reports.close()
        app.state.sticks.close()
        workshop.close()

    app = FastAPI(
        title="Skinpin",
        version=version("skinpin"),
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        responses={"4XX": SAID, "5XX": SAID},
        middleware=[Middleware(Guard, hosts=hosts), Middleware(BodyLimit)],
    )
    app.state.workshop = workshop
    app.state.reports = ReportJobs(workshop, workshop.folder.root.parent / "reports")
    app.state.sticks = StickJobs(workshop, workshop.folder.root.parent / "stick-files")
    app.state.build = build_name(static)
    app.state.backups = backups or workshop.folder.root.parent / "backups"
    errors.install(app)
    # The busiest first: every route before the right one is asked.
    app.include_router(exchange_routes.router)
    app.include_router(part_routes.router)
    app.include_router(registration_routes.router)
    app.include_router(people_routes.router)
    app.include_router(register_routes.router)
    app.include_router(defect_routes.router)
    app.include_router(document_routes.router)
    app.include_router(stick_routes.router)
    app.include_router(paper_routes.router)
    app.include_router(card_routes.router)
    app.include_router(figure_routes.router)
    app.include_router(definition_routes.router)
    app.include_router(drawing_routes.router)
    app.include_router(standard_routes.router)
    app.include_router(keeping_routes.router)
    app.include_router(page_routes(static))
    return app
