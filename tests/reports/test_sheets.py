"""A record's sheet, before it is set: names and leaders of its drawing, heads, stamps."""

import pytest
from skinpin.reports.lettering import width_mm
from skinpin.reports.sheets import defect_sheet
from skinpin_demo.definition import definition

from tests.reports.ready import figures, ready, record

MARRAM = definition()
STRUCTURES = [s["name"] for s in MARRAM["structures"]]


def at(structure, member, hand="P"):
    one = record("A/0002")
    of = next(s for s in MARRAM["structures"] if s["name"] == structure)
    station = next(m["station"] for m in of["members"] if m["name"] == member)
    place = {"structure": structure, "hand": hand if hand in of["hands"] else of["hands"][0]}
    place |= {"member": member, "offset": {"value": "0.0", "unit": "in"}}
    place |= {"strakes": of["strakes"][:1]} if of["strakes"] else {}
    one["row"] |= {"structure": structure, "member": member, "station": station}
    one["row"] |= {"hand": place["hand"]}
    return one | {"place": place}


def names_on(one):
    items = defect_sheet(one, ready(), {})["layout"]["figure"]["items"]
    return items, [item for item in items if item["what"] == "text" and item["size"] == 8.3]


def crosses(a, b, box):
    """Say whether a line from a to b meets a box, by a hundred points of it."""
    left, top, right, bottom = box
    for step in range(101):
        x = a[0] + (b[0] - a[0]) * step / 100
        y = a[1] + (b[1] - a[1]) * step / 100
        if left < x < right and top < y < bottom:
            return True
    return False


@pytest.mark.parametrize("structure", STRUCTURES)
def test_no_name_of_a_member_is_crossed_by_a_leader_or_another_name(structure):
    of = next(s for s in MARRAM["structures"] if s["name"] == structure)
    for member in of["members"]:
        items, names = names_on(at(structure, member["name"]))
        named = [name for name in names if name["y"] > 20]
        own = [name for name in named if name["bold"]]
        assert [name["words"] for name in own] == [member["name"]]
        spans = sorted((n["x"], n["x"] + width_mm(n["words"], 8.3, n["bold"])) for n in named)
        assert all(a[1] <= b[0] + 0.01 for a, b in zip(spans, spans[1:], strict=False))
        leaders = [i for i in items if i["what"] == "line" and i["colour"] == "ink"]
        for name in named:
            wide = width_mm(name["words"], 8.3, name["bold"])
            box = (name["x"] + 0.1, name["y"] - 2.0, name["x"] + wide - 0.1, name["y"])
            for leader in leaders:
                for a, b in zip(leader["points"], leader["points"][1:], strict=False):
                    assert not crosses(a, b, box), (member["name"], name["words"])


@pytest.mark.parametrize("structure", STRUCTURES)
def test_the_title_of_a_view_and_its_arrow_end_before_the_picture(structure):
    of = next(s for s in MARRAM["structures"] if s["name"] == structure)
    for hand in of["hands"]:
        items, _ = names_on(at(structure, of["members"][0]["name"], hand))
        head = [i for i in items if i["what"] == "text" and i["bold"] and i["y"] < 11]
        assert head
        assert max(i["x"] + width_mm(i["words"], i["size"], True) for i in head) < 118


def test_a_record_without_a_place_has_no_drawing_and_still_its_sheet():
    one = record("A/0002", place=None)
    one["row"] |= {"station": None, "structure": None}
    sheet = defect_sheet(one, ready(), {})
    assert sheet["layout"]["view"] is None
    assert sheet["heading"] == "Pitting · bottom plating"


def test_views_are_put_in_once_and_shared():
    views = {}
    for member in ("F6", "F9"):
        defect_sheet(at("Hull", member), ready(), views)
    assert list(views) == ["hull profile"] or len(views) == 1


def test_what_is_not_known_and_what_was_overruled_are_said():
    one = record("A/0002")
    one["row"] |= {"grade_known": False, "missing": ["depth", "cleaned"], "grade": 2}
    one["row"] |= {"overruled": {"from": 3, "from_words": "Grade 3", "to": 2}}
    said = defect_sheet(one, ready(), {})["missing"]
    assert said == (
        "Grade 3, overruled by the lead: no reason given · the standard gives Grade 3. "
        "Not known yet: depth, deepest pit, cleaned."
    )


@pytest.mark.parametrize(
    ("state", "values", "wanted"),
    [
        ("Raised", {}, ["disposition stamp, lead", "inspection stamp"]),
        ("Cleared", {}, []),
        (
            "Offered",
            {"independent": [True]},
            [
                "disposition stamp, lead",
                "inspection stamp",
                "independent inspection, a second person",
            ],
        ),
    ],
)
def test_stamps_that_are_still_wanted_have_their_empty_place(state, values, wanted):
    one = record("A/0002", figures() | values)
    one["row"] |= {"state": state}
    stamps = defect_sheet(one, ready(), {})["stamps"]
    assert [stamp["caption"] for stamp in stamps if stamp["act"] is None] == wanted
