"""A record of one capture has the row that the long way makes of it."""

import json
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import FIELDS
from skinpin.domain.projection import defect_row
from skinpin.domain.projection_first import FIRST_FIELDS
from skinpin.domain.projection_related import Related
from skinpin.domain.same_as import Other
from skinpin.domain.verdicts import COUNTS
from skinpin_sync.entry import make_entry
from skinpin_sync.standing import Standing

DATA = Path(__file__).parents[2] / "sample_data/skinpin_demo/data"
DEFINITION = json.loads((DATA / "definition_2603.json").read_text("utf-8"))
STANDARD = json.loads((DATA / "standard_qs7.json").read_text("utf-8"))
ELSEWHERE = {"elsewhere": Other("A/0001", "Draft", (), "Draft")}
"""A chain that the record is no part of: with it a row is made the long way."""

lengths = st.sampled_from(
    [{"value": "2.0", "unit": "in"}, {"value": "-1", "unit": "mm"}, {"value": "x"}, "not measured"]
) | st.just({"value": "2", "unit": "in", "copied_from": "A/0001"})
places = st.fixed_dictionaries(
    {"structure": st.sampled_from(["Hull", "Fin", 7])},
    optional={
        "hand": st.sampled_from(["P", "S", "C", "Q"]),
        "member": st.sampled_from(["F1", "F6", "F22", "no such", None]),
        "offset": lengths,
        "to": st.sampled_from([None, {"member": "F7"}, {"member": "F9", "offset": "2"}]),
        "strakes": st.sampled_from([["K"], ["B3", "C"], ["?"], [], "K", None]),
        "face": st.sampled_from(["inner", "", 1]),
        "precision": st.sampled_from(["exact", "bay only"]),
    },
)
odd = st.sampled_from([None, "", "A/0017", "pitting", "nil", "Stage 2", True, False, 3, [], {}])
deferrals = st.sampled_from([{"look_again_by": "2026-01-01"}, {"grade": 3}])
values = odd | lengths | places | deferrals
plain = sorted(FIRST_FIELDS - {"place"})
others = sorted(set(FIELDS["defect"]) - FIRST_FIELDS - {"state"})
fields = st.fixed_dictionaries(
    {"place": places | odd}, optional=dict.fromkeys([*plain, "unknown_here"], values)
)
more = st.dictionaries(st.sampled_from(others), values, max_size=1)


def entry_of(given):
    words = {"by": "p", "device": "A", "wall": "2025-11-03T08:15:30+00:00", "schema": 1}
    id = "1762157730249-0000-tableta1"
    return make_entry(id=id, n=1, act=("a", 1), record="X", kind="defect", set=given, **words)


def both_ways(given, documents=(None, None), is_shared=False):
    entry = entry_of(given)
    return [
        defect_row(
            "X",
            Standing({entry.id: given}),
            Related([(entry, COUNTS)], number_shared=is_shared, others=others),
            *documents,
        )
        for others in ({}, ELSEWHERE)
    ]


@settings(deadline=None, max_examples=400, print_blob=True)
@given(fields, more, st.booleans(), st.booleans())
def test_both_ways_make_one_row(given, more, has_documents, is_shared):
    documents = (DEFINITION, STANDARD) if has_documents else (None, None)
    short, long = both_ways({**given, **more}, documents, is_shared)
    assert short == long
    assert list(short) == list(long)


def test_a_record_of_other_fields_goes_the_long_way(monkeypatch):
    monkeypatch.setattr("skinpin.domain.projection.first_row", lambda *given: "the short way")
    short, long = both_ways({"number": "A/0017"})
    assert (short, long["number"]) == ("the short way", "A/0017")
    assert [row["number"] for row in both_ways({"number": "A/0017", "unknown_here": 1})] == [
        "A/0017",
        "A/0017",
    ]
