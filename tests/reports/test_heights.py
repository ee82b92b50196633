"""Heights reckoned before typesetting: what is said to fit one sheet does fit it."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.reports import heights
from skinpin.reports.zone_report import set_out, typeset, zone_report_data

from tests.papers import pages_of
from tests.reports.ready import inches, ready, record

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/rivet_line.json").read_text("utf-8"))
DEMO = VECTORS["demo"]["line"]
WORDS = "Looked at again by the lamp and found as it was before the winter."


def seen(day, value):
    length = inches(value, uncertainty={"value": "0.03", "unit": "in"})
    return {"date": f"2025-{day}", "length": length, "method": "photograph with rule"}


def history(count, words=WORDS):
    return [{"date": "2025-04-01", "time": "10:14", "sentence": words} for _ in range(count)]


def crack(observations, count):
    one = record("A/0009", {"length": [inches("0.81")]}, observations=observations)
    one["row"] |= {"kind": "crack", "kind_words": "Crack"}
    return one | {"history": history(count)}


def line(found):
    return {"name": "RL-01", "along": "Rivet 1 at WS 92.5625.", "line": DEMO | found}


def sheets_of(tmp_path, one):
    """Return the sheet as told and the texts of the pages that it takes."""
    told = zone_report_data(ready([one]))
    set_out(tmp_path, told, {})
    [sheet] = told["defects"]
    return sheet, pages_of(typeset(tmp_path))[1:-1]


def reckoned(sheet):
    """Return whether everything of a sheet is said to fit one."""
    around = heights.head_mm(sheet) + heights.notes_mm(sheet["figures"])
    around += heights.reasons_mm(sheet) + heights.crack_mm(sheet["crack"])
    around += sum(map(heights.rivets_mm, sheet["rivet_lines"]))
    whole = around + sheet["layout"]["room"] + sheet["foot_way"]["height"]
    return whole + 1.0 <= heights.COLUMN_HIGH


@pytest.mark.parametrize("count", [1, 4, 7, 10, 13, 16, 20])
def test_a_sheet_said_to_fit_is_one_sheet_and_no_other_is(tmp_path, count):
    sheet, pages = sheets_of(tmp_path, record("A/0002") | {"history": history(count)})
    assert len(pages) == (1 if reckoned(sheet) else 2)


@pytest.mark.parametrize(
    ("observations", "count", "pages"),
    [
        ([seen("03-08", "0.62"), seen("06-21", "0.66")], 2, 1),
        ([seen("03-08", "0.62"), seen("06-21", "0.66"), seen("09-06", "0.79")], 3, 1),
        ([seen(f"{month:02}-08", f"0.6{month}") for month in range(1, 8)], 7, 2),
    ],
)
def test_a_crack_that_fits_stays_on_one_sheet(tmp_path, observations, count, pages):
    sheet, texts = sheets_of(tmp_path, crack(observations, count))
    assert (len(texts), reckoned(sheet)) == (pages, pages == 1)
    assert "Crack record" in texts[0]
    assert "No life is foretold" in texts[0]


def test_what_spills_of_a_crack_is_its_history_and_the_next_sheet_bears_its_head(tmp_path):
    observations = [seen(f"{month:02}-08", f"0.6{month}") for month in range(1, 8)]
    _, (first, second) = sheets_of(tmp_path, crack(observations, 7))
    assert "History" not in first
    assert "A/0009 Crack, Port · F6 + 2.0 · K–B1, continued" in second
    assert "continued" not in first


def test_a_long_rivet_line_breaks_between_its_heads_and_what_it_comes_to(tmp_path):
    one = record("B/0001", {"run": ["6"]}, rivet_lines=[line({})])
    _, (first, second) = sheets_of(tmp_path, one)
    assert "48" in first
    assert "Bracketed" in first
    assert "shear share left" not in first
    assert "shear share left" in second
    assert "Decided and stamped" in second
    assert "B/0001 Pitting, Port · F6 + 2.0 · K–B1, continued" in second


@settings(deadline=None, print_blob=True)
@given(count=st.integers(0, 12), words=st.text("abc ", min_size=1, max_size=300))
def test_more_history_is_never_lower_and_a_narrower_column_neither(count, words):
    sheet = {"history": history(count, words)}
    more = {"history": history(count + 1, words)}
    assert heights.history_mm(more, 102) > heights.history_mm(sheet, 102)
    assert heights.history_mm(sheet, 69) >= heights.history_mm(sheet, 102)
