"""*Accept* is judged by the grade that its named values truly have under the pinned standard."""

from pathlib import Path

import pytest
from skinpin.services.photographs import keep_bytes
from skinpin.storage.verdicts import read_verdict
from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import Draft
from sqlalchemy import text

from tests.benches import open_bench, set_up

STANDARD = Path(__file__).parents[2] / "sample_data/skinpin_demo/data/standard_qs7.json"
QS7 = STANDARD.read_bytes()
PIN = {"name": "QS-7", "issue": "1", "sha256": sha256_hex(QS7)}


def inches(value):
    return {"value": value, "unit": "in"}


PITTING = {"kind": "pitting", "material": "AL", "thickness": inches("0.064"), "cleaned": "yes"}
LIGHT = PITTING | {
    **{"depth": inches("0.0005"), "perforated": False, "fastener": False, "blistered": False},
    **{"highly_stressed": False, "length": inches("0.2"), "panel_percent": "1"},
}


@pytest.fixture
def bench(tmp_path):
    made = set_up(open_bench(tmp_path))
    yield made
    made.workshop.close()


LOOSE = {"kind": "loose rivets", "material": "AL", "run": 1}
RIVETS = {"head": "470", "diameter": "1/8", "alloy": "2117"}
LINE = {"defect": "X", "design": RIVETS | {"sheets": [{"thickness": inches("0.064")}]}}


def accepted(bench, found, line=None, **more):
    """Write a record from draft to accepted as is, naming every value, and return the last id."""
    tablet = bench.tablet()
    role = tablet.role_entry
    lines = tablet.write(Draft("R", "rivet_line", line)) if line else []
    bench.push(lines)
    rests_on = [role, *(entry.id for entry, _ in lines)]
    [new] = tablet.defect("X", number="A/0001", state={"move": "new", "to": "Draft"}, **found)
    place = {"member": "F6"}
    last, named = new[0], {field: [new[0].id] for field in found}
    bench.push([new])
    for values in (
        {
            **{"state": {"move": "raise", "to": "Raised"}, "no_photograph": "lamp failed"},
            **{"place": place, "standard": PIN},
        },
        {
            "state": {"move": "assess", "to": "Assessed"},
            **{"disposition": "Accept as is", "reason": "light"},
        },
    ):
        seen = {"state": [last.id], "kind": [new[0].id]}
        written = tablet.write(Draft("X", "defect", values, seen, [role]))
        bench.push(written)
        last = written[0][0]
        named |= {field: [last.id] for field in values}
    stamp = {"defect": "X", "act": "DISPOSITION", "number": "01", "person": tablet.by}
    stamp |= {"date": "2025-11-03", "list": {"count": 1, "sha256": "ab" * 32}}
    seen = {field: ids for field, ids in named.items() if field != "reason"}
    written = tablet.write(
        Draft("X", "defect", {"state": {"move": "accept", "to": "Cleared"}} | more, seen, rests_on),
        Draft("T", "stamp", stamp, {}, [role]),
    )
    bench.push(written)
    return written[0][0].id


def verdict_on(bench, id):
    with bench.workshop.reading() as connection:
        asked = text("SELECT verdict FROM entry WHERE id = :id")
        verdict = read_verdict(connection.execute(asked, {"id": id}).scalar_one())
    return verdict.result, verdict.code


def test_a_light_record_is_accepted_without_an_authority(bench):
    keep_bytes(bench.workshop, QS7)
    assert verdict_on(bench, accepted(bench, LIGHT)) == ("counts", "")


@pytest.mark.parametrize(
    "found",
    [
        LIGHT | {"perforated": True},
        {field: value for field, value in LIGHT.items() if field != "depth"},
        LIGHT | {"cleaned": "not yet"},
        {"kind": "a kind of another version", "material": "AL"},
    ],
    ids=["grade 4", "could be 4", "taken through product", "no row of the standard"],
)
def test_one_that_may_be_of_grade_4_is_not_unless_an_authority_is_named(bench, found):
    keep_bytes(bench.workshop, QS7)
    assert verdict_on(bench, accepted(bench, found)) == ("does not count", "needs")


@pytest.mark.parametrize(
    ("found", "verdict"),
    [
        ("LSSSSSSS", ("counts", "")),
        ("LSLSLSLL", ("does not count", "needs")),
        ("LNNNNNNN", ("does not count", "needs")),
        ("?", ("does not count", "needs")),
    ],
    ids=["87.5 % left", "37.5 % left", "0 % of what was reached left", "not to be read"],
)
def test_a_rivet_line_relied_on_is_judged_with_the_record(bench, found, verdict):
    keep_bytes(bench.workshop, QS7)
    line = LINE | {"as_found": found}
    assert verdict_on(bench, accepted(bench, LOOSE, line)) == verdict


def test_an_authority_named_is_enough(bench):
    keep_bytes(bench.workshop, QS7)
    found = LIGHT | {"perforated": True}
    assert verdict_on(bench, accepted(bench, found, authority="DA-12")) == ("counts", "")


def test_it_waits_until_the_file_of_the_standard_is_here(bench):
    id = accepted(bench, LIGHT)
    assert verdict_on(bench, id) == ("waits", "standard")
    keep_bytes(bench.workshop, QS7)
    assert verdict_on(bench, id) == ("counts", "")
