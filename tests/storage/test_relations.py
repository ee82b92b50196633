"""Days of rows by corrected time in the zone of the book; grades with the rivet lines linked."""

from pathlib import Path

import pytest
from skinpin.services.defects import list_defects
from skinpin.services.photographs import keep_bytes
from skinpin.storage.engine import writing
from skinpin.storage.rebuild import rebuild
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import Draft

from tests.benches import NOW_MS, open_bench, set_up

DAY_MS = 86_400_000


@pytest.fixture
def bench(tmp_path):
    made = set_up(open_bench(tmp_path))
    yield made
    made.workshop.close()


def raised(tablet, record, at_ms):
    tablet.now_ms = at_ms
    new = {"state": {"move": "new", "to": "Draft"}, "number": f"A/{record:>04}"}
    [(begun, line)] = tablet.defect(record, **new, kind="crack", place={"member": "F6"})
    seen = {field: [begun.id] for field in ("state", "kind", "place")}
    values = {"state": {"move": "raise", "to": "Raised"}, "no_photograph": "lamp failed"}
    move = Draft(record, "defect", values, seen=seen, relies=[tablet.role_entry])
    return [(begun, line), *tablet.write(move)]


def days_of(bench):
    return {row["record"]: row["raised_on"] for row in list_defects(bench.workshop, {})}


def test_a_row_says_the_day_of_the_stamp_and_of_the_arrival_where_that_is_ahead(bench):
    tablet, ahead = bench.tablet(), bench.tablet("tabletb1")
    late = NOW_MS + 15 * 3_600_000 - 3 * DAY_MS  # 23:15 on 2025-10-31, summer time over
    bench.push(raised(tablet, "1", late))
    bench.push(raised(ahead, "2", NOW_MS + 387 * DAY_MS))
    assert days_of(bench) == {"1": "2025-10-31", "2": "2025-11-03"}
    with writing(bench.workshop.engine) as connection:
        rebuild(connection, bench.workshop.files)
    assert days_of(bench) == {"1": "2025-10-31", "2": "2025-11-03"}


def test_another_time_zone_of_the_book_makes_every_day_anew(bench):
    tablet = bench.tablet()
    bench.push(raised(tablet, "1", NOW_MS + 15 * 3_600_000 - 3 * DAY_MS))
    zone = Draft("book", "book", {"time_zone": "Europe/Berlin"}, relies=[tablet.role_entry])
    with bench.workshop.reading() as connection:
        seen = connection.exec_driver_sql("SELECT id FROM entry WHERE record = 'book'").scalar_one()
    bench.push(tablet.write(zone._replace(seen={"time_zone": [seen]})))
    assert days_of(bench) == {"1": "2025-11-01"}


QS7 = (Path(__file__).parents[2] / "sample_data/skinpin_demo/data/standard_qs7.json").read_bytes()
PIN = {"name": "QS-7", "issue": "1", "sha256": sha256_hex(QS7)}
SHEET = {"thickness": {"value": "0.064", "unit": "in"}}
RIVETS = {"head": "470", "diameter": "1/8", "alloy": "2117", "sheets": [SHEET]}


def test_every_change_of_a_rivet_line_grades_its_defects_anew(bench):
    keep_bytes(bench.workshop, QS7)
    tablet = bench.tablet()
    move = {"state": {"move": "new", "to": "Draft"}, "standard": PIN}
    for record in ("1", "2"):
        loose = {"kind": "loose rivets", "material": "AL", "run": 1}
        bench.push(tablet.defect(record, number=f"A/000{record}", **move, **loose))
    told = []

    def write(values, **seen):
        [pair] = tablet.write(Draft("R", "rivet_line", values, seen=seen))
        bench.push([pair])
        rows = {row["record"]: row for row in list_defects(bench.workshop, {})}
        told.append([(rows[one]["grade_words"], rows[one]["deciding"]) for one in "12"])
        return [pair[0].id]

    light, open_ = ("Grade 2", "RV2: 1 loose or working"), "Grade at least 2 ?"
    first = write({"defect": "1", "as_found": "LSLSLSLL"})
    design = write({"design": RIVETS})
    moved = write({"defect": "2"}, defect=first)
    found = write({"as_found": "LSLSSSSS"}, as_found=first)
    write({"as_now": "RSRSSSSS"})
    write({"design": None}, design=design)
    write({"defect": None, "as_found": None}, defect=moved, as_found=found)
    assert told == [
        [(open_, light[1]), light],
        [("Grade 4", "RV4: shear share 37.5 % < 50 %"), light],
        [light, ("Grade 4", "RV4: shear share 37.5 % < 50 %")],
        [light, light],
        [light, light],
        [light, (open_, light[1])],
        [light, light],
    ]
    with writing(bench.workshop.engine) as connection:
        rebuild(connection, bench.workshop.files)
    rows = {row["record"]: row["grade_words"] for row in list_defects(bench.workshop, {})}
    assert rows == {"1": "Grade 2", "2": "Grade 2"}
