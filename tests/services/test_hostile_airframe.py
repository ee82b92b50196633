"""Hostile names of an airframe, its structures, members, strakes and drawings: text, or refused.

The texts are those of notes (`tests/vectors/hostile_texts.json`), and some no screen would type.
"""

import copy
import csv
import io
import json
import re

import orjson
import pytest
from openpyxl import load_workbook
from skinpin.domain.errors import Refused
from skinpin.reports.words import printable
from skinpin.services.defects import list_defects
from skinpin.services.export import export_records
from skinpin.services.paper_form import paper_form
from skinpin.services.report import report_zone
from skinpin.services.set_up import is_empty

from tests.benches import DEFINITION, open_bench, set_up, set_up_unlooked
from tests.papers import pages_of
from tests.services.test_hostile_names import FORMULA, TEXTS

# A file with control characters is refused, so no book has such a name.
SHORT = [text for text in TEXTS if len(text) <= 60 and "\x07" not in text]
PLACE = {"structure": "Hull", "hand": "P", "offset": {"value": "2.0", "unit": "in"}}


def place(at, member):
    """Return a place at a member, on the strake and face of the same number."""
    return PLACE | {
        "structure": SHORT[at],
        "member": member,
        "strakes": [f"{at} {SHORT[at]}", f"{at}b {SHORT[at]}"],
        "face": SHORT[at],
        "precision": "exact",
    }


def definition_of(**changes):
    """Return a definition whose every text is hostile, one structure and zone for each text."""
    value = copy.deepcopy(DEFINITION)
    hull = value["structures"][0]
    value["structures"] = [
        {
            **copy.deepcopy(hull),
            **{"name": text, "axis": text, "datum": text, "positive": text},
            "members": [
                {"name": text, "kind": text, "station": "24", "main": True},
                {"name": f"{text} 2", "kind": text, "station": "48", "main": False},
            ],
            "strakes": [f"{at} {text}", f"{at}b {text}"],
            "plating": [{"strakes": [0, 2], "thickness": "0.064", "part": text, "material": text}],
            "faces": [text],
        }
        for at, text in enumerate(SHORT)
    ]
    value["zones"] = [
        {
            **{"zone": str(100 + at), "title": text, "structure": text, "hand": "P"},
            **{"along": [None, None], "strakes": None},
        }
        for at, text in enumerate(SHORT)
    ]
    value["views"] = [
        {
            **{"name": text, "title": text, "structure": text, "seen_from": text, "box": [90, 40]},
            **{"x": {"origin": 0, "per_unit": 1}, "y": {"origin": 0, "per_strake": 9}},
            "lines": [{"points": [[1, 2], [80, 30]], "weight": "thin", "kind": "full"}],
            "labels": [{"x": 9, "y": 9, "text": text}],
        }
        for text in SHORT
    ]
    return value | changes


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    """A book of one airframe all of whose texts are hostile, with a record on each structure."""
    folder = tmp_path_factory.mktemp("hostile")
    definition = definition_of(name=SHORT[0], constructor=SHORT[7], issue=SHORT[5])
    bench = set_up_unlooked(open_bench(folder / "book"), orjson.dumps(definition))
    tablet = bench.tablet()
    for at, text in enumerate(SHORT):
        told = bench.push(
            tablet.defect(
                f"d{at}",
                number=f"A/{at + 1:04}",
                airframe=bench.new.airframe,
                place=place(at, text),
                kind="pitting",
                material="AL",
                part=text,
                state={"move": "new", "to": "Draft"},
            )
        )
        assert [one["result"] for one in told["results"]] == ["stored"], (text, told)
    yield bench.workshop
    bench.workshop.close()


def test_every_record_stands_in_its_zone_with_its_place_in_words(workshop):
    rows = {row["number"]: row for row in list_defects(workshop, {})}
    assert len(rows) == len(SHORT)
    for at, text in enumerate(SHORT):
        row = rows[f"A/{at + 1:04}"]
        assert (row["structure"], row["member"], row["zone"]) == (text, text, str(100 + at))
        assert text in row["place_words"]


def test_no_cell_of_a_file_is_a_formula_and_every_name_comes_back(workshop):
    content = export_records(workshop, "csv").content.decode()
    for row in csv.reader(io.StringIO(content)):
        risky = [cell for cell in row if cell.startswith(FORMULA)]
        assert [cell for cell in risky if not re.fullmatch(r"-?[0-9.]+", cell)] == []
    book = load_workbook(io.BytesIO(export_records(workshop, "xlsx").content))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert [cell.value for cell in cells if cell.data_type == "f"] == []
    assert [cell.hyperlink for cell in cells if cell.hyperlink] == []
    lines = export_records(workshop, "jsonl").content.decode().split("\n")
    told = [json.loads(line)["values"]["place"][0] for line in lines if line]
    assert sorted(one["structure"] for one in told) == sorted(SHORT)


@pytest.mark.parametrize("kind", ["csv", "xlsx", "jsonl"])
def test_no_file_is_named_by_anything_that_could_lead_elsewhere(workshop, kind):
    made = export_records(workshop, kind, SHORT[7], "100")
    assert re.fullmatch(r"[A-Za-z0-9.-]+", made.name)


@pytest.mark.parametrize("at", [0, 5, 6, SHORT.index("../../etc/passwd"), len(SHORT) - 1])
def test_a_report_prints_the_names_and_runs_none(workshop, at):
    flat = re.sub(r"\s", "", "".join(pages_of(report_zone(workshop, str(100 + at)))))
    plain = re.sub(r"\s", "", printable(SHORT[at])).replace("\u200b", "")
    assert plain in flat
    assert "root:" not in flat


def test_the_paper_form_prints_what_it_can_of_them(workshop):
    assert paper_form(workshop, "").startswith(b"%PDF-")


ODD = [
    *(pytest.param(text, id=f"text {at}") for at, text in enumerate(TEXTS)),
    pytest.param("a" * 10_000, id="10,000 letters"),
    pytest.param("nul\0nul", id="NUL"),
    pytest.param("half \ud800 a character", id="a lone surrogate"),
    pytest.param("\udfff", id="the other half"),
]


@pytest.mark.parametrize("text", ODD)
def test_an_airframe_of_a_hostile_name_is_set_up_and_found_or_refused_as_a_whole(
    empty_workshop, text
):
    content = json.dumps(DEFINITION | {"name": text, "constructor": text}).encode()
    workshop, refused = empty_workshop(), None
    try:
        bench = set_up(workshop, definition=content)
    except Refused as told:
        refused = told
    if refused:
        assert all((refused.message, refused.hint, is_empty(workshop)))
        assert list(workshop.folder.root.rglob("[0-9a-f]" * 64)) == []
        assert len(text) > 200 or not text.isprintable()
        return
    assert len(text) <= 200
    for kind in ("csv", "xlsx", "jsonl"):
        assert re.fullmatch(r"[A-Za-z0-9.-]+", export_records(bench.workshop, kind).name)
    assert list_defects(bench.workshop, {}) == []


VIEW = {
    **{"name": "profile", "title": "profile", "structure": "Hull", "seen_from": "port"},
    **{"box": [90, 40], "x": {"origin": 0, "per_unit": 1}, "y": {"origin": 0, "per_strake": 9}},
    **{"lines": [], "labels": []},
}
ASKED = ["structures/0/datum", "structures/0/members/0/name", "views/0/title", "zones/0/title"]


@pytest.mark.parametrize("path", ASKED)
@pytest.mark.parametrize("text", [one.values[0] for one in ODD[-4:]], ids=["long", "0", "1", "2"])
def test_a_name_that_no_file_and_no_sheet_can_hold_is_refused_as_a_whole(
    empty_workshop, path, text
):
    definition = copy.deepcopy(DEFINITION) | {"views": [copy.deepcopy(VIEW)]}
    set_up(empty_workshop(), definition=json.dumps(definition).encode())
    *steps, last = path.split("/")
    inner = definition
    for step in steps:
        inner = inner[int(step) if step.isdigit() else step]
    inner[last] = text
    workshop = empty_workshop()
    with pytest.raises(Refused, match="is no airframe definition|is expected") as refused:
        set_up(workshop, definition=json.dumps(definition).encode())
    assert all((refused.value.message, refused.value.hint, is_empty(workshop)))


@pytest.fixture
def empty_workshop(tmp_path):
    """Open workshops without a book."""
    opened = []

    def new():
        opened.append(open_bench(tmp_path / f"book{len(opened)}"))
        return opened[-1]

    yield new
    for one in opened:
        one.close()
