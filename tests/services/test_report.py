"""The zone report of the demo book, from the log to paper."""

import io
import re
import shutil

import pytest
from pypdf import PdfReader
from skinpin.app import open_workshop
from skinpin.domain.errors import Refused
from skinpin.services.airframes import find_airframe
from skinpin.services.enrolment import enrol, give_code
from skinpin.services.people import list_people
from skinpin.services.push import need_book, push
from skinpin.services.report import report_zone
from skinpin.settings import read_settings
from skinpin_sync.chain import Draft

from tests.benches import Tablet, body_of, new_key
from tests.papers import pages_of
from tests.ready_book import ready_book
from tests.services.books import open_demo


def test_zone_111_has_its_two_defects_and_the_second_sighting(demo):
    front, first, second, last = pages_of(report_zone(demo, "111"))
    assert "24 of 28 cells" in front
    assert "SV-1 2025-03-08 Inspector 1, tablet A" in front
    assert "SV-5 2025-09-06 Inspector 2, tablet B" in front
    assert "Same as A/0002" in front
    assert "not issued yet A/0002 · B/0015" in front
    assert "Cleared 2025-07-12" in front
    assert "INSPECTED 12 inspector 2025-07-12" in first
    assert "A/0002 2025-03-08 B/0015 2025-09-06" in second
    assert "18.8 %" in second
    assert "AL4 loss 17.2 % > 10 % of 0.064 in" in second
    assert "B/0015: Raised by Inspector 2 (12)" in second
    assert "Fingerprint of the values (SHA-256)" in second


def test_a_survey_is_named_only_where_it_covered_something(demo):
    front, *_ = pages_of(report_zone(demo, "221"))
    assert "SV-1" not in front
    assert "SV-3 2025-06-21 Inspector 1, tablet A" in front
    assert "64 of 64 cells" in front
    assert "Crack 0.81 ± 0.03 in long" in front
    assert "5 Issues" in front


def test_a_zone_nobody_could_look_at_says_why(demo):
    front, _ = pages_of(report_zone(demo, "131"))
    assert "0 of 36 cells" in front
    assert "Nothing in it was looked at." in front


@pytest.mark.parametrize(
    ("zone", "title"),
    [
        ("310", "FIN, SEEN FROM PORT, TOP TO THE RIGHT"),
        ("332", "STARBOARD TAILPLANE, SEEN FROM ABOVE"),
        ("722", "STARBOARD FLOAT, SEEN FROM STARBOARD"),
        ("731", "ALIGHTING GEAR, EITHER HAND, DOWN, INBOARD TO THE RIGHT"),
    ],
)
def test_a_smaller_structure_is_shown_on_its_own_view(demo, zone, title):
    front, sheet, *_ = pages_of(report_zone(demo, zone))
    assert title in front
    assert "FWD" in sheet


def test_the_pictures_of_a_defect_are_renditions_not_originals(demo):
    page = PdfReader(io.BytesIO(report_zone(demo, "232"))).pages[1]
    sizes = sorted(picture.image.size for picture in page.images)
    assert sizes == [(1000, 750), (1000, 750)]


def test_a_picture_that_is_gone_is_named_and_the_report_still_comes(demo, tmp_path):
    folder = tmp_path / "book"
    shutil.copytree(ready_book(), folder)
    shutil.rmtree(folder / "photographs" / "renditions", ignore_errors=True)
    opened = open_workshop(read_settings(folder, {}))
    for path in (folder / "photographs").rglob("*"):
        if path.is_file() and path.read_bytes()[:3] == b"\xff\xd8\xff":
            path.unlink()
    text = " ".join(pages_of(report_zone(opened, "232")))
    opened.close()
    assert "Photograph, wide: is not on this server yet." in text


def test_a_zone_that_is_not_in_the_definition_is_refused_with_those_that_are(demo):
    with pytest.raises(Refused, match="no zone 999") as refused:
        report_zone(demo, "999")
    assert "111, 112" in refused.value.hint


def test_another_airframe_is_refused(demo):
    with pytest.raises(Refused, match="0 airframes"):
        report_zone(demo, "111", "2605")


@pytest.mark.parametrize("zone", ["111", "221", "232", "310"])
def test_no_sentence_prints_the_id_of_a_record(demo, zone):
    text = " ".join(pages_of(report_zone(demo, zone)))
    assert re.findall(r"\b(?=[0-9a-z]*[0-9])[0-9a-z]{26}\b|\b[0-9]{13}-[0-9a-f]{4}\b", text) == []


def test_days_are_those_of_corrected_time_whatever_the_tablet_shows(tmp_path):
    opened = open_demo(tmp_path / "book")
    with opened.reading() as connection:
        lead = next(one for one in list_people(connection, "2025-11-03") if one.role == "lead")
        book, airframe = need_book(connection).id, find_airframe(opened, connection, "2603").record
    done = enrol(opened, give_code(opened, lead.person), new_key())
    tablet = Tablet(done.device, done.token, book, lead.person, lead.role_entry, "tabletz1")
    place = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["B1"]}
    state = {"move": "new", "to": "Draft"}
    more = {"place": place | {"precision": "bay only"}, "airframe": airframe}
    values = {"state": state, "number": "C/0001", "kind": "crack", **more}
    tablet.wall = "2026-11-25T08:15:30+00:00"
    [(begun, line)] = tablet.defect("new-one", **values)
    seen = {name: [begun.id] for name in ("state", "place", "kind")}
    values = {"state": {"move": "raise", "to": "Raised"}, "no_photograph": "lamp failed"}
    raised = tablet.write(Draft("new-one", "defect", values, seen, [lead.role_entry]))
    push(opened, book, body_of([line, *(line for _, line in raised)]))
    text = " ".join(pages_of(report_zone(opened, "111")))
    opened.close()
    assert "C/0001" in text
    assert re.search(
        r"2025-11-03 \d\d:\d\d Raised; reason for no photograph lamp failed by Lead", text
    )
    assert "2026-11-25" not in text


def test_a_look_outside_any_survey_is_named_with_its_day_and_person(tmp_path):
    opened = open_demo(tmp_path / "book")
    with opened.reading() as connection:
        lead = next(one for one in list_people(connection, "2025-11-03") if one.role == "lead")
        book = need_book(connection).id
    done = enrol(opened, give_code(opened, lead.person), new_key())
    tablet = Tablet(done.device, done.token, book, lead.person, lead.role_entry, "tabletz2")
    front, *_ = pages_of(report_zone(opened, "131"))
    assert "Without a survey" not in front
    cell = {"structure": "Hull", "hand": "P", "bay": ["F15", "F16"], "strakes": ["K", "B1"]}
    values = {"cell": cell, "looked_at": True, "method": "eye"}
    relies = [lead.role_entry]
    # A look at another airframe, which has a Hull and an F16 as well.
    survey = {"title": "SV-99", "airframe": "airframe-2", "date": "2025-11-03"}
    elsewhere = {**values, "survey": "survey-2", "cell": {**cell, "bay": ["F16", "F17"]}}
    lines = [
        *tablet.write(Draft("look-1", "coverage", values, relies=relies)),
        *tablet.write(Draft("survey-2", "survey", survey, relies=relies)),
        *tablet.write(Draft("look-2", "coverage", elsewhere, relies=relies)),
    ]
    push(opened, book, body_of([line for _, line in lines]))
    front, *_ = pages_of(report_zone(opened, "131"))
    opened.close()
    assert "1 of 36 cells" in front
    assert "2025-11-03 Lead, tablet" in front
    assert "Without a survey 2025-11-03 Lead" in front
    assert "SV-99" not in front


def test_the_finder_is_named_beside_who_raised_it_and_an_overrule_is_no_disposition(tmp_path):
    opened = open_demo(tmp_path / "book")
    with opened.reading() as connection:
        people = list_people(connection, "2025-11-03")
        book, airframe = need_book(connection).id, find_airframe(opened, connection, "2603").record
    lead = next(one for one in people if one.role == "lead")
    finder = next(one for one in people if one.role == "inspector")

    def tablet_of(person, writer):
        done = enrol(opened, give_code(opened, lead.person), new_key())
        return Tablet(done.device, done.token, book, person.person, person.role_entry, writer)

    first, second = tablet_of(finder, "tablety1"), tablet_of(lead, "tablety2")
    place = {"structure": "Hull", "hand": "P", "member": "F6", "strakes": ["B1"]}
    values = {"state": {"move": "new", "to": "Draft"}, "number": "C/0001", "kind": "crack"}
    values |= {"place": place | {"precision": "bay only"}, "airframe": airframe}
    [(begun, line)] = first.defect("new-one", reaches_edge=True, **values)
    seen = {name: [begun.id] for name in ("state", "place", "kind")}
    values = {"state": {"move": "raise", "to": "Raised"}, "no_photograph": "lamp failed"}
    raised = second.write(Draft("new-one", "defect", values, seen, [lead.role_entry]))
    push(opened, book, body_of([line, *(line for _, line in raised)]))
    grade = Draft(
        "new-one", "defect", {"overrule": {"grade": 3}}, {}, [lead.role_entry], why="seen"
    )
    said = {"defect": "new-one", "act": "DISPOSITION", "number": "01", "person": lead.person}
    said |= {"date": "2025-11-03", "list": {"count": 1, "sha256": "0" * 64}}
    decided = second.write(grade, Draft("stamp-1", "stamp", said, {}, [lead.role_entry]))
    push(opened, book, body_of(line for _, line in decided))
    pages = pages_of(report_zone(opened, "111"))
    sheet = next(one for one in pages if "C/0001" in one and "Decided and stamped" in one)
    opened.close()
    day = r"\d{4}-\d\d-\d\d"
    assert re.search(rf"found by {finder.name} {day}, raised by {lead.name} {day}", sheet)
    assert "OVERRULE" in sheet
    assert "DISPOSITION" not in sheet
    assert "disposition stamp, lead" in sheet
    assert "stamp shown, not electronically signed" in sheet
    assert re.search(r"reaches an edge\s+yes", sheet)
