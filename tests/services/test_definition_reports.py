"""Reports over several issues of a definition: each place as it was entered and as it reads now."""

import copy

from skinpin.services.as_at import as_at
from skinpin.services.defects import defects_numbered, list_defects
from skinpin.services.definitions import (
    new_airframe,
)
from skinpin.services.report import gather_zone, report_zone
from skinpin_sync.chain import Draft

from tests.domain.definitions import SECOND
from tests.papers import pages_of
from tests.services.definition_acts import issue, issue_two, record_at, refusal


def test_a_report_says_how_a_place_was_entered_where_it_reads_otherwise_today(bench):
    record_at(bench)
    record_at(bench, "A/0002", offset={"value": "5.0", "unit": "in"})
    made = issue_two()
    made["structures"][0]["members"].append({"name": "F6N", "kind": "frame", "station": "154"})
    issue(bench, made)
    data, _ = gather_zone(bench.workshop, "111", "")
    places = {one["row"]["number"]: one["place_long"] for one in data["records"]}
    assert places == {
        "A/0001": "Hull · Port · F6N + 5.0 aft · K–B1 · Sta 159.0 · zone 111"
        " · entered as F6 + 15.0 aft",
        "A/0002": "Hull · Port · F6 + 5.0 aft · K–B1 · Sta 149.0 · zone 111",
    }


def test_a_zone_drawn_anew_leaves_what_was_reported_before(bench):
    record_at(bench)
    bench.workshop.now_ms.now_ms += 2 * 86_400_000
    made = issue_two()
    for zone in made["zones"]:
        zone["zone"] = zone["zone"].replace("11", "12")
    issue(bench, made)
    assert [row["zone"] for row in list_defects(bench.workshop, {})] == ["121"]
    with as_at(bench.workshop, "2025-11-04") as then:
        assert [row["zone"] for row in list_defects(then, {})] == ["111"]


def test_a_part_on_the_bench_has_words_and_no_zone(bench):
    made = issue_two() | {"off_aircraft": [{"name": "Bench 2"}]}
    issue(bench, made)
    off = {"off": "Bench 2", "part": "Strut, port", "marking": "P", "precision": "bay only"}
    values = {"number": "A/0009", "airframe": bench.new.airframe, "place": off}
    bench.push(bench.tablet().defect("defect-9", **values))
    [row] = defects_numbered(bench.workshop, "A0009")
    assert row["place_words"] == "off aircraft, Bench 2 · Strut, port · marked P"
    assert (row["zone"], row["station_text"], row["structure"]) == (None, None, None)
    made = issue_two() | {"issue": "3"}
    told = refusal(lambda: issue(bench, made))
    assert "place off the aircraft Bench 2 may not disappear: A/0009 names it" in told.message


def test_what_lies_on_the_bench_is_reported_by_itself_and_named_in_every_zone(bench):
    issue(bench, issue_two() | {"off_aircraft": [{"name": "Bench 2"}]})
    off = {"off": "Bench 2", "part": "Strut, port", "precision": "bay only"}
    begun = {"number": "A/0009", "airframe": bench.new.airframe, "place": off, "kind": "pitting"}
    tablet = bench.tablet()
    first = tablet.defect("defect-9", **begun, state={"move": "new", "to": "Draft"})
    [(entry, _)] = first
    raised = {"state": {"move": "raise", "to": "Raised"}, "no_photograph": "lamp failed"}
    seen = {name: [entry.id] for name in ("state", "place", "kind")}
    relies = [tablet.role_entry]
    bench.push(first + tablet.write(Draft("defect-9", "defect", raised, seen, relies)))
    front, sheet, *_ = pages_of(report_zone(bench.workshop, "none"))
    assert "No zone" in front
    assert "No cells: nothing here lies in a zone" in front
    assert "off aircraft, Bench 2 · Strut, port" in sheet
    other, *_ = pages_of(report_zone(bench.workshop, "111"))
    assert "In no zone, see the report of what lies in none: A/0009." in other


def test_old_looks_stay_and_cover_the_bays_that_a_new_frame_makes(bench):
    cell = {"structure": "Hull", "hand": "P", "bay": ["F6", "F7"], "strakes": ["K", "B1"]}
    survey = {"title": "SV-1", "airframe": bench.new.airframe}
    look = {"survey": "survey-1", "cell": cell, "looked_at": True, "method": "eye"}
    bench.push(
        bench.tablet().write(Draft("survey-1", "survey", survey), Draft("look-1", "coverage", look))
    )
    made = issue_two()
    made["structures"][0]["members"].append({"name": "F6N", "kind": "frame", "station": "154"})
    issue(bench, made)
    data, _ = gather_zone(bench.workshop, "111", "")
    assert [one["cell"] for one in data["coverage"]] == [cell]


def test_an_airframe_that_was_only_described_has_a_zone_report(bench):
    made = copy.deepcopy(SECOND) | {"issue": "B"}
    made["zones"] = [
        {"zone": "110", "title": "Fuselage", "structure": "Fuselage"},
        {"zone": "510", "title": "Mainplane", "structure": "Mainplane", "along": [None, "2100"]},
        {"zone": "520", "title": "Outer", "structure": "Mainplane", "along": ["2100", None]},
        {"zone": "310", "title": "Fin", "structure": "Fin"},
    ]
    airframe = new_airframe(bench.workshop, bench.new.lead, made).record
    place = {"structure": "Mainplane", "hand": "S", "member": "R2", "face": "lower skin",
             "offset": {"value": "12.5", "unit": "mm"}}  # fmt: skip
    values = {"number": "A/0001", "airframe": airframe, "kind": "dent", "place": place}
    survey = {"title": "SV-1", "airframe": airframe, "date": "2025-11-03"}
    cell = {"structure": "Mainplane", "hand": "S", "bay": ["R2", "R4"], "face": "lower skin"}
    look = {"survey": "survey-1", "cell": cell, "looked_at": True, "method": "eye"}
    bench.push(
        bench.tablet().write(
            Draft("defect-1", "defect", values, relies=[bench.role_entry]),
            Draft("survey-1", "survey", survey),
            Draft("look-1", "coverage", look),
        )
    )
    front = pages_of(report_zone(bench.workshop, "510", "17"))[0]
    # Three bays of four faces on either hand, of which two were looked at.
    assert "2 of 24 cells" in front
    assert "A/0001" in front
