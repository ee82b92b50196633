"""Hostile notes, names, titles and file names come out as text, on paper, in files and on disks.

The texts are in `tests/vectors/hostile_texts.json`; the screens show the same (tests/browser).
"""

import copy
import csv
import io
import json
import re
from pathlib import Path
from unicodedata import normalize

import orjson
import pytest
from openpyxl import load_workbook
from skinpin.reports.defects_csv import read_defects_csv
from skinpin.reports.words import printable
from skinpin.services.export import export_records
from skinpin.services.paper import COLUMNS, enter, import_register
from skinpin.services.people import add_person, people_here
from skinpin.services.report import report_zone

from tests.benches import DEFINITION, PASSCODE, open_bench, set_up, set_up_unlooked
from tests.papers import pages_of
from tests.services.test_paper import LINE, register

VECTORS = Path(__file__).parents[1] / "vectors/hostile_texts.json"
TEXTS = [normalize("NFC", text) for text in json.loads(VECTORS.read_text())]
ZONE_NAME = '1"\r\nX-Hostile: 1; ../\u202e'
FORMULA = tuple("=+-@\t\r\n")


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    """A book whose every text is hostile: people, titles, members, notes, parts, reasons."""
    definition = copy.deepcopy(DEFINITION)
    for zone, title in zip(definition["zones"], TEXTS, strict=False):
        zone["title"] = title
    definition["zones"][2]["zone"] = ZONE_NAME
    folder = tmp_path_factory.mktemp("hostile")
    bench = set_up_unlooked(
        open_bench(folder / "book"), orjson.dumps(definition), lead_name=TEXTS[1]
    )
    for at, name in enumerate(TEXTS):
        add_person(bench.workshop, bench.new.lead, name, "inspector", str(at + 10), PASSCODE)
        line = LINE | {"paper_number": str(at), "found_by": name, "note": name, "part": name}
        told = enter(bench.workshop, bench.new.lead, line)
        assert told["troubles"] == [], (name, told)
    yield bench.workshop
    bench.workshop.close()


def test_people_keep_their_names_letter_for_letter(workshop):
    names = {one["name"] for one in people_here(workshop, with_unlock=False)}
    assert {text for text in TEXTS if text.isprintable()} <= names


def test_every_cell_of_a_csv_file_is_text_and_comes_back(workshop):
    content = export_records(workshop, "csv").content.decode()
    for row in csv.reader(io.StringIO(content)):
        risky = [cell for cell in row if cell.startswith(FORMULA)]
        assert [cell for cell in risky if not re.fullmatch(r"-?[0-9.]+", cell)] == []
    assert [row["note"] for row in read_defects_csv(content)] == TEXTS


def test_every_cell_of_a_workbook_is_a_value_and_none_a_formula(workshop):
    book = load_workbook(io.BytesIO(export_records(workshop, "xlsx").content))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert [cell.value for cell in cells if cell.data_type == "f"] == []
    assert [cell.hyperlink for cell in cells if cell.hyperlink] == []
    here = {cell.value for cell in cells}
    assert [text for text in TEXTS if text.isprintable() and text not in here] == []


def test_every_json_line_is_one_record_with_its_note(workshop):
    lines = export_records(workshop, "jsonl").content.decode().split("\n")
    assert [json.loads(line)["values"]["note"][0] for line in lines if line] == TEXTS


def test_a_report_prints_every_text_and_runs_none(workshop):
    pages = pages_of(report_zone(workshop, "111"))
    flat = re.sub(r"\s", "", "".join(pages))
    for text in TEXTS:
        plain = re.sub(r"\s", "", printable(text)).replace("\u200b", "")
        seen = plain if plain.isascii() else plain.encode("ascii", "ignore").decode()[:3]
        assert seen in flat, text
    assert "root:" not in flat


def test_a_zone_of_a_hostile_name_names_no_file_and_no_header(workshop):
    made = export_records(workshop, "csv", zone=ZONE_NAME)
    assert re.fullmatch(r"[A-Za-z0-9.-]+", made.name)


@pytest.mark.parametrize("text", TEXTS)
def test_a_hostile_register_is_named_and_kept_as_text_or_told(tmp_path, text):
    bench = set_up(open_bench(tmp_path / "book"))
    lines = [LINE | {"note": text}, LINE | {"paper_number": text, "structure": text}]
    told = import_register(bench.workshop, bench.new.lead, register(*lines), "", text)
    assert told.stored == 0
    assert {one.line for one in told.troubles} == {3}
    names = [one.name for one in COLUMNS]
    told = import_register(bench.workshop, bench.new.lead, register(LINE, names=[*names, text]))
    assert (told.stored, {one.line for one in told.troubles}) == (0, {1})
    bench.workshop.close()
