"""Days of rows: by corrected time in the zone of the book, whichever comes first."""

import pytest
from skinpin.services.defects import list_defects
from skinpin.storage.engine import writing
from skinpin.storage.rebuild import rebuild
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
