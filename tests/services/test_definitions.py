"""Definitions: issued, issued anew, handed out; records are described anew and never moved."""

import copy
import json

import pytest
from skinpin.services.defects import defects_numbered, list_defects
from skinpin.services.definitions import (
    check_definition,
    definition_bytes,
    definition_file,
    list_airframes,
    new_airframe,
    new_issue,
)
from skinpin.services.people import add_person
from skinpin.services.photographs import keep_bytes
from skinpin.storage.records import find_records
from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values

from tests.benches import DEFINITION
from tests.services.definition_acts import PLACE, issue, issue_two, record_at, refusal
from tests.storage.power_cuts import files_below


def test_an_airframe_is_listed_with_its_definition_and_handed_out_byte_for_byte(bench):
    second = copy.deepcopy(DEFINITION) | {"constructor": "77", "name": "Sandpiper"}
    second["structures"][0]["members"].reverse()
    made = new_airframe(bench.workshop, bench.new.lead, second)
    listed = list_airframes(bench.workshop)
    assert [one["constructor"] for one in listed] == ["2603", "77"]
    assert listed[1] == made._asdict()
    file = definition_file(bench.workshop, made.record)
    stations = [float(one["station"]) for one in json.loads(file)["structures"][0]["members"]]
    assert stations == sorted(stations)
    # Read in again elsewhere it is the same file.
    assert definition_bytes(json.loads(file)) == file


def test_a_definition_with_a_trouble_is_refused_and_nothing_is_written(bench):
    wrong = issue_two()
    wrong["structures"][0]["members"][1]["station"] = "24"
    before = list_airframes(bench.workshop)
    told = refusal(lambda: issue(bench, wrong))
    assert (told.code, told.message) == ("bad_definition", "F1 and F2 both stand at Sta 24 in.")
    assert refusal(lambda: new_airframe(bench.workshop, bench.new.lead, wrong)).code == told.code
    assert list_airframes(bench.workshop) == before


def test_a_new_issue_needs_a_lead_a_reason_and_another_issue(bench):
    fitter = add_person(bench.workshop, bench.new.lead, "Fitter", "fitter", "", "222222")
    asked = (bench.workshop, fitter, bench.new.airframe, issue_two(), "why")
    assert refusal(lambda: new_issue(*asked)).code == "not_allowed"
    assert refusal(lambda: issue(bench, issue_two(), " ")).code == "no_reason"
    assert refusal(lambda: issue(bench, copy.deepcopy(DEFINITION))).code == "bad_definition"
    stale = issue_two() | {"replaces": "0" * 64}
    assert "another issue" in refusal(lambda: issue(bench, stale)).message
    twice = new_airframe
    second = issue_two()
    assert refusal(lambda: twice(bench.workshop, bench.new.lead, second)).code == "airframe_exists"


def test_what_is_refused_leaves_no_file_behind(bench):
    record_at(bench)
    before = files_below(bench.workshop.folder.root)
    gone = issue_two()
    del gone["structures"][0]["members"][5]
    assert "F6" in refusal(lambda: issue(bench, gone)).message
    assert (
        "another issue"
        in refusal(lambda: issue(bench, issue_two() | {"replaces": "0" * 64})).message
    )
    lead, again = bench.new.lead, issue_two()
    assert refusal(lambda: new_airframe(bench.workshop, lead, again)).code == "airframe_exists"
    assert refusal(lambda: new_airframe(bench.workshop, lead, [again])).code == "bad_definition"
    assert files_below(bench.workshop.folder.root) == before


def test_of_two_issues_at_once_that_follow_one_the_second_is_refused(bench, monkeypatch):
    asked = []

    def keep_late(workshop, content):
        if not asked:
            asked.append(content)
            issue(bench, issue_two() | {"issue": "3"})
        return keep_bytes(workshop, content)

    monkeypatch.setattr("skinpin.services.definitions.keep_bytes", keep_late)
    assert "another issue" in refusal(lambda: issue(bench, issue_two())).message


def test_a_frame_put_in_describes_a_record_anew_and_leaves_its_place(bench):
    record_at(bench)
    made = issue_two()
    made["structures"][0]["members"].append({"name": "F6N", "kind": "frame", "station": "154"})
    checked = check_definition(bench.workshop, bench.new.lead, made, bench.new.airframe)
    assert [one["weight"] for one in checked["troubles"]] == ["said"]
    [moved] = checked["moved"]
    assert moved["number"] == "A/0001"
    assert "F6 + 15.0" in moved["entered"]
    assert "F6N + 5.0" in moved["now"]
    first = list_airframes(bench.workshop)[0]["definition"]
    issued = issue(bench, made)
    assert json.loads(definition_file(bench.workshop, issued.record))["replaces"] == first["sha256"]
    [row] = defects_numbered(bench.workshop, "A0001")
    assert row["place"] == PLACE
    assert "F6N + 5.0" in row["place_words"]
    assert row["station_text"] == "Sta 159.0"
    with bench.workshop.reading() as connection:
        [airframe] = find_records(connection, [issued.record]).values()
    pins = field_values(airframe.standing, "definition").values()
    assert [one["issue"] for one in pins] == ["2"]


def test_a_moved_datum_shifts_stations_and_no_record(bench):
    record_at(bench)
    made = issue_two()
    for member in made["structures"][0]["members"]:
        member["station"] = str(int(member["station"]) - 100)
    checked = check_definition(bench.workshop, bench.new.lead, made, bench.new.airframe)
    assert {one["code"] for one in checked["troubles"]} == {"datum_moved", "before_datum"}
    assert checked["moved"] == []
    issue(bench, made)
    [row] = defects_numbered(bench.workshop, "A0001")
    assert (row["station_text"], row["place"]) == ("Sta 59.0", PLACE)


def checked(bench, made):
    return check_definition(bench.workshop, bench.new.lead, made, bench.new.airframe)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"unit": "mm"}, "Hull is measured in in; records stand on it."),
        ({"positive": "forward"}, "Stations of Hull count aft; records stand on it."),
    ],
)
def test_what_a_structure_is_measured_by_stays_once_the_book_names_it(bench, change, message):
    made = issue_two()
    made["structures"][0] |= change
    assert [one for one in checked(bench, made)["troubles"] if one["weight"] == "refused"] == []
    area = [{"structure": "Hull", "members": ["F7", "F8"]}]
    stage = Draft("stage-1", "stage", {"title": "Stage 3", "area": area}, relies=[bench.role_entry])
    bench.push(bench.tablet("tabletb1").write(stage))
    assert refusal(lambda: issue(bench, made)).message == message
    record_at(bench)
    told = refusal(lambda: issue(bench, made))
    assert (told.message, told.hint) == (message, "Describe a new structure instead.")


def test_a_member_shifted_alone_takes_its_records_along_and_names_them(bench):
    record_at(bench)
    record_at(bench, "A/0002", member="F2", offset={"value": "0.0", "unit": "in"})
    made = issue_two()
    made["structures"][0]["members"][5]["station"] = "146"
    told = checked(bench, made)
    [trouble] = told["troubles"]
    assert (trouble["code"], trouble["weight"]) == ("stations_changed", "said")
    assert trouble["message"] == "Members of Hull stand at other stations: F6 from 144 to 146."
    [moved] = told["moved"]
    assert moved["number"] == "A/0001"
    assert (moved["entered"][-9:], moved["now"][-9:]) == ("Sta 159.0", "Sta 161.0")


def test_two_members_swapped_are_named_with_the_records_on_both(bench):
    record_at(bench, offset={"value": "1.0", "unit": "in"})
    record_at(bench, "A/0002", member="F2", offset={"value": "0.0", "unit": "in"})
    record_at(bench, "A/0003", member="F4", offset={"value": "0.0", "unit": "in"})
    made = issue_two()
    members = made["structures"][0]["members"]
    members[5]["name"], members[1]["name"] = "F2", "F6"
    told = checked(bench, made)
    [trouble] = told["troubles"]
    assert trouble["message"].endswith("stations: F6 from 144 to 48, F2 from 48 to 144.")
    assert {one["number"] for one in told["moved"]} == {"A/0001", "A/0002"}


def test_a_new_issue_may_not_take_the_number_of_another_airframe(bench):
    second = copy.deepcopy(DEFINITION) | {"constructor": "77"}
    new_airframe(bench.workshop, bench.new.lead, second)
    made = issue_two() | {"constructor": "77"}
    [trouble] = checked(bench, made)["troubles"]
    assert (trouble["at"], trouble["code"]) == ("constructor", "airframe_exists")
    assert "Another airframe" in refusal(lambda: issue(bench, made)).message
    issue(bench, made | {"constructor": "78"})


def test_a_record_at_a_member_that_went_meanwhile_is_seen_and_named(bench):
    made = issue_two()
    del made["structures"][0]["members"][5]
    issue(bench, made)
    record_at(bench)
    record_at(bench, "A/0002", to={"member": "F6"}, member="F5")
    rows = {row["number"]: row for row in list_defects(bench.workshop, {})}
    words = "Hull · Port · F6 (no longer in the definition) + 15.0 aft · K–B1"
    assert rows["A/0001"]["place_words"] == words
    assert (rows["A/0001"]["zone"], rows["A/0001"]["station"]) == (None, None)
    assert "to F6 (no longer in the definition)" in rows["A/0002"]["place_words"]
    # A second entry makes the row the long way; it reads the same.
    bench.push(bench.tablet("tabletb9").defect("defect-A/0001", note="again"))
    assert defects_numbered(bench.workshop, "A0001")[0]["place_words"] == words
    made["issue"] = "3"
    [trouble] = checked(bench, made)["troubles"]
    assert (trouble["code"], trouble["weight"]) == ("not_in_issue", "said")
    told = "A/0001, A/0002 stand at F6, which this issue does not have."
    assert trouble["message"] == told
    issue(bench, issue_two() | {"issue": "4"})
    assert "Hull · Port · F6 + 15.0" in defects_numbered(bench.workshop, "A0001")[0]["place_words"]


def test_a_bench_that_no_definition_has_is_said(bench):
    values = {"airframe": bench.new.airframe, "place": {"off": "Bench 9", "part": "Strut, port"}}
    bench.push(bench.tablet().defect("defect-9", number="A/0009", **values))
    [trouble] = checked(bench, issue_two())["troubles"]
    assert (trouble["at"], trouble["weight"]) == ("off_aircraft", "said")
    told = "A/0009 stands at the place off the aircraft Bench 9, which this issue does not have."
    assert trouble["message"] == told
    issue(bench, issue_two())


@pytest.mark.parametrize("state", ["live", "raised in error"])
def test_a_member_that_a_record_names_may_not_disappear(bench, state):
    record_at(bench)
    if state != "live":
        move = {"move": "raised in error", "to": "Raised in error"}
        bench.push(bench.tablet("tabletb2").defect("defect-A/0001", state=move))
    made = issue_two()
    del made["structures"][0]["members"][5]
    told = refusal(lambda: issue(bench, made))
    assert told.message == "The member F6 of Hull may not disappear: A/0001 names it."


def test_members_of_looks_and_stages_may_not_disappear(bench):
    tablet = bench.tablet()
    survey = {"title": "SV-1", "airframe": bench.new.airframe}
    cell = {"structure": "Hull", "hand": "P", "bay": ["F2", "F3"], "strakes": ["K", "B1"]}
    area = [{"structure": "Hull", "members": ["F7", "F8"]}]
    relies = [bench.role_entry]
    bench.push(
        tablet.write(
            Draft("survey-1", "survey", survey),
            Draft("look-1", "coverage", {"survey": "survey-1", "cell": cell}),
            Draft("stage-1", "stage", {"title": "Stage 3", "area": area}, relies=relies),
        )
    )
    for at, who in ((1, "the coverage of SV-1 names it"), (6, "Stage 3 names it")):
        made = issue_two()
        del made["structures"][0]["members"][at]
        assert refusal(lambda made=made: issue(bench, made)).message.endswith(f"{who}.")
    made = issue_two()
    del made["structures"][0]["members"][3]
    issue(bench, made)


def test_a_structure_that_goes_is_told_once(bench):
    record_at(bench)
    made = issue_two()
    made["structures"][0]["name"] = "Shell"
    for zone in made["zones"]:
        zone["structure"] = "Shell"
    told = check_definition(bench.workshop, bench.new.lead, made, bench.new.airframe)
    [lost] = [one for one in told["troubles"] if one["code"] == "still_named"]
    assert lost["message"] == "The structure Hull may not disappear: A/0001 names it."
    assert told["moved"][0]["now"] == "no place any more"
