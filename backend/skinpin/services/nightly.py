"""The nightly backup inside the server, and a light check of the book after it.

Both are due once two o'clock has passed since the last backup.
"""

import logging
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from threading import Event, Thread

from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.check_nightly import check_of_night
from skinpin.services.photograph_parts import sweep_parts
from skinpin.services.workday import workshop_zone
from skinpin.services.workshop import Workshop
from skinpin.storage.backups import BackupFolder
from skinpin.storage.log import find_book

AT_HOUR = 2
LOOK_EVERY_S = 600
log = logging.getLogger(__name__)


def is_due(workshop: Workshop, root: Path) -> bool:
    """Say whether the newest backup is older than the last two o'clock of the workshop."""
    backups = BackupFolder(root)
    with workshop.reading() as connection:
        if find_book(connection) is None:
            return False
        zone = workshop_zone(connection)
    last = last_hour_ms(datetime.fromtimestamp(workshop.now_ms() / 1000, zone))
    made = []
    for name in backups.names():
        with suppress(Refused):
            made.append(backups.manifest(name)["made_ms"])
    return max(made, default=0) < last


def last_hour_ms(now: datetime) -> int:
    """Return the last two o'clock before a local time, in ms of UTC.

    >>> from datetime import UTC
    >>> last_hour_ms(datetime(2025, 11, 3, 1, 59, tzinfo=UTC))
    1762048800000
    >>> last_hour_ms(datetime(2025, 11, 3, 2, 0, tzinfo=UTC))
    1762135200000
    """
    today = now.replace(hour=AT_HOUR, minute=0, second=0, microsecond=0)
    return int((today if today <= now else today - timedelta(days=1)).timestamp() * 1000)


class Nightly:
    """Looks every ten minutes, in a thread of its own, until it is stopped."""

    def __init__(self, workshop: Workshop, root: Path, every_s: float = LOOK_EVERY_S) -> None:
        self._workshop, self._root, self._every_s = workshop, root, every_s
        self._stop = Event()
        self._thread = Thread(target=self._run, name="nightly backup", daemon=True)

    def start(self) -> None:
        """Begin to look."""
        self._thread.start()

    def stop(self) -> None:
        """Look no more; a backup under way is finished first."""
        self._stop.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stop.wait(self._every_s):
            self._look()

    def _look(self) -> None:
        """Make the backup if it is due; a fault is said, and tried again at the next look."""
        try:
            if is_due(self._workshop, self._root):
                sweep_parts(self._workshop)
                made = back_up(self._workshop, self._root)
                log.info("Backup %s: %d entries", made.folder, made.entries)
                for said in check_of_night(self._workshop, self._root):
                    log.error("The nightly check of the book: %s", said)
        except Exception:
            log.exception("The nightly backup into %s, or the check after it, failed", self._root)
