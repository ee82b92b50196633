"""Files of memory sticks on their way in at the desk: sent in pieces, then taken in one by one."""

import logging
import threading
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.services.people import Person
from skinpin.services.stick_files import need_taker, take_in
from skinpin.services.workshop import Workshop
from skinpin.storage.bags import MAX_BAG_BYTES
from skinpin.storage.uploads import Uploads

Job = dict[str, Any]
COMING, RUNNING, DONE, REFUSED = "coming", "running", "done", "refused"
MOST_KEPT = 20
PIECE_BYTES = 4 * 1024 * 1024
log = logging.getLogger("skinpin")


class StickJobs:
    """The files of one server; they are forgotten at its end, what was taken in is in the book."""

    def __init__(self, workshop: Workshop, folder: Path) -> None:
        self._workshop, self._uploads = workshop, Uploads(folder)
        self._lock, self._one = threading.Lock(), threading.Lock()
        self._jobs: dict[str, Job] = {}
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
        with self._lock:
            self._make_room()
            self._uploads.begin(id, size_bytes)
            job = {"id": id, "by": by.person, "state": COMING, "size_bytes": size_bytes,
                   "here_bytes": 0, "piece_bytes": PIECE_BYTES}  # fmt: skip
            self._jobs[id] = job
            return dict(job)

    def add(self, by: Person, id: str, at: int, piece: bytes) -> Job:
        """Take a piece; one that came before may come again."""
        with self._lock:
            job = self._named(by, id, COMING)
            if at < 0 or at + len(piece) > job["size_bytes"]:
                raise Refused("too_large", "The piece goes beyond the size that was told.", "")
            job["here_bytes"] = self._uploads.add(id, at, piece)
            return dict(job)

    def start(self, by: Person, id: str, reason: str) -> Job:
        """Check the file and take it in, while the desk looks on; again with a reason if asked."""
        with self._lock:
            job = self._named(by, id, COMING, REFUSED)
            if job["here_bytes"] != job["size_bytes"]:
                raise Refused(
                    "cut_short",
                    f"{job['here_bytes']} of {job['size_bytes']} bytes are here.",
                    "Send the rest first.",
                )
            job.update(state=RUNNING, step=None, trouble=None)
            thread = threading.Thread(target=self._work, args=(job, reason), daemon=True)
            self._threads = [one for one in self._threads if one.is_alive()] + [thread]
            told = dict(job)
        thread.start()
        return told

    def one(self, by: Person, id: str) -> Job:
        """Return how far a file is."""
        with self._lock:
            return dict(self._named(by, id))

    def close(self) -> None:
        """Wait for what is being taken in: each step of it is stored whole."""
        for thread in self._threads:
            thread.join(timeout=30)

    def _work(self, job: Job, reason: str) -> None:
        def tell(words: str, done: int, of: int) -> None:
            with self._lock:
                job["step"] = {"words": words, "done": done, "of": of}

        path = self._uploads.path(job["id"])
        try:
            with self._one:
                taken = take_in(self._workshop, job["by"], path, reason, tell)
        except Refused as refused:
            self._refuse(job, refused)
            return
        except Exception as error:
            log.error("a file of a memory stick failed", exc_info=error)
            said = "The server failed to take the file in."
            self._refuse(job, Refused("fault", said, "What is stored stays; take it in again."))
            return
        with self._lock:
            job.update(state=DONE, taken=taken._asdict())
        self._uploads.remove(job["id"])

    def _refuse(self, job: Job, refused: Refused) -> None:
        trouble = {"code": refused.code, "message": refused.message, "hint": refused.hint}
        with self._lock:
            job.update(state=REFUSED, trouble=trouble)

    def _named(self, by: Person, id: str, *states: str) -> Job:
        job = self._jobs.get(id)
        if job is None or job["by"] != by.person:
            raise Refused("no_such_file", "That file is not here.", "Choose it anew.")
        if states and job["state"] not in states:
            raise Refused("not_open", f"The file is {job['state']} already.", "Look at it again.")
        return job

    def _make_room(self) -> None:
        ended = [id for id, job in self._jobs.items() if job["state"] != RUNNING]
        for id in ended[: max(len(ended) - MOST_KEPT + 1, 0)]:
            self._uploads.remove(id)
            del self._jobs[id]
