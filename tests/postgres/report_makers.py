"""A server process that makes reports of nothing: `python -m … FOLDER ADDRESS HANGS`."""

import os
import secrets
import sys
import time
from pathlib import Path

from skinpin.services import report_jobs, report_watch
from skinpin.services.report import Made

from tests.benches import open_bench


def main(folder: Path, address: str, hangs: str) -> None:
    """Make every report that waits; those of one zone hang until they are ended."""

    def make(workshop, zone, airframe, running):
        with open(folder / "made.txt", "a") as file:
            file.write(f"{os.getpid()} {zone}\n")
        while zone == hangs:
            running.now("photographs", 1, 2)
            time.sleep(0.02)
        time.sleep(0.03)
        return Made(b"%PDF", "0" * 64, 1, 1, 0, 0)

    report_jobs.make_report, report_jobs.sheets_of = make, lambda pdf: 1
    report_jobs.BEAT_S, report_watch.LEFT_S = 0.2, 3.0
    workshop = open_bench(folder, address)
    workshop.random = secrets.token_bytes
    jobs = report_jobs.ReportJobs(workshop, folder / "reports")
    jobs.begin()
    print("ready", flush=True)
    sys.stdin.read()
    jobs.close()
    workshop.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], sys.argv[3])
