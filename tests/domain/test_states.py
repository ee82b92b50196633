"""The least finished state counts; Draft only when alone."""

from itertools import permutations

from skinpin.domain.permissions import STATES
from skinpin.domain.states import WORST_FIRST, worst_state


def test_the_order_holds_every_state_once():
    assert sorted(WORST_FIRST) == sorted(STATES)


def test_the_least_finished_of_any_states_counts_in_whatever_order_they_come():
    finished = ["Raised", "Assessed", "In work", "Offered", "Deferred", "Same as"]
    finished += ["Raised in error", "Cleared"]
    for at, one in enumerate(finished):
        for other in finished[at:]:
            for states in permutations([one, other, "Draft"]):
                assert worst_state(states) == one


def test_draft_counts_alone_and_nothing_is_no_state():
    assert worst_state(["Draft"]) == "Draft"
    assert worst_state([]) is None


def test_a_state_unknown_here_counts_before_all_others():
    assert worst_state(["Raised", "Quarantined"]) == "Quarantined"
