"""Who may set which field and make which move, walked in full against a table written by hand."""

import json
from itertools import combinations
from pathlib import Path

import pytest
from skinpin.domain.fields import FIELDS, ROLES, is_capture_field, stamped_fields
from skinpin.domain.moves import NEEDS, fields_to_see
from skinpin.domain.permissions import MOVES, STATES, may_move, may_set, moves_open

TABLE = json.loads((Path(__file__).parents[1] / "vectors/permissions.json").read_text("utf-8"))


@pytest.mark.parametrize("kind", FIELDS)
def test_every_field_may_be_set_by_whom_the_table_says(kind):
    assert set(FIELDS[kind]) == set(TABLE["fields"][kind])
    for field, who in TABLE["fields"][kind].items():
        for role in ROLES:
            assert may_set(role, kind, field) == (who == "any" or role in who), (field, role)
        assert is_capture_field(kind, field) == (who == "any"), field


def test_kinds_are_those_of_the_table():
    assert set(FIELDS) == set(TABLE["fields"])


@pytest.mark.parametrize("state", ["nothing", *STATES])
@pytest.mark.parametrize("role", ROLES)
def test_every_state_is_open_to_a_role_as_the_table_says(state, role):
    states = [] if state == "nothing" else [state]
    assert sorted(moves_open(role, states)) == sorted(TABLE["moves"][state][role])


@pytest.mark.parametrize("role", ROLES)
def test_of_two_or_more_states_only_the_lead_may_choose(role):
    for count in (2, 3, len(STATES)):
        for states in combinations(STATES, count):
            assert moves_open(role, states) == TABLE["moves"]["two or more"][role]


def test_no_clash_leaves_the_lead_without_a_move():
    for count in range(len(STATES) + 1):
        for states in combinations(STATES, count):
            assert moves_open("lead", states), states


@pytest.mark.parametrize("role", ROLES)
def test_a_role_may_make_a_move_where_some_state_lets_it(role):
    for move in {row["move"] for row in MOVES} - {"undo"}:
        told = any(move in by_role[role] for by_role in TABLE["moves"].values())
        assert may_move(role, move) == told, move


def test_every_need_of_a_move_is_one_that_is_asked():
    assert {need for row in MOVES for need in row["needs"]} == set(NEEDS)
    for row in MOVES:
        assert set(fields_to_see(row["move"])) <= set(FIELDS["defect"])


def test_stamps_are_made_over_the_fields_of_the_table():
    for kind, fields in TABLE["stamped"].items():
        assert stamped_fields(kind) == set(fields)


def test_what_this_version_does_not_know_anybody_may_set():
    assert may_set("clerk", "bracket", "colour")
    assert may_set("clerk", "defect", "colour")
    assert is_capture_field("defect", "toString")
