"""The real server, killed at random moments, loses nothing acknowledged.

`FAULT_KILLS` asks for more kills than CI has time for, `FAULT_SEED` for others.
"""

import os
import random
import signal
import time
from contextlib import closing

from skinpin.services.restore import restore
from skinpin.storage.backups import BackupFolder

from tests.benches import open_bench
from tests.faults.workers import Acknowledged, Line, expect_all, in_threads, sentences, served

KILLS = int(os.environ.get("FAULT_KILLS", "15"))
SEED = int(os.environ.get("FAULT_SEED", "20251103"))
LONGEST_WORK_S = 0.5


def test_what_was_acknowledged_is_there_after_every_kill(book, tmp_path):
    folder, tablets = book
    chance, done, backups = random.Random(SEED), Acknowledged(), BackupFolder(folder / "backups")
    for kill in range(KILLS):
        where = f"kill {kill} of seed {SEED}"
        with served(folder, FAULT_BACKUPS="always") as (port, child):
            with Line(port, tablets[0]) as line:
                expect_all(line, tablets[0].book, done, where)
            workers = in_threads(port, tablets, SEED + kill, done)
            time.sleep(chance.uniform(0.02, LONGEST_WORK_S))
            os.kill(child.pid, signal.SIGKILL)
            for one in workers:
                one.join()
        assert sentences(folder) == [], where
    with served(folder) as (port, _), Line(port, tablets[0]) as line:
        expect_all(line, tablets[0].book, done, "the end")
    print(f"seed {SEED}: {KILLS} kills, {len(done.entries)} entries, {len(done.photographs)} files")
    assert len(done.entries) > 10 * KILLS
    assert len(done.photographs) > KILLS
    assert all(backups.manifest(name)["seq"] for name in backups.names())
    with closing(open_bench(tmp_path / "again", seed=3)) as again:
        assert all(one.agrees for one in restore(again, folder / "backups"))
