"""Whatever an entry holds, it is judged, projected and told; nothing is raised."""

import json
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import FIELDS, counted_fields
from skinpin.domain.history import history
from skinpin.domain.ledger import judge_all
from skinpin.domain.permissions import MOVES, STATES
from skinpin.domain.projection import defect_row
from skinpin.domain.projection_related import Related
from skinpin.domain.verdicts import Known
from skinpin_sync.standing import standing

DATA = Path(__file__).parents[2] / "sample_data/skinpin_demo/data"
DEFINITION = json.loads((DATA / "definition_2603.json").read_text("utf-8"))
STANDARD = json.loads((DATA / "standard_qs7.json").read_text("utf-8"))
WORDS = [
    *STATES,
    "P",
    "Hull",
    "F6",
    "in",
    "0.011",
    "not measured",
    "nil",
    "e1",
    "Y",
    "",
    "__proto__",
]
KEYS = [
    "move",
    "to",
    "undoes",
    "value",
    "unit",
    "member",
    "role",
    "upto",
    "count",
    "sha256",
    "grade",
    "structure",
    "hand",
    "offset",
    "strakes",
    "to",
    "look_again_by",
]
scalars = st.sampled_from([None, True, False, 0, 1, -7, 2**53 - 1, *WORDS])
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner),
    max_leaves=6,
)
moves = st.fixed_dictionaries(
    {"move": st.sampled_from([row["move"] for row in MOVES]) | values, "to": scalars},
    optional={"undoes": st.sampled_from(["@e0", "@e1", "@e2"]) | values},
)
names = st.lists(st.sampled_from([f"@e{n}" for n in range(8)]), min_size=1, max_size=3)


@st.composite
def rows(draw):
    made = []
    for place in range(draw(st.integers(1, 7))):
        kind = draw(
            st.sampled_from(["defect", "defect", "stamp", "person", "photograph", "bracket"])
        )
        fields = [*FIELDS.get(kind, {}), "colour"]
        given_values = draw(st.dictionaries(st.sampled_from(fields), values, max_size=4))
        if kind == "defect" and draw(st.booleans()):
            given_values["state"] = draw(moves)
        made.append(
            {
                "name": f"e{place}",
                "by": draw(st.sampled_from(["lead", "inspector-1", "nobody"])),
                "record": draw(st.sampled_from(["X", "Y"])),
                "kind": kind,
                "set": given_values,
                "seen": draw(st.dictionaries(st.sampled_from(fields), names, max_size=3)),
                "relies": draw(names) if draw(st.booleans()) else [],
                "role": draw(st.sampled_from([None, "@role-lead", "@role-inspector-1"])),
                "act": draw(st.sampled_from(["a", f"e{place}"])),
                "why": draw(st.sampled_from([None, "x"])),
            }
        )
    return made


@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(made=rows())
def test_any_entry_is_judged_projected_and_told(book_of, made):
    role = {"role": {"role": "lead", "from": "2025-03-01"}}
    first = {"by": "lead", "act": "set-up", "role": None}
    setup = [
        first | {"name": "book", "record": "book", "kind": "book", "set": {"unit": "in"}},
        first | {"name": "role-lead", "record": "lead", "kind": "person", "set": role},
    ]
    entries = book_of([*setup, *made]).entries
    judged = judge_all(entries, Known({}))
    assert set(judged.verdicts) == {entry.id for entry in entries}
    pairs = [(entry, judged.verdicts[entry.id]) for entry in entries]
    mine = [entry for entry in entries if entry.record == "X"]

    def counts(entry):
        return counted_fields(entry, judged.verdicts[entry.id].counts, False)

    related = Related(
        entries=[pair for pair in pairs if pair[0].record == "X"],
        stamps=[pair for pair in pairs if pair[0].kind == "stamp"],
        withdrawn=judged.withdrawn,
        photographs={"P": standing(mine, counts).values},
    )
    for documents in ((None, None), (DEFINITION, STANDARD)):
        row = defect_row("X", standing(mine, counts), related, *documents)
        assert json.loads(json.dumps(row))["record"] == "X"
    lines = history(pairs, {}, withdrawn=judged.withdrawn)
    assert [line["entry"] for line in lines] == [entry.id for entry in entries]
