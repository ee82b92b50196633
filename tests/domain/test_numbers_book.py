"""Every number of a tablet is an ordinary record or has a reason beside it."""

from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.numbers_book import Numbers, Told, explain

ORDINARY = ("Raised", "Assessed", "Cleared", "Deferred", "Same as")
STATES = st.sampled_from([*ORDINARY, "Raised in error", "Draft", None])


def reasons(borne, given_up=(), told=None, *, is_out=False):
    return explain(borne, frozenset(given_up), told, is_out=is_out)


def test_ordinary_records_need_no_word():
    assert reasons({n: [state] for n, state in enumerate(ORDINARY, 1)}) == []


def test_each_number_that_is_no_ordinary_record_says_why():
    borne = {1: ["Raised"], 2: ["Raised in error"], 3: ["Draft"], 4: [None], 5: ["Raised"] * 2}
    assert reasons(borne, {6}) == [
        Numbers("raised in error", 2, 2),
        Numbers("draft", 3, 3),
        Numbers("taken back", 4, 4),
        Numbers("on two records", 5, 5),
        Numbers("another number now", 6, 6),
    ]


def test_a_number_that_is_not_here_waits_on_the_tablet_or_was_never_used():
    borne = {1: ["Raised"], 4: ["Raised"]}
    assert reasons(borne, told=Told(6, 3, 0)) == [
        Numbers("not yet in", 2, 3),
        Numbers("not yet in", 5, 6),
    ]
    assert reasons(borne, told=Told(4, 0, 0)) == [Numbers("never used", 2, 3)]
    assert reasons(borne, told=Told(4, 0, 1)) == [Numbers("refused here", 2, 3)]
    assert reasons(borne) == [Numbers("not in, or never used", 2, 3)]


def test_of_a_tablet_that_is_out_no_number_is_said_to_be_never_used():
    borne = {2: ["Raised"]}
    words = reasons(borne, told=Told(2, 0, 0), is_out=True)
    assert words == [Numbers("not in, and the tablet is out", 1, 1)]


def test_a_tablet_that_gave_no_number_has_none_to_explain():
    assert reasons({}, told=Told(0, 0, 0)) == []


@settings(deadline=None)
@given(
    borne=st.dictionaries(st.integers(1, 30), st.lists(STATES, min_size=1, max_size=2)),
    given_up=st.sets(st.integers(1, 30)),
    told=st.none() | st.builds(Told, st.integers(0, 40), st.integers(0, 2), st.integers(0, 1)),
    is_out=st.booleans(),
)
def test_every_number_up_to_the_last_is_either_ordinary_or_named_once(
    borne, given_up, told, is_out
):
    words = reasons(borne, given_up, told, is_out=is_out)
    named = [n for one in words for n in range(one.first, one.last + 1)]
    assert len(named) == len(set(named))
    assert named == sorted(named)
    last = max([*borne, *given_up, told.last if told else 0], default=0)
    ordinary = {n for n, states in borne.items() if len(states) == 1 and states[0] in ORDINARY}
    assert set(named) | ordinary == set(range(1, last + 1))
    assert not set(named) & ordinary
