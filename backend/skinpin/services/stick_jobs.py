"""Files of memory sticks on their way in at the desk: sent in pieces, then taken in one by one.

What is said of a file lies beside it, so that any server process goes on with it.
"""

import logging
import threading
import time
from concurrent.futures import Future
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.services.people import Person
from skinpin.services.stick_files import need_taker, take_in
from skinpin.services.workshop import DAY_MS, Workshop, computer_ms
from skinpin.storage.bags import MAX_BAG_BYTES
from skinpin.storage.uploads import Uploads

Job = dict[str, Any]
COMING, RUNNING, DONE, REFUSED = "coming", "running", "done", "refused"
MOST_KEPT = 20
PIECE_BYTES = 4 * 1024 * 1024
SWEEP_AFTER_DAYS = 7
"""How long a file waits, where several servers may share the folder."""
TELL_S = 1.0
"""How often a step is told to the other processes."""
log = logging.getLogger("skinpin")


class StickJobs:
    """The files of a book's servers; what was taken in is in the book."""

    def __init__(self, workshop: Workshop, folder: Path) -> None:
        # Only SQLite is sure to be served by one process alone: what lies there was left.
        is_alone = workshop.engine.dialect.name == "sqlite"
        before_s = None if is_alone else (computer_ms() - SWEEP_AFTER_DAYS * DAY_MS) / 1000
        self._workshop, self._uploads = workshop, Uploads(folder, before_s=before_s)
        self._lock, self._one = threading.Lock(), threading.Lock()
        self._steps: dict[str, Job | None] = {}
        self._threads: list[threading.Thread] = []

    def begin(self, by: Person, size_bytes: int) -> Job:
        """Begin to send a file; the answer names it and says how large a piece may be."""
        need_taker(self._workshop, by.person)
        if not 0 < size_bytes <= MAX_BAG_BYTES:
            raise Refused(
                "too_large",
                f"The file has {size_bytes} bytes; the limit is 4 GB.",
                "Choose it anew.",
            )
        id = self._workshop.new_id()
        job = {"id": id, "by": by.person, "state": COMING, "size_bytes": size_bytes,
               "here_bytes": 0, "piece_bytes": PIECE_BYTES}  # fmt: skip
        with self._lock:
            self._make_room()
            self._uploads.begin(id, size_bytes)
            self._uploads.note(id, job)
        return job

    def add(self, by: Person, id: str, at: int, piece: bytes) -> Job:
        """Take a piece; one that came before may come again."""
        with self._lock:
            job = self._named(by, id, COMING)
            if at < 0 or at + len(piece) > job["size_bytes"]:
                raise Refused("too_large", "The piece goes beyond the size that was told.", "")
            return job | {"here_bytes": self._uploads.add(id, at, piece)}

    def start(self, by: Person, id: str, reason: str) -> Job:
        """Check the file and take it in, while the desk looks on; again with a reason if asked."""
        self._named(by, id, COMING, REFUSED)
        begun: Future[Job] = Future()
        thread = threading.Thread(target=self._work, args=(by, id, reason, begun), daemon=True)
        with self._lock:
            self._threads = [one for one in self._threads if one.is_alive()] + [thread]
        thread.start()
        return begun.result()

    def one(self, by: Person, id: str) -> Job:
        """Return how far a file is."""
        return self._named(by, id)

    def close(self) -> None:
        """Wait for what is being taken in: each step of it is stored whole."""
        for thread in self._threads:
            thread.join(timeout=30)

    def _work(self, by: Person, id: str, reason: str, begun: Future[Job]) -> None:
        # Whoever began waits for `begun`: whatever fails, it has to be told.
        try:
            with self._uploads.held(id) as is_mine:
                job = self._begin(by, id, is_mine=is_mine)
                begun.set_result(job)
                self._carry_out(job, reason)
        except Exception as error:
            if not begun.done():
                begun.set_exception(error)
                return
            log.error("a file of a memory stick is not told of", exc_info=error)

    def _carry_out(self, job: Job, reason: str) -> None:
        id = job["id"]
        try:
            self._steps[id] = None
            with self._one:
                ended = self._take_in(job, reason)
            self._uploads.note(id, ended)
            if ended["state"] == DONE:
                self._uploads.drop(id)
        finally:
            self._steps.pop(id, None)

    def _begin(self, by: Person, id: str, *, is_mine: bool) -> Job:
        """Note that a file is being taken in, or refuse; nobody else does so at that moment."""
        if not is_mine:
            raise Refused("not_open", "The file is running already.", "Look at it again.")
        job = self._named(by, id, COMING, REFUSED, is_mine=True)
        here = self._uploads.size(id)
        if here != job["size_bytes"]:
            raise Refused(
                "cut_short",
                f"{here} of {job['size_bytes']} bytes are here.",
                "Send the rest first.",
            )
        job = job | {"state": RUNNING, "here_bytes": here, "step": None, "trouble": None}
        self._uploads.note(id, job)
        return job

    def _take_in(self, job: Job, reason: str) -> Job:
        """Take a file in and return what is to be said of it."""
        told_s = time.monotonic()

        def tell(words: str, done: int, of: int) -> None:
            nonlocal told_s
            step = {"words": words, "done": done, "of": of}
            self._steps[job["id"]] = step
            if time.monotonic() - told_s > TELL_S:
                self._uploads.note(job["id"], job | {"step": step})
                told_s = time.monotonic()

        path = self._uploads.path(job["id"])
        try:
            taken = take_in(self._workshop, job["by"], path, reason, tell)
        except Refused as refused:
            return job | _refused(refused)
        except Exception as error:
            log.error("a file of a memory stick failed", exc_info=error)
            said = "The server failed to take the file in."
            return job | _refused(Refused("fault", said, AGAIN))
        return job | {"state": DONE, "step": None, "taken": taken._asdict()}

    def _named(self, by: Person, id: str, *states: str, is_mine: bool = False) -> Job:
        job = self._uploads.said(id)
        if job is None or job["by"] != by.person:
            raise Refused("no_such_file", "That file is not here.", "Choose it anew.")
        if job["state"] == COMING:
            job["here_bytes"] = self._uploads.size(id)
        elif job["state"] == RUNNING:
            job = self._running(job, is_mine=is_mine)
        if states and job["state"] not in states:
            raise Refused("not_open", f"The file is {job['state']} already.", "Look at it again.")
        return job

    def _running(self, job: Job, *, is_mine: bool) -> Job:
        """Return what is said of a file that is being taken in, or was when its process ended."""
        id = job["id"]
        if id in self._steps:
            return job | {"step": self._steps.get(id)}
        if not is_mine and self._uploads.is_held(id):
            return job
        now: Job = self._uploads.said(id) or job  # it may have ended in between
        if now["state"] != RUNNING:
            return now
        return now | _refused(Refused("fault", "The server was stopped meanwhile.", AGAIN))

    def _make_room(self) -> None:
        ids = self._uploads.ids()
        for id in ids[: max(len(ids) - MOST_KEPT + 1, 0)]:
            if not self._uploads.is_held(id):
                self._uploads.remove(id)


AGAIN = "What is stored stays; take it in again."


def _refused(refused: Refused) -> Job:
    trouble = {"code": refused.code, "message": refused.message, "hint": refused.hint}
    return {"state": REFUSED, "step": None, "trouble": trouble}
