"""A defect on a calibrated drawing: the part round the place is printed, with its ring."""

import io
import json
from pathlib import Path

import pytest
from PIL import Image
from skinpin.domain.place import view_point
from skinpin.reports.pictured import drawing_file, drawings_shown, pictured
from skinpin.reports.sheets import defect_sheet
from skinpin.reports.zone_report import zone_report_pdf

from tests.reports.ready import ready, record

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/place_pictures.json").read_text("utf-8"))
MADE = VECTORS["definition"]
SHA = "ab" * 32
HERE = {SHA: drawing_file(SHA)}
PLACE = {"structure": "Hull", "hand": "P", "member": "F6", "offset": {"value": "2.0", "unit": "in"},
         "strakes": ["K", "B1"]}  # fmt: skip


def seen(hand="P"):
    return record("A/0002") | {"place": {**PLACE, "hand": hand}}


def with_views(*views):
    marram = ready()["definition"]
    hull = {**marram, "views": [*marram["views"], *views]}
    return {**ready(), "definition": hull}


def view_named(name):
    return next(view for view in MADE["views"] if view["name"] == name)


def test_the_newest_drawing_that_shows_the_hand_comes_first():
    names = [[view["name"] for view in drawings_shown(MADE, seen(hand))] for hand in "PS"]
    assert names == [["photograph 1", "sheet 13", "sheet 12"], ["sheet 13"]]
    assert drawings_shown(MADE, record("A/0002") | {"place": None}) == []


@pytest.mark.parametrize("name", ["photograph 1", "sheet 12"])
def test_the_window_is_as_wide_as_the_picture_and_holds_the_place(name):
    one = {**MADE, "views": [view_named(name)]}
    found = pictured(one, seen(), HERE, 10.0, 31.0)
    x, y = view_point(view_named(name), MADE, PLACE)
    mm = 100 / view_named(name)["picture"]["width_px"]
    assert found.x == pytest.approx(x * mm, abs=1e-3)
    assert 10 <= found.y <= 10 + found.ground["height"]
    assert found.y - 10 + found.ground["above"] == pytest.approx(y * mm, abs=2e-3)
    assert 0 <= found.ground["above"] <= found.ground["whole"] - found.ground["height"] + 1e-3


def test_a_picture_that_is_not_at_hand_leaves_the_drawn_view():
    assert pictured(MADE, seen(), {}, 10.0, 31.0) is None
    told = defect_sheet(seen(), with_views(view_named("sheet 12")), {})
    assert told["layout"]["ground"] is None
    assert told["layout"]["view"] == "hull profile"


def test_the_sheet_names_the_drawing_and_rings_the_place():
    told = defect_sheet(seen(), with_views(view_named("sheet 12")) | {"drawings": HERE}, {})
    layout = told["layout"]
    assert (layout["view"], layout["ground"]["file"]) == (None, drawing_file(SHA))
    items = layout["figure"]["items"]
    assert "SHEET 12, SHEET 12 ISSUE B" in [item.get("words") for item in items]
    assert [item["what"] for item in items].count("ring") == 1


def test_the_report_embeds_the_drawing(tmp_path):
    out = io.BytesIO()
    Image.new("RGB", (1100, 500), "green").save(out, "JPEG")
    path = tmp_path / "drawing.jpg"
    path.write_bytes(out.getvalue())
    plain = {**with_views(view_named("sheet 12")), "records": [seen()]}
    without = zone_report_pdf(plain, {})
    pdf = zone_report_pdf(plain | {"drawings": HERE}, {drawing_file(SHA): path})
    assert out.getvalue()[:200] not in without
    assert out.getvalue()[:200] in pdf
