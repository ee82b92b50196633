"""Reports made one after the other while people go on: asked for, watched, cancelled, fetched.

Several server processes may make them, each one at a time: the table of jobs says who makes what.
A report whose process says nothing any more is ended by whichever process notices.
"""

import contextlib
import hashlib
import logging
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from sqlalchemy.exc import SQLAlchemyError

from skinpin.domain.errors import Refused
from skinpin.reports.running import Running, Step
from skinpin.reports.zone_report import sheets_of
from skinpin.services.airframes import find_airframe
from skinpin.services.people import Person
from skinpin.services.report import make_report, step_words, zone_titles
from skinpin.services.report_watch import Standstill
from skinpin.services.workday import wall_time, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage import report_jobs as table
from skinpin.storage.report_jobs import (
    CANCELLED,
    DONE,
    ENDED,
    FAILED,
    RUNNING,
    WAITING,
    Asked,
    Held,
)
from skinpin.storage.reports_made import KEPT, NAME, ReportsMade

Job = dict[str, Any]
MOST_ASKED = 40
BEAT_S = 1.0
"""How often a process says how far its report is, and looks for reports that wait."""
log = logging.getLogger("skinpin")


class Making(NamedTuple):
    """The report that this process makes now."""

    id: str
    running: Running


class ReportJobs:
    """The reports of a book, as one server process makes and tells them."""

    def __init__(self, workshop: Workshop, folder: Path) -> None:
        self._workshop, self._made = workshop, ReportsMade(folder)
        self._process, self._standstill = workshop.new_id(), Standstill()
        self._lock, self._wake, self._over = threading.Lock(), threading.Event(), threading.Event()
        self._making: Making | None = None
        self._threads: list[threading.Thread] = []

    def begin(self) -> None:
        """Begin to make reports that wait, whoever took them, and to watch those being made."""
        with self._lock:
            if self._threads or self._over.is_set():
                return
            for work, name in ((self._work, "reports"), (self._watch, "reports watched")):
                thread = threading.Thread(target=work, daemon=True, name=name)
                thread.start()
                self._threads.append(thread)

    def ask(self, by: Person, zones: Sequence[str], constructor: str = "") -> list[Job]:
        """Ask for the reports of zones; refused where one of them is none."""
        titles = self._titles(zones, constructor)
        fresh = [self._new(by, zone, title, constructor) for zone, title in titles.items()]
        with self._workshop.noting() as connection:
            waiting = table.count_open(connection)
            if waiting + len(fresh) > MOST_ASKED:
                raise Refused(
                    "too_many_reports",
                    f"{waiting} reports are waiting and {len(fresh)} more were asked for; "
                    f"the limit is {MOST_ASKED}.",
                    "Wait until some are made, or cancel them.",
                )
            table.add_jobs(connection, fresh)
        self.begin()
        self._wake.set()
        return [one._asdict() | {"state": WAITING} for one in fresh]

    def all(self) -> list[Job]:
        """Return every report that is known, the newest first."""
        with self._workshop.reading() as connection:
            found = table.list_jobs(connection)
        return [self._shown(held) for held in found]

    def one(self, id: str) -> Job:
        """Return one report."""
        with self._workshop.reading() as connection:
            held = table.find_job(connection, id) if NAME.fullmatch(id) else None
        if held is None:
            raise Refused(
                "no_such_report", "There is no such report.", "Look at the list of reports made."
            )
        return self._shown(held)

    def cancel(self, id: str) -> Job:
        """Cancel a report that is not made yet; one that is made stays.

        One that another process makes ends there at its next beat.
        """
        if self.one(id)["state"] in ENDED:
            return self.one(id)
        with self._workshop.noting_beside() as connection:
            table.cancel_job(connection, id)
        with self._lock:
            if self._making is not None and self._making.id == id:
                self._making.running.end()
        return self.one(id)

    def pdf(self, id: str) -> tuple[Path, Job]:
        """Return where a report that is made lies, and what is said of it."""
        job = self.one(id)
        path = self._made.path(id)
        if job["state"] != DONE or not path.exists():
            raise Refused(
                "no_such_report",
                f"The report of zone {job['zone']} is not here: it is {job['state']}.",
                "Make it again, or wait until it is made.",
            )
        return path, job

    def close(self) -> None:
        """End what is being made; what waits is left to another process, or the next start."""
        with self._lock:
            self._over.set()
            if self._making is not None:
                self._making.running.end()
        self._wake.set()
        for thread in self._threads:
            thread.join(timeout=10)

    # ---- one after the other

    def _work(self) -> None:
        try:
            self._take_over_notes()
        except (SQLAlchemyError, OSError) as error:
            log.warning("Reports of an earlier version were not taken over: %s", error)
        while not self._over.is_set():
            held = None
            try:
                with self._workshop.noting_beside() as connection:
                    held = table.claim_job(connection, self._process)
            except SQLAlchemyError as error:
                log.warning("No report could be begun: %s", error)
            if held is None:
                self._wake.wait()
                self._wake.clear()
                continue
            with self._lock:
                making = self._making = Making(held.asked.id, Running())
                if self._over.is_set():
                    making.running.end()
            self._end(held, *self._make(held.asked, making.running))

    def _make(self, asked: Asked, running: Running) -> tuple[str, Job | None]:
        """Make a report and keep it; return how that ended and what is told of it."""
        began = time.monotonic()
        try:
            made = make_report(self._workshop, asked.zone, asked.airframe, running)
            running.now("keeping")
            self._made.keep(asked.id, made.pdf)
        except Refused as refused:
            if refused.code != "cancelled":
                return FAILED, _trouble(refused)
            return (FAILED, _trouble(_stopped())) if self._over.is_set() else (CANCELLED, None)
        except Exception as error:
            log.error("The report of zone %s failed", asked.zone, exc_info=error)
            return FAILED, _trouble(_fault(error))
        told = made._asdict()
        pdf: bytes = told.pop("pdf")
        found = {"sha256": hashlib.sha256(pdf).hexdigest(), "size_bytes": len(pdf)}
        took = {"sheets": sheets_of(pdf), "took_s": round(time.monotonic() - began, 1)}
        return DONE, told | found | took

    def _end(self, held: Held, state: str, told: Job | None) -> None:
        """Note how a report ended, as soon as the database takes it."""
        id, is_noted = held.asked.id, False
        while not is_noted:
            try:
                with self._workshop.noting_beside() as connection:
                    is_mine = table.end_job(connection, id, self._process, state, told)
                is_noted = True
                if not is_mine:  # it was given up meanwhile, so nobody is to find it
                    self._made.remove(id)
                self._make_room()
            except (SQLAlchemyError, OSError) as error:
                log.warning("The end of a report was not noted: %s", error)
                is_noted = is_noted or self._over.wait(BEAT_S)
        with self._lock:
            self._making = None

    def _make_room(self) -> None:
        with self._workshop.reading() as connection:
            ids = table.ids_to_go(connection, KEPT)
        for id in ids:
            with contextlib.suppress(OSError):
                self._made.remove(id)
            with self._workshop.noting_beside() as connection:
                table.remove_job(connection, id)

    # ---- watched meanwhile

    def _watch(self) -> None:
        while not self._over.wait(BEAT_S):
            try:
                self._beat()
                self._look()
            except SQLAlchemyError as error:
                log.warning("Reports could not be watched: %s", error)

    def _beat(self) -> None:
        with self._lock:
            making = self._making
        if making is None:
            return
        with self._workshop.noting_beside() as connection:
            step = list(making.running.step)
            goes_on = table.beat_job(connection, making.id, self._process, step)
        if not goes_on:
            making.running.end()

    def _look(self) -> None:
        with self._workshop.reading() as connection:
            found = table.list_jobs(connection, only_open=True)
        if any(held.state == WAITING for held in found):
            self._wake.set()
        if not any(held.state == RUNNING for held in found):
            return
        # Looked at as a writer: while nobody can write no beat can move, and that is no standstill.
        with self._workshop.noting_beside() as connection:
            found = table.list_jobs(connection, only_open=True)
            running = [held for held in found if held.state == RUNNING]
            for held in self._standstill.of(running):
                table.give_up_job(connection, held, _trouble(_silent()))

    def _take_over_notes(self) -> None:
        """Take over what an earlier version kept in a file beside each report."""
        for said in sorted(self._made.notes(), key=lambda said: str(said.get("asked_at"))):
            asked = Asked(*(str(said.get(name, "")) for name in Asked._fields))
            state, told = str(said.get("state")), {k: said[k] for k in said if k not in _COLUMNS}
            if state not in ENDED:
                state, told = FAILED, _trouble(_stopped())
            with self._workshop.noting() as connection:
                if table.find_job(connection, asked.id) is None:
                    table.add_jobs(connection, [asked], state, told or None)
            self._made.remove_note(asked.id)

    # ---- what is said

    def _new(self, by: Person, zone: str, title: str, constructor: str) -> Asked:
        with self._workshop.reading() as connection:
            at = wall_time(self._workshop.now_ms(), workshop_zone(connection))
        return Asked(self._workshop.new_id(), zone, title, constructor, by.name, at)

    def _shown(self, held: Held) -> Job:
        job = held.asked._asdict() | {"state": held.state} | held.told
        if held.state in ENDED:
            return job
        with self._lock:
            making = self._making
        step = Step(*held.step) if held.step else Step("waiting", 0, 0)
        if making is not None and making.id == held.asked.id:
            step = making.running.step
        return job | {"step": {**step._asdict(), "words": step_words(step)}}

    def _titles(self, zones: Sequence[str], constructor: str) -> dict[str, str]:
        with self._workshop.reading() as connection:
            airframe = find_airframe(self._workshop, connection, constructor)
        known = zone_titles(airframe.definition)
        unknown = [zone for zone in zones if zone not in known]
        if unknown or not zones:
            named = f"has no zone {unknown[0][:20]}" if unknown else "was asked for no zone"
            raise Refused(
                "no_such_zone",
                f"The airframe definition {named}.",
                f"It has {', '.join(sorted(known))}.",
            )
        return {zone: known[zone] for zone in dict.fromkeys(zones)}


_COLUMNS = {*Asked._fields, "state", "step"}


def _trouble(refused: Refused) -> Job:
    said = {"code": refused.code, "message": refused.message, "hint": refused.hint}
    return {"trouble": said}


def _stopped() -> Refused:
    return Refused(
        "report_failed", "The server was stopped while the report was made.", "Make it again."
    )


def _silent() -> Refused:
    said = "The server that made the report said nothing of it any more and counts as stopped."
    return Refused("report_failed", said, "Make it again.")


def _fault(error: Exception) -> Refused:
    if isinstance(error, OSError) and error.strerror:
        said = f"The report could not be made: {error.strerror}."
        return Refused("report_failed", said, "Make room on the server and make it again.")
    said = "The server failed to make the report."
    return Refused(
        "report_failed", said, "Make it again; if it goes on, tell who keeps the server."
    )
