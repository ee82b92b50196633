"""The form for the day of no tablets."""

from io import BytesIO

import pytest
from pypdf import PdfReader
from skinpin.domain.paper import COLUMNS
from skinpin.services.paper_form import paper_form

from tests.services.books import open_demo


@pytest.fixture(scope="module")
def sheets(tmp_path_factory):
    workshop = open_demo(tmp_path_factory.mktemp("form") / "demo")
    try:
        return PdfReader(BytesIO(paper_form(workshop))).pages
    finally:
        workshop.close()


def test_one_sheet_has_two_defects_with_every_field_in_the_order_of_the_screen(sheets):
    assert len(sheets) == 1
    said = " ".join(sheets[0].extract_text().split())
    for one in COLUMNS:
        assert said.count(one.label) >= 2, one.label
    at = [said.index(label) for label in ("Structure", "Hand", "Kind", "Plate thickness", "Note")]
    assert at == sorted(at)


def test_the_sheet_carries_the_safety_wording_and_the_airframe(sheets):
    said = " ".join(sheets[0].extract_text().split())
    assert "Not approved repair data" in said
    assert "Marram" in said
