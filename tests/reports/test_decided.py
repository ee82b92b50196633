"""What was decided, in the words of the sheet."""

import pytest
from skinpin.reports.decided import (
    decided_lines,
    deferral_words,
    found_words,
    graded_words,
    is_overdue,
    limit_words,
    overruled_words,
    state_words,
)

from tests.reports.ready import inches, record, row

TODAY = "2025-11-03"


def deferred(**given):
    one = record("A/0018")
    one["row"] |= {"state": "Deferred", "deferral": given}
    return one


def test_disposition_and_stage_stand_on_one_line_while_it_is_open():
    one = record("A/0002")
    assert decided_lines(one, TODAY) == ["Repair by patch · blocks Stage 3"]
    one["row"] |= {"state": "Cleared"}
    assert decided_lines(one, TODAY) == ["Repair by patch"]
    one["row"] |= {"disposition": None}
    assert decided_lines(one, TODAY) == ["Not decided yet"]


def test_the_authority_has_its_line():
    one = record("A/0002", {"authority": ["DA-7/3"]})
    assert decided_lines(one, TODAY)[-1] == "Design authority: DA-7/3."


@pytest.mark.parametrize(
    ("day", "words", "is_late"),
    [
        ("2025-11-04", "look again by 2025-11-04, 1 day to go", False),
        ("2025-11-03", "look again by 2025-11-03, 0 days to go", False),
        ("2025-11-02", "look again by 2025-11-02, OVERDUE by 1 day", True),
        ("soon", "look again by soon", False),
        (None, "no day to look again", False),
    ],
)
def test_a_deferral_says_how_long_it_holds(day, words, is_late):
    one = deferred(to_stage="Stage 2", authority="Lead", look_again_by=day, limit=inches("0.9"))
    told = deferral_words(one, TODAY)
    assert f"Deferred to Stage 2; authority Lead; {words}; limit: 0.9 in." in told
    assert is_overdue(one, TODAY) is is_late


def test_what_is_left_out_of_a_deferral_is_said():
    told = deferral_words(deferred(), TODAY)
    assert "no stage or date; authority not named; no day to look again; limit: not given" in told
    assert limit_words({"value": 3}) == "not given"


def test_an_overruled_grade_names_the_one_it_had():
    changed = row("A/0002", overruled={"from": 4, "to": 3}, grade_words="Grade 3")
    assert graded_words(changed) == "Grade 3 (assessed 4)"
    assert graded_words(row("A/0002", overruled={"from": None})) == "Grade 3"
    assert state_words("Offered") == "Offered for inspection"


def test_an_overruled_grade_says_who_when_why_and_what_the_standard_gives():
    one = record("A/0016")
    assert overruled_words(one) == ""
    one["row"] |= {
        "grade_words": "Grade 3",
        "deciding": "AL5: loss 57.1 %",
        "overruled": {"from": 4, "from_words": "Grade 4", "to": 3},
    }
    one["overruled"] = {"date": "2025-11-03", "why": "Walkway edge doubler carries it."}
    assert overruled_words(one) == (
        "Grade 3, overruled by the lead 2025-11-03: Walkway edge doubler carries it"
        " · the standard gives Grade 4 (AL5: loss 57.1 %)."
    )
    one["overruled"] = {}
    assert "overruled by the lead: no reason given" in overruled_words(one)


def test_who_found_and_who_raised_are_named_where_they_are_two_people():
    told = {"found_by": "Inspector 1", "found_on": "2025-11-02"}
    told |= {"raised_by": "Inspector 2", "raised_on": "2025-11-03"}
    said = "found by Inspector 1 2025-11-02, raised by Inspector 2 2025-11-03"
    assert found_words(record("D/0003", found_by=told)) == said
    assert found_words(record("D/0003", found_by={})) == found_words(record("D/0003")) == ""
