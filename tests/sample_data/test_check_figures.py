"""The demo as loaded has the scenario's figures: every sum that a screen or export can show."""

from collections import Counter
from datetime import date
from statistics import median

from skinpin.domain.place import zone_of
from skinpin.reports.cells import Grid, looked_at
from skinpin.services.push import need_book
from skinpin.storage.records import records_of_kind
from skinpin.storage.shelf import LogShelf
from skinpin_demo.definition import definition
from sqlalchemy import true

from tests.ready_book import DEMO_TODAY

from .scenario import RECORDS, ZONES

OPEN = ("Raised", "Assessed", "In work", "Offered", "Deferred")
TODAY = date.fromisoformat(DEMO_TODAY)


def still_open(rows):
    return [row for row in rows.values() if row["state"] in OPEN]


def live(rows):
    aside = ("Same as", "Raised in error")
    return [row for row in rows.values() if row["state"] not in aside and row["kind"] != "nil"]


def by_grade(rows):
    return dict(sorted(Counter(row["grade"] for row in rows).items()))


def test_grade_rules_state_stage_and_zone_of_every_record_are_the_scenarios(rows):
    told = {
        number: (
            row["grade"],
            [fired["rule"] for fired in row["fired"] if fired["deciding"]],
            row["state"],
            row["stage"],
            row["zone"],
            row["independent"],
        )
        for number, row in rows.items()
    }
    assert told == RECORDS


def test_only_the_record_not_yet_cleaned_has_a_grade_that_is_not_known(rows):
    assert [number for number, row in rows.items() if not row["grade_known"]] == ["B/0017"]
    assert rows["B/0017"]["grade_words"] == "Grade at least 2 ?"


def test_records_are_45_and_34_of_them_open(rows):
    states = Counter(row["state"] for row in rows.values())
    assert len(rows) == 45
    assert len(still_open(rows)) == 34
    assert states == {
        "Raised": 10,
        "Assessed": 9,
        "In work": 9,
        "Offered": 3,
        "Deferred": 3,
        "Cleared": 9,
        "Same as": 1,
        "Raised in error": 1,
    }


def test_grades_of_live_sightings_and_of_open_records(rows):
    assert by_grade(live(rows)) == {1: 6, 2: 12, 3: 16, 4: 8}
    assert by_grade(still_open(rows)) == {1: 1, 2: 9, 3: 16, 4: 8}


def test_ages_of_open_records(rows):
    days = [(TODAY - date.fromisoformat(row["raised_on"])).days for row in still_open(rows)]
    bands = [(0, 30), (31, 90), (91, 180), (181, 9999)]
    counts = [sum(low <= each <= high for each in days) for low, high in bands]
    assert counts == [5, 3, 10, 16]


def test_kinds_of_the_42_live_sightings(rows):
    kinds = Counter(row["kind"] for row in live(rows))
    assert sum(kinds.values()) == 42
    common = {kind: count for kind, count in kinds.items() if count > 1}
    assert common == {
        "pitting": 11,
        "surface corrosion": 6,
        "loose rivets": 4,
        "crack": 2,
        "dent": 2,
        "leak": 2,
        "wrong part": 2,
    }
    assert sorted(kind for kind, count in kinds.items() if count == 1) == [
        "chafing",
        "crevice corrosion",
        "elongated hole",
        "exfoliation",
        "fabric",
        "filiform",
        "galvanic corrosion",
        "gouge",
        "intergranular",
        "missing part",
        "paint",
        "score",
        "sheared rivets",
    ]


def test_days_to_clear_have_the_median_63(workshop, rows):
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).kept(true())
    cleared = {
        one.entry.record: one.entry.wall[:10]
        for one in kept
        if one.entry.kind == "defect" and one.entry.set.get("state", {}).get("to") == "Cleared"
    }
    days = sorted(
        (date.fromisoformat(cleared[row["record"]]) - date.fromisoformat(row["raised_on"])).days
        for row in live(rows)
        if row["state"] == "Cleared"
    )
    assert days == [0, 7, 14, 56, 70, 77, 77, 126]
    assert median(days) == 63


def test_every_zone_has_its_open_records(rows):
    open_in = Counter(row["zone"] for row in still_open(rows))
    assert {zone: open_in[zone] for zone in ZONES} == {z: row[2] for z, row in ZONES.items()}
    assert sum(open_in.values()) == 34


def coverage_of(workshop):
    with workshop.reading() as connection:
        found = records_of_kind(connection, "coverage")
    return [
        {name: value for fields in one.standing.values.values() for name, value in fields.items()}
        for one in found
    ]


def test_cells_looked_at_are_502_of_916_and_each_zone_has_its_own(workshop):
    coverage, counts, reasons = coverage_of(workshop), {}, {}
    for rule in definition()["zones"]:
        if rule["zone"] not in ZONES or "cells" not in rule:
            continue
        grid = Grid(definition(), rule)
        seen, why = looked_at(grid, coverage)
        cells, looked = counts.get(rule["zone"], (0, 0))
        counts[rule["zone"]] = (cells + len(grid.cells()), looked + len(seen))
        reasons.setdefault(rule["zone"], set()).update(why.values())
    wanted = {zone: row for zone, row in ZONES.items() if zone != "120"}
    assert counts == {zone: row[:2] for zone, row in wanted.items()}
    assert reasons == {zone: {row[3]} - {""} for zone, row in wanted.items()}
    assert sum(cells for cells, _ in counts.values()) == 916
    assert sum(looked for _, looked in counts.values()) == 502


def test_no_cell_is_covered_twice_in_one_survey_and_all_lie_on_the_airframe(workshop):
    coverage = coverage_of(workshop)
    assert len({(one["survey"], str(one["cell"])) for one in coverage}) == len(coverage)
    for one in coverage:
        cell = one["cell"]
        place = {**cell, "member": cell["bay"][0], "strakes": cell.get("strakes")}
        assert zone_of(definition(), place) in ZONES


def test_deferrals_name_their_stage_limit_and_authority(rows):
    told = {number: row["deferral"] for number, row in rows.items() if row["state"] == "Deferred"}
    assert {number: one["look_again_by"] for number, one in told.items()} == {
        "A/0012": "2026-02-28",
        "A/0013": "2026-03-31",
        "A/0018": "2025-12-31",
    }
    assert {one["authority"] for one in told.values()} == {"Lead"}
    limits = {number: (one["to_stage"], one["limit"]) for number, one in told.items()}
    assert limits == {
        "A/0012": ("Stage 4", "no limit"),
        "A/0013": ("Stage 4", "no limit"),
        "A/0018": ("Stage 2", "250 psi"),
    }


def test_what_lies_aside_says_why(workshop, rows):
    assert rows["B/0015"]["same_as_number"] == "A/0002"
    assert rows["A/0019"]["disposition"] == "Accept as is"
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).of_records(
            [rows["B/0016"]["record"]]
        )
    reasons = [one.entry.why for one in kept if one.entry.why]
    assert reasons == ["wrong hand entered: A/0011 is starboard"]


def test_what_is_raised_has_at_most_a_disposition_proposed(workshop, rows):
    raised = {row["record"]: row for row in rows.values() if row["state"] == "Raised"}
    assert {row["disposition"] for row in raised.values()} == {None}
    with workshop.reading() as connection:
        kept = LogShelf(connection, need_book(connection).seq).of_records(list(raised))
    proposed = {
        raised[one.entry.record]["number"]: one.entry.set["proposed"]
        for one in kept
        if "proposed" in one.entry.set
    }
    assert proposed == {
        "A/0010": "Replace part",
        "B/0004": "Repair by patch",
        "B/0009": "Re-rivet oversize",
        "A/0016": "Repair by insertion",
        "B/0017": "Look again",
        "B/0018": "Re-rivet oversize",
        "A/0021": "Clean, treat and reprotect",
        "A/0025": "Refer to design authority",
        "A/0026": "Repair by insertion",
    }
