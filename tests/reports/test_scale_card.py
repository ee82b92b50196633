"""The sheet of the scale card, as it comes out of a printer that keeps the size."""

from io import BytesIO

import cv2
import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from skinpin.domain.scale_card import CARD, marker_corners
from skinpin.reports.scale_card import CARD_AT_MM, scale_card_pdf

DPI = 300


@pytest.fixture(scope="module")
def pdf():
    return scale_card_pdf("SC-7", "2025-11-03")


@pytest.fixture(scope="module")
def printed(pdf):
    sheet = pypdfium2.PdfDocument(pdf)[0]
    return np.asarray(sheet.render(scale=DPI / 72).to_pil().convert("L"))


def in_mm(px):
    return px / DPI * 25.4


def test_the_markers_lie_where_the_layout_says_to_a_tenth_of_a_millimetre(printed):
    published = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_ARUCO_MIP_36h12)
    quads, ids, _ = cv2.aruco.ArucoDetector(published).detectMarkers(printed)
    found = dict(zip(ids.ravel().tolist(), quads, strict=True))
    assert sorted(found) == [11, 12, 13, 14]
    for marker in CARD["markers"]:
        there = np.array(marker_corners(marker)) + CARD_AT_MM
        assert np.abs(in_mm(found[marker["id"]].reshape(4, 2) + 0.5) - there).max() < 0.1


def test_both_bars_measure_100_mm(printed):
    # The longest runs of black along the sheet and across it, between the border's own lines.
    dark = printed < 128
    across = dark[round(98.9 / 25.4 * DPI), round(25 / 25.4 * DPI) : round(150 / 25.4 * DPI)]
    down = dark[round(110 / 25.4 * DPI) : round(220 / 25.4 * DPI), round(33 / 25.4 * DPI)]
    assert in_mm(across.sum()) == pytest.approx(100, abs=0.15)
    assert in_mm(down.sum()) == pytest.approx(100, abs=0.15)


def test_the_sheet_says_what_it_is_and_how_to_print_it(pdf):
    (page,) = PdfReader(BytesIO(pdf)).pages
    said = " ".join(page.extract_text().split())
    for words in ("SC-7", "issue 1", "Print at 100 %", "Sorting aid, not approved data"):
        assert words in said
    assert "Not approved repair data" in said
    assert [round(float(one) / 72 * 25.4) for one in page.mediabox[2:]] == [210, 297]
