"""The book as at a date, by replay."""

import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_raw
import pytest
from pypdf import PdfReader
from skinpin.domain.errors import Refused
from skinpin.services import as_at as looking_back
from skinpin.services.as_at import as_at
from skinpin.services.defects import list_defects
from skinpin.services.export import export_records
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import push
from skinpin.services.replays import MOST_KEPT, MOST_WAITING
from skinpin.services.report import report_zone
from skinpin_sync.chain import Draft
from sqlalchemy import text

from tests.benches import derived
from tests.services.books import open_demo

DAY_MS = 86_400_000


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The demo on its day, read only."""
    workshop = open_demo(tmp_path_factory.mktemp("as-at") / "demo")
    yield workshop
    workshop.close()


def states(workshop, day):
    with as_at(workshop, day) as then:
        return {row["number"]: row["state"] for row in list_defects(then, {})}


def test_today_is_the_book_itself(demo):
    """Replayed up to now, everything derived is what was derived bit by bit."""
    with as_at(demo, "2025-11-03") as then:
        found = derived(then)
    assert found == derived(demo)


def test_days_before_know_less_and_nothing_that_came_later(demo):
    days = ["2025-03-08", "2025-06-01", "2025-10-01", "2025-11-03"]
    counts = [len(states(demo, day)) for day in days]
    assert counts == sorted(counts)
    assert counts[0] < counts[-1] == 45


def test_a_record_is_as_it_stood_on_each_day(bench, monkeypatch):
    workshop, tablet = bench.workshop, bench.tablet()
    first = tablet.defect("d1", number="A/0001", depth={"value": "0.011", "unit": "in"})
    bench.push(first)
    workshop.now_ms.now_ms += 2 * DAY_MS
    [(entry, _)] = first
    seen = {"depth": [entry.id]}
    bench.push(tablet.write(Draft("d1", "defect", {"depth": {"value": "0.013", "unit": "in"}},
                                  seen, [bench.role_entry], "typed wrong")))  # fmt: skip
    depth = lambda day: depths(workshop, day)  # noqa: E731
    assert depth("2025-11-03") == depth("2025-11-04") == ["0.011"]
    assert depth("2025-11-05") == depth("") == ["0.013"]


def depths(workshop, day):
    with as_at(workshop, day) as then, then.reading() as connection:
        [standing] = connection.scalars(text("SELECT standing FROM record WHERE record = 'd1'"))
    return [value for value in ("0.011", "0.013") if f'"{value}"' in standing]


def test_links_of_lines_that_the_door_refused_by_then_are_known(bench):
    tablet = bench.tablet()
    written = tablet.defect("d1", number="A/0001")
    bench.push(written)
    other = written[0][1].replace(b"A/0001", b"A/0009")
    assert push(bench.workshop, tablet.book, other + b"\n")["results"][0]["code"] == "other_bytes"
    asked = text("SELECT id, sha256 FROM refused_entry")
    with bench.workshop.reading() as connection:
        now = connection.execute(asked).all()
    with as_at(bench.workshop, "2025-11-03") as then, then.reading() as connection:
        assert connection.execute(asked).all() == now
    assert [row.id for row in now] == [written[0][0].id]


def test_looking_back_changes_nothing(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001"))
    before = derived(bench.workshop)
    with as_at(bench.workshop, "2025-11-03") as then, then.reading() as connection:
        assert connection.scalar(text("SELECT COUNT(*) FROM defect")) == 1
    assert derived(bench.workshop) == before


@pytest.fixture
def replays(monkeypatch):
    """Every replay that is made, and how many were being made at once."""
    made, at_work, most = [], [], []
    plain = looking_back.replay

    def counted(source, target, upto_ms, files):
        at_work.append(upto_ms)
        most.append(len(at_work))
        time.sleep(0.05)
        made.append(upto_ms)
        found = plain(source, target, upto_ms, files)
        at_work.remove(upto_ms)
        return found

    monkeypatch.setattr(looking_back, "replay", counted)
    return made, most


def test_a_day_is_replayed_once_until_something_comes_that_belongs_to_it(bench, replays):
    made, _ = replays
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001"))
    for _ in range(3):
        assert set(states(bench.workshop, "2025-11-03")) == {"A/0001"}
    assert len(made) == 1
    bench.push(tablet.defect("d2", number="A/0002"))
    assert set(states(bench.workshop, "2025-11-03")) == {"A/0001", "A/0002"}
    assert len(made) == 2
    bench.workshop.now_ms.now_ms += 2 * DAY_MS
    bench.push(tablet.defect("d3", number="A/0003"))  # of a later day
    assert set(states(bench.workshop, "2025-11-03")) == {"A/0001", "A/0002"}
    assert len(made) == 2
    assert len(states(bench.workshop, "2025-11-05")) == 3


def test_many_that_ask_at_once_wait_for_one_replay_after_the_other(bench, replays):
    made, most = replays
    bench.push(bench.tablet().defect("d1", number="A/0001"))
    bench.workshop.now_ms.now_ms += 3 * DAY_MS
    days = [f"2025-11-0{3 + n % 3}" for n in range(MOST_WAITING + 1)]
    with ThreadPoolExecutor(len(days)) as pool:
        found = list(pool.map(lambda day: states(bench.workshop, day), days))
    assert found == [found[0]] * len(days)
    assert (len(made), max(most)) == (3, 1)


def test_a_photograph_that_comes_later_throws_no_replay_away(bench, replays):
    made, _ = replays
    bench.push(bench.tablet().defect("d1", number="A/0001"))
    bench.workshop.now_ms.now_ms += 2 * DAY_MS
    states(bench.workshop, "2025-11-03")
    keep_bytes(bench.workshop, b"\xff\xd8\xff" + b"p" * 100)
    assert set(states(bench.workshop, "2025-11-03")) == {"A/0001"}
    assert len(made) == 1


def test_who_waits_for_a_replay_holds_no_connection(bench, monkeypatch):
    bench.push(bench.tablet().defect("d1", number="A/0001"))
    bench.workshop.now_ms.now_ms += 2 * DAY_MS
    go, plain = threading.Event(), looking_back.replay

    def slowly(*given):
        go.wait(20)
        return plain(*given)

    monkeypatch.setattr(looking_back, "replay", slowly)
    pool_of = bench.workshop.engine.pool
    with ThreadPoolExecutor(MOST_WAITING + 1) as pool:
        asked = [pool.submit(states, bench.workshop, "2025-11-03") for _ in range(MOST_WAITING + 1)]
        until_s = time.monotonic() + 10
        while bench.workshop.replays._waiting <= MOST_WAITING or pool_of.checkedout() != 1:
            assert time.monotonic() < until_s, pool_of.status()
            time.sleep(0.01)
        go.set()
        assert [set(one.result(timeout=20)) for one in asked] == [{"A/0001"}] * len(asked)


def test_few_replays_are_kept_and_none_is_left_when_the_book_is_closed(
    bench, tmp_path, monkeypatch
):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    left = lambda: len(list(tmp_path.glob("skinpin-as-at-*")))  # noqa: E731
    bench.push(bench.tablet().defect("d1", number="A/0001"))
    bench.workshop.now_ms.now_ms += 6 * DAY_MS
    with as_at(bench.workshop, "2025-11-03") as then:
        for day in range(4, 10):
            assert len(states(bench.workshop, f"2025-11-0{day}")) == 1
        assert left() == MOST_KEPT + 1  # the one that is being read is not taken away
        assert len(list_defects(then, {})) == 1
    assert left() == MOST_KEPT
    with pytest.raises(Refused), as_at(bench.workshop, "1999-01-01"):
        pass
    assert left() <= MOST_KEPT
    bench.workshop.close()
    assert left() == 0


@pytest.mark.parametrize(
    "day",
    [
        "2025-11-04",
        "2025-13-01",
        "yesterday",
        "20251003",
        "1999-01-01",
        "9999-12-31",
        "2024-W52-1",
    ],
)
def test_a_day_that_is_none_or_out_of_the_book_is_refused(demo, day):
    with pytest.raises(Refused) as refused, as_at(demo, day):
        pass
    assert refused.value.code == "not_a_date"


def test_the_report_says_on_every_sheet_as_at_which_day(demo):
    pages = PdfReader(BytesIO(report_zone(demo, "111", "", "2025-10-01"))).pages
    assert len(pages) > 1
    for page in pages:
        assert "as at 1 October 2025" in " ".join(page.extract_text().split())
    today = PdfReader(BytesIO(report_zone(demo, "111"))).pages[0].extract_text()
    assert "as at" not in today


def test_the_export_says_so_in_its_name(demo):
    made = export_records(demo, "csv", day="2025-06-01")
    assert made.name == "defects-as-at-2025-06-01.csv"
    assert made.records == len(states(demo, "2025-06-01")) < export_records(demo, "csv").records


def test_a_replay_of_the_demo_takes_seconds_not_minutes(demo):
    began = time.monotonic()
    states(demo, "2025-11-03")
    assert time.monotonic() - began < 20


def test_the_report_strikes_the_old_value_through(bench_with_correction):
    """Nothing of it is left out: both values, who, when and why are on the paper."""
    pdf = report_zone(bench_with_correction, "111")
    said = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages)
    assert "Depth 0.011 in corrected to 0.013 in by Lead One (01)" in said
    assert "typed wrong." in said
    assert lines_across(pdf, "0.011 in corrected") == 1


@pytest.fixture
def bench_with_correction(bench):
    tablet = bench.tablet()
    place = {"structure": "Hull", "hand": "P", "member": "F2", "strakes": ["K", "B1"],
             "offset": {"value": "2.0", "unit": "in"}, "precision": "exact"}  # fmt: skip
    found = {"number": "A/0001", "place": place, "kind": "pitting", "no_photograph": "too dark"}
    found |= {"airframe": bench.new.airframe, "depth": {"value": "0.011", "unit": "in"}}
    found |= {"state": {"move": "new", "to": "Draft"}}
    [(new, line)] = tablet.defect("d1", **found)
    bench.push([(new, line)])
    seen = {name: [new.id] for name in ("state", "place", "kind", "no_photograph")}
    raised = Draft("d1", "defect", {"state": {"move": "raise", "to": "Raised"}}, seen,
                   [bench.role_entry])  # fmt: skip
    bench.push(tablet.write(raised))
    mended = {"depth": {"value": "0.013", "unit": "in"}}
    relies = [bench.role_entry]
    bench.push(
        tablet.write(Draft("d1", "defect", mended, {"depth": [new.id]}, relies, "typed wrong"))
    )
    return bench.workshop


def lines_across(pdf, words):
    """Count drawn lines that run through the first words of a line of text."""
    document = pdfium.PdfDocument(pdf)
    for page in document:
        text_page = page.get_textpage()
        searcher = text_page.search(words)
        found = searcher.get_next()
        if found:
            left, low, right, high = text_page.get_charbox(found[0])
            _, _, end, _ = text_page.get_charbox(found[0] + len("0.011 in") - 1)
            middle = [low, high]
            return sum(
                one.get_bounds()[0] <= left + 1
                and one.get_bounds()[2] >= end - 1
                and middle[0] <= one.get_bounds()[1] <= middle[1]
                and one.get_bounds()[2] - one.get_bounds()[0] < 60
                for one in page.get_objects()
                if one.type == pdfium_raw.FPDF_PAGEOBJ_PATH
            )
    raise AssertionError(f"'{words}' is on no sheet")
