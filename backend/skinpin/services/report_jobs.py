"""Reports made one after the other while people go on: asked for, watched, cancelled, fetched."""

import contextlib
import hashlib
import logging
import queue
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.reports.running import Running
from skinpin.reports.zone_report import sheets_of
from skinpin.services.airframes import find_airframe
from skinpin.services.people import Person
from skinpin.services.report import make_report, step_words
from skinpin.services.workday import wall_time, workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.reports_made import KEPT, NAME, ReportsMade

Job = dict[str, Any]
WAITING, RUNNING, DONE, FAILED, CANCELLED = "waiting", "running", "done", "failed", "cancelled"
MOST_ASKED = 40
_ENDED = (DONE, FAILED, CANCELLED)
log = logging.getLogger("skinpin")


class ReportJobs:
    """The reports of one server, one made at a time."""

    def __init__(self, workshop: Workshop, folder: Path) -> None:
        self._workshop, self._made = workshop, ReportsMade(folder)
        self._lock = threading.Lock()
        self._queue: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._running: dict[str, Running] = {}
        self._jobs: dict[str, Job] = {job["id"]: job for job in self._made.all() if "id" in job}
        self._thread: threading.Thread | None = None
        for job in self._jobs.values():
            if job.get("state") not in _ENDED:
                self._end(job, FAILED, _stopped())

    def ask(self, by: Person, zones: Sequence[str], constructor: str = "") -> list[Job]:
        """Ask for the reports of zones; refused where one of them is none."""
        titles = self._titles(zones, constructor)
        asked = []
        with self._lock:
            waiting = sum(job["state"] not in _ENDED for job in self._jobs.values())
            if waiting + len(titles) > MOST_ASKED:
                raise Refused(
                    "too_many_reports",
                    f"{waiting} reports are waiting and {len(titles)} more were asked for; "
                    f"the limit is {MOST_ASKED}.",
                    "Wait until some are made, or cancel them.",
                )
            fresh = [self._new(by, zone, title, constructor) for zone, title in titles.items()]
            for job in fresh:  # on the disk first: a full one refuses before anything waits
                self._made.note(job["id"], job)
            for job in fresh:
                self._jobs[job["id"]] = job
                self._running[job["id"]] = Running()
                self._queue.put(job["id"])
                asked.append(dict(job))
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, daemon=True, name="reports")
                self._thread.start()
        return asked

    def all(self) -> list[Job]:
        """Return every report that is known, the newest first."""
        with self._lock:
            jobs = [self._shown(job) for job in self._jobs.values()]
        return sorted(jobs, key=lambda job: (job["asked_at"], job["id"]), reverse=True)

    def one(self, id: str) -> Job:
        """Return one report."""
        with self._lock:
            return self._shown(self._named(id))

    def cancel(self, id: str) -> Job:
        """Cancel a report that is not made yet; one that is made stays."""
        with self._lock:
            job = self._named(id)
            running = self._running.get(id)
            if running is not None:
                running.end()
                if job["state"] == WAITING:
                    self._end(job, CANCELLED, None)
            return self._shown(job)

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
        """Cancel what is being made and end."""
        with self._lock:
            for running in self._running.values():
                running.end()
        self._queue.put(None)
        if self._thread is not None:
            self._thread.join(timeout=10)

    # ---- one after the other

    def _work(self) -> None:
        while (id := self._queue.get()) is not None:
            with self._lock:
                job = self._jobs[id]
                if job["state"] != WAITING:
                    continue
                job["state"] = RUNNING
                running = self._running[id]
            self._make(job, running)

    def _make(self, job: Job, running: Running) -> None:
        began = time.monotonic()
        try:
            made = make_report(self._workshop, job["zone"], job["airframe"], running)
            running.now("keeping")
            self._made.keep(job["id"], made.pdf)
        except Refused as refused:
            state = CANCELLED if refused.code == "cancelled" else FAILED
            with self._lock:
                self._end(job, state, None if state == CANCELLED else refused)
            return
        except Exception as error:
            log.error("The report of zone %s failed", job["zone"], exc_info=error)
            with self._lock:
                self._end(job, FAILED, _fault(error))
            return
        told = made._asdict()
        pdf: bytes = told.pop("pdf")
        found = {"sha256": hashlib.sha256(pdf).hexdigest(), "size_bytes": len(pdf)}
        took = {"sheets": sheets_of(pdf), "took_s": round(time.monotonic() - began, 1)}
        with self._lock:
            job.update(told | found | took)
            self._end(job, DONE, None)
            self._make_room()

    def _end(self, job: Job, state: str, trouble: Refused | None) -> None:
        job["state"] = state
        if trouble is not None:
            job["trouble"] = {
                "code": trouble.code, "message": trouble.message, "hint": trouble.hint
            }  # fmt: skip
        self._running.pop(job["id"], None)
        with contextlib.suppress(OSError):
            self._made.note(job["id"], job)

    def _make_room(self) -> None:
        ended = [job for job in self._jobs.values() if job["state"] in _ENDED]
        oldest = sorted(ended, key=lambda job: (job["asked_at"], job["id"]))
        for job in oldest[: max(len(ended) - KEPT, 0)]:
            with contextlib.suppress(OSError):
                self._made.remove(job["id"])
            del self._jobs[job["id"]]

    # ---- what is said

    def _new(self, by: Person, zone: str, title: str, constructor: str) -> Job:
        with self._workshop.reading() as connection:
            at = wall_time(self._workshop.now_ms(), workshop_zone(connection))
        return {
            "id": self._workshop.new_id(),
            "zone": zone,
            "title": title,
            "airframe": constructor,
            "state": WAITING,
            "asked_by": by.name,
            "asked_at": at,
        }

    def _shown(self, job: Job) -> Job:
        running = self._running.get(job["id"])
        step = running.step if running else None
        return job | ({"step": {**step._asdict(), "words": step_words(step)}} if step else {})

    def _named(self, id: str) -> Job:
        if not NAME.fullmatch(id) or id not in self._jobs:
            raise Refused(
                "no_such_report", "There is no such report.", "Look at the list of reports made."
            )
        return self._jobs[id]

    def _titles(self, zones: Sequence[str], constructor: str) -> dict[str, str]:
        with self._workshop.reading() as connection:
            airframe = find_airframe(self._workshop, connection, constructor)
        known = {rule["zone"]: rule["title"] for rule in airframe.definition["zones"]}
        unknown = [zone for zone in zones if zone not in known]
        if unknown or not zones:
            named = f"has no zone {unknown[0][:20]}" if unknown else "was asked for no zone"
            raise Refused(
                "no_such_zone",
                f"The airframe definition {named}.",
                f"It has {', '.join(sorted(known))}.",
            )
        return {zone: str(known[zone]) for zone in dict.fromkeys(zones)}


def _stopped() -> Refused:
    return Refused(
        "report_failed", "The server was stopped while the report was made.", "Make it again."
    )


def _fault(error: Exception) -> Refused:
    if isinstance(error, OSError) and error.strerror:
        said = f"The report could not be made: {error.strerror}."
        return Refused("report_failed", said, "Make room on the server and make it again.")
    said = "The server failed to make the report."
    return Refused(
        "report_failed", said, "Make it again; if it goes on, tell who keeps the server."
    )
