"""The last sheets: what is deferred, listed, named, and the hash."""

from skinpin.reports.back import back
from skinpin.reports.lettering import TITLE_MM, width_mm

from tests.reports.ready import ready, record


def deferred(number, day, **more):
    one = record(number)
    given = {"to_stage": "Stage 4", "authority": "Lead", "look_again_by": day, "limit": "no limit"}
    one["row"] |= {"state": "Deferred", "deferral": given | more}
    return one


def photograph(**changes):
    plain = {"role": "close", "taken": "2025-03-08T10:42:00", "by": "Inspector 1", "file": "a.jpg"}
    return plain | {"sha256": "ab" * 32} | changes


def test_the_deferred_come_by_day_and_the_overdue_says_so():
    told = back(ready([deferred("A/0002", "2026-02-28"), deferred("A/0001", "2025-10-31")]), [])
    first, second = told["deferred"]
    assert (first["number"], first["overdue"]) == ("A/0001", True)
    assert "OVERDUE by 3 days" in first["words"]
    assert (second["number"], second["overdue"]) == ("A/0002", False)
    assert "117 days to go" in second["words"]


def test_a_deferral_that_is_none_lists_nothing():
    one = record("A/0002")
    one["row"] |= {"state": "Deferred", "deferral": None}
    assert back(ready([one]), [])["deferred"] == []


def test_a_second_sighting_is_listed_once_with_its_photographs():
    same = record("B/0015", photographs=[photograph(by="Inspector 2")])
    one = record("A/0002", photographs=[photograph(taken=None, file=None)], same=[same])
    rows = back(ready([one, same]), [])["photographs"]
    assert [row[0] for row in rows] == ["A/0002", "B/0015"]
    assert rows[0][1:3] == ["close, not on this server yet", "time not known"]
    assert rows[1] == ["B/0015", "close", "2025-03-08 10:42", "Inspector 2", "ab" * 8]


def test_another_issue_that_a_record_was_graded_by_is_named():
    one = record("A/0002", standard={"name": "QS-7", "issue": "2"})
    assert "Graded by QS-7 issue 2: A/0002." in back(ready([one]), [])["standard"]


def test_only_words_that_the_sheets_use_are_explained():
    words = dict(back(ready(), [{"told": "a strake", "layout": "a bay"}])["words"])
    assert "strake" in words
    assert "bay" not in words


def test_the_title_has_one_line_in_its_block():
    for zone in ("112", "332", "732"):
        told = back(ready(zone=zone), [])
        assert width_mm(told["title"], told["title_size"], bold=True) <= TITLE_MM
