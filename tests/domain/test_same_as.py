"""Which of several records that are the same defect leads."""

from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.same_as import Other, chain_lacks, head_of, number_key, same_as_heads

names = st.sampled_from("ABCD")
states = st.sampled_from(["Same as", "Same as", "In work", "Draft", "Raised in error", "Cleared"])


@st.composite
def chains(draw):
    left = st.sampled_from([None, "Draft", "Raised", "Cleared"])
    targets = st.lists(names, max_size=2, unique=True).map(tuple)
    return {
        name: Other(f"A/000{at + 1}", draw(states), draw(targets), draw(left))
        for at, name in enumerate(draw(st.permutations("ABC")))
    }


@settings(deadline=None, max_examples=400)
@given(others=chains())
def test_a_record_is_hidden_only_behind_one_that_is_shown(others):
    heads = same_as_heads(others)
    assert set(heads) == {name for name, other in others.items() if other.state == "Same as"}
    for name, head in heads.items():
        if head in (None, name):
            continue
        lead = others[head]
        shown_as = lead.left if lead.state == "Same as" else lead.state
        assert shown_as not in (None, "Draft", "Raised in error")
        assert lead.state != "Same as" or heads[head] == head


@settings(deadline=None, max_examples=200)
@given(others=chains())
def test_in_every_ring_just_one_leads(others):
    for name, other in others.items():
        ring, here = [name], other
        while here.state == "Same as" and len(here.targets) == 1 and here.targets[0] in others:
            if here.targets[0] == name:
                leads = [one for one in ring if head_of(one, others) == one]
                assert leads == [min(ring, key=lambda one: others[one].number)]
                break
            if here.targets[0] in ring:
                break
            ring.append(here.targets[0])
            here = others[here.targets[0]]


def test_a_chain_asks_for_its_next_record_until_it_ends():
    one, two = Other("A/0001", "Same as", ("Y",)), Other("A/0002", "Same as", ("X",))
    assert chain_lacks("X", {}) == ["X"]
    assert chain_lacks("X", {"X": one}) == ["Y"]
    assert chain_lacks("X", {"X": one, "Y": two}) == []
    assert chain_lacks("X", {"X": one, "Y": Other("A/0002", "Raised")}) == []


def test_numbers_lead_in_the_order_in_which_letters_are_given():
    numbers = ["AA/0001", "no number", "B/0001", "A/0010", "A/0009", ""]
    assert sorted(numbers, key=number_key) == [
        *("A/0009", "A/0010", "B/0001", "AA/0001"),
        *("", "no number"),
    ]
