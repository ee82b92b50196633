"""A figure with its ± from a photograph, and one whose scale was struck, in files and reports."""

import io
import json
from pathlib import Path

import pytest
from openpyxl import load_workbook
from skinpin.reports.columns import meaning_of
from skinpin.reports.defects_csv import read_defects_csv
from skinpin.reports.defects_jsonl import MEMBERS
from skinpin.reports.figures import figures
from skinpin.services.airframes import find_airframe
from skinpin.services.defects import list_defects
from skinpin.services.export import export_records
from skinpin.services.report_reader import Reader
from skinpin.services.report_records import records_of
from skinpin_sync.chain import Draft

from tests.benches import set_up

ROOT = Path(__file__).parents[2]
QS7 = (ROOT / "sample_data/skinpin_demo/data/standard_qs7.json").read_bytes()
INCH = {"value": "3.00", "unit": "in"}
PICTURE = {"defect": "d1", "role": "close", "width_px": 2000, "height_px": 1400}
SCALE = {"method": "two points", "points": [[3000, 9000], [12000, 9000]], "length": INCH}
LENGTH = {"shape": "length", "points": [[1000, 6000], [1900, 6000]], "tap": "0.6"}
WIDTH = {
    **{"value": "0.30", "unit": "in", "method": "photograph", "measurement": "m1"},
    "uncertainty": {"value": "0.03", "unit": "in"},
}
WITHDRAWN = {**WIDTH, "scale_withdrawn": True}
STRUCK = "struck on another tablet"
AGAIN = "struck, and the figure withdrawn"
SOUND = "as it was taken"


@pytest.fixture
def book(workshop):
    return set_up(workshop, standard=QS7)


def write(book, how):
    """Write a dent whose width was taken from a photograph, then what became of its scale."""
    tablet, relies = book.tablet(), [book.role_entry]
    dent = {"number": "A/0001", "airframe": book.new.airframe, "kind": "dent", "material": "AL"}
    dent |= {"depth": {"value": "0.02", "unit": "in"}, "width": WIDTH}
    lying = {"photograph": "p1"}
    written = tablet.write(
        Draft("p1", "photograph", PICTURE, relies=relies),
        Draft("s1", "scale", {**lying, **SCALE, "tap": "0.6"}, relies=relies),
        Draft("m1", "measurement", {**lying, **LENGTH, "scale": "s1"}, relies=relies),
        Draft("d1", "defect", dent, relies=relies),
    )
    if how != SOUND:
        written += tablet.write(Draft("s1", "scale", {"struck": True}, relies=relies, why="bent"))
    if how == AGAIN:
        seen = {"width": [one.id for one, _ in written if one.kind == "defect"]}
        withdrawn = Draft("d1", "defect", {"width": WITHDRAWN}, relies=relies, seen=seen)
        written += tablet.write(withdrawn._replace(why="scale withdrawn"))
    book.push(written)
    return book.workshop


def in_csv(workshop):
    [row] = read_defects_csv(export_records(workshop, "csv").content.decode())
    return row


def in_xlsx(workshop):
    sheet = load_workbook(io.BytesIO(export_records(workshop, "xlsx").content))["Defects"]
    head, line = sheet.iter_rows(values_only=True)
    return dict(zip(head, line, strict=True))


def in_jsonl(workshop):
    [line] = export_records(workshop, "jsonl").content.splitlines()
    return json.loads(line)


def on_paper(workshop):
    with workshop.reading() as connection:
        reader = Reader(workshop, connection, find_airframe(workshop, connection))
        [row] = list_defects(workshop, {})
        [record] = records_of(reader, [row], [row])
    told = figures([record], {"instruments": {}, "date": "2025-11-03"})
    rows = {row["label"]: row["cells"][0]["typed"] for row in told["rows"]}
    return rows.get("width"), told["notes"].replace("\u200b", "")


def test_a_figure_with_its_doubt_stands_in_every_file(book):
    workshop = write(book, SOUND)
    plain, sheet, line = in_csv(workshop), in_xlsx(workshop), in_jsonl(workshop)
    assert (plain["width_in"], plain["uncertainty"]) == ("0.30", "width 0.30 ± 0.03 in")
    assert "width" not in plain["not_measured"].split()
    # 0.30 in is 7.62 mm by definition of the inch.
    assert (sheet["width_in"], sheet["width_mm"]) == (0.3, 7.62)
    assert sheet["uncertainty"] == "width 0.30 ± 0.03 in"
    assert line["values"]["width"] == [WIDTH]
    assert line["copied"] == []


@pytest.mark.parametrize("how", [STRUCK, AGAIN])
def test_a_figure_whose_scale_was_struck_reads_as_a_measurement_in_no_column(book, how):
    workshop = write(book, how)
    plain, sheet = in_csv(workshop), in_xlsx(workshop)
    for cells in (plain, sheet):
        assert not cells["width_in"]
        assert not cells["width_mm"]
        assert cells["uncertainty"] == "width scale withdrawn"
        assert "width" in cells["not_measured"].split()
        shown = {name: str(cell) for name, cell in cells.items() if cell is not None}
        told = [name for name, words in shown.items() if "0.3" in words or "7.62" in words]
        assert told == []
    assert [type(sheet[name]) for name in ("width_in", "width_mm")] == [type(None)] * 2


@pytest.mark.parametrize("how", [STRUCK, AGAIN])
def test_the_line_of_such_a_figure_says_that_it_is_withdrawn(book, how):
    line = in_jsonl(write(book, how))
    assert line["values"]["width"] == [WITHDRAWN]
    assert line["copied"] == ["width"]


def test_what_withdrawn_means_is_explained_where_columns_and_members_are():
    assert "scale_withdrawn" in MEMBERS["values"]
    for column in ("not_measured", "uncertainty"):
        assert "scale of a photograph was struck" in meaning_of(column)


def test_a_report_tells_with_the_figure_what_stood_beside_it_when_it_was_taken(book):
    width, notes = on_paper(write(book, SOUND))
    assert width == "0.30 ± 0.03 in"
    assert (
        "width measured from the photograph: sorting aid. Taken for granted: flat skin, and the "
        "scale lying on it. Not corrected for tilt: 10° shortens by 1.5 %, 30° by 13.4 %. "
        "In the outer 15 % of the picture, where lenses bend lines"
    ) in notes


@pytest.mark.parametrize("how", [STRUCK, AGAIN])
def test_a_report_shows_such_a_figure_as_withdrawn_with_no_warning(book, how):
    width, notes = on_paper(write(book, how))
    assert width == "scale withdrawn"
    assert "width 0.30 ± 0.03 in scale withdrawn" in notes
    assert "sorting aid" not in notes


@pytest.mark.parametrize(("how", "count"), [(SOUND, 1), (STRUCK, 0), (AGAIN, 0)])
def test_a_length_of_a_crack_is_an_observation_while_its_scale_stands(book, how, count):
    workshop, tablet = write(book, how), book.tablet("tabletb1")
    crack = {"kind": "crack", "length": WIDTH}
    book.push(tablet.write(Draft("d1", "defect", crack, relies=[book.role_entry])))
    with workshop.reading() as connection:
        reader = Reader(workshop, connection, find_airframe(workshop, connection))
        rows = [one | {"kind": "crack"} for one in list_defects(workshop, {})]
        [record] = records_of(reader, rows, rows)
    assert len(record["observations"]) == count
    for one in record["observations"]:
        assert "In the outer 15 % of the picture, where lenses bend lines." in one["warnings"]
