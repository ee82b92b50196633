"""The first sheet, before it is set."""

from skinpin.reports.front import front

from tests.reports.ready import coverage, ready, record, row


def test_cells_not_looked_at_are_told_in_runs_with_their_reason():
    looked = front(ready())["looked"]
    assert looked["cells"] == "24 of 28 cells"
    assert looked["lines"] == [
        "Not looked at: F1–F2, all 4 strakes.",
        "Why: too narrow to enter or see.",
        "No record in the 24 cells looked at.",
    ]


def test_a_record_where_nobody_looked_is_named_and_makes_nothing_denser():
    unseen = record("A/0002")
    unseen["row"] |= {"station": "10.0", "member": "F1"}
    lines = front(ready([unseen, record("A/0004")]))["looked"]["lines"]
    assert "Recorded in a cell that nobody marked as looked at: A/0002." in lines
    assert lines[-1] == "1 record in the 24 cells looked at: 4.2 for 100 cells."


def test_two_structures_of_one_zone_say_the_same_thing_once():
    seen = [{"cell": cell, "looked_at": True, "survey": "s1"} for cell in elevator_cells()]
    lines = front(ready(zone="332", coverage=seen))["looked"]["lines"]
    assert lines == ["Every cell was looked at.", "No record in the 10 cells looked at."]


def elevator_cells():
    data = ready(zone="332")
    for rule in data["rules"]:
        structure = next(
            s for s in data["definition"]["structures"] if s["name"] == rule["structure"]
        )
        names = [member["name"] for member in structure["members"]]
        for bay in zip(names, names[1:], strict=False):
            yield {"structure": rule["structure"], "hand": rule["hand"], "bay": list(bay)}


def test_what_is_aside_counts_in_no_total_and_is_named():
    same, error, nil = record("B/0015"), record("B/0016"), record("A/0019")
    same["row"] |= {"state": "Same as", "same_as_number": "A/0002"}
    error["row"] |= {"state": "Raised in error"}
    nil["row"] |= {"kind": "nil", "state": "Cleared", "grade": 0}
    told = front(ready([record("A/0002"), same, error, nil]))
    assert told["totals"][-1]["counts"] == ["1", "–", "–", "–", "–", "–", "1"]
    words = "and B/0015, same as A/0002. Raised in error: B/0016, nil record: A/0019"
    words += ", no draft left out."
    assert told["totals_note"] == words


def test_a_record_without_a_grade_has_its_line():
    one = record("A/0002")
    one["row"] |= {"grade": None, "grade_known": False, "grade_words": "Not graded ?"}
    lines = [line["words"] for line in front(ready([one]))["totals"]]
    assert lines[-2:] == ["not graded", "all live sightings"]


def test_issues_are_held_to_the_last_number_of_every_tablet_that_is_in_them():
    every = [record(number) for number in ("A/0009", "A/0026", "B/0003", "A/0011")]
    for each, number in zip(every, ("A/0009", "A/0026", "B/0003", "A/0011"), strict=True):
        each["row"] |= {"number": number}
    every[2]["row"] |= {"state": "Draft"}
    told = front(ready(every))
    assert told["issues"] == [["1, draft", "2025-11-03", "not issued yet", "A/0026"]]
    assert front(ready())["issues"][0][3] == "none in this zone"


def test_a_blocked_bay_is_crossed_and_named_so_in_its_drawing():
    [drawing] = front(ready())["looked"]["drawings"]
    words = [item["words"] for item in drawing["items"] if item["what"] == "text"]
    assert "blocked, reason beside" in words
    assert "NOT LOOKED AT" not in words
    [unseen] = front(ready(coverage=[]))["looked"]["drawings"]
    words = [item["words"] for item in unseen["items"] if item["what"] == "text"]
    assert "NOT LOOKED AT" in words
    assert "blocked, reason beside" not in words


def test_the_zone_is_drawn_with_its_name_inside_the_room():
    for zone in ("111", "420", "520", "722", "731"):
        drawing = front(ready(zone=zone, coverage=[]))["where"]["drawing"]
        words = [item for item in drawing["items"] if item["what"] == "text"]
        assert any(item["words"] == f"ZONE {zone}" for item in words)
        assert all(0 <= item["y"] <= drawing["height"] for item in words)


def test_only_a_placed_record_is_drawn_among_the_cells():
    one = record("A/0002")
    one["row"] = row("A/0002", station=None)
    [drawing] = front(ready([one], coverage=coverage()))["looked"]["drawings"]
    assert not any(item["what"] == "mark" for item in drawing["items"])


def test_a_draft_is_named_once_and_stands_in_no_list_and_on_no_drawing():
    draft = record("D/0002")
    draft["row"] |= {"state": "Draft"}
    told = front(ready([record("A/0002"), draft], coverage=coverage()))
    assert [one["number"] for one in told["records"]] == ["A/0002"]
    assert told["totals"][-1]["counts"][-1] == "1"
    assert told["totals_note"].endswith("no nil record, drafts, left out: D/0002.")
    [drawing] = told["looked"]["drawings"]
    assert sum(item["what"] == "mark" for item in drawing["items"]) == 1
