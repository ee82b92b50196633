"""The list a stamp is made over, and which stamps hold."""

import hashlib

from skinpin.domain.stamps import Stamp, holding, list_file, stamp_list, stamped_ids

NOW = {"count": 2, "sha256": "ab" * 32}
SIZE = (2, "ab" * 32)


def stamp(id, act, person, *names, list=SIZE, why=None):
    return Stamp(id, act, person, "11", "2025-06-21", list, frozenset(names), why)


def ids(stamps):
    return [one.id for one in stamps]


def test_a_list_is_its_ids_in_order_one_a_line_each_once():
    assert list_file(["b2", "a1", "b2"]) == "a1\nb2\n"
    assert stamp_list(["b2", "a1", "b2"]) == {
        "count": 2,
        "sha256": hashlib.sha256(b"a1\nb2\n").hexdigest(),
    }


def test_an_empty_list_is_the_hash_of_nothing():
    # FIPS 180-4, the empty message.
    empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert stamp_list([]) == {"count": 0, "sha256": empty}


def test_only_what_stands_in_stamped_fields_is_in_the_list():
    values = {
        "e1": {"number": "A/0001", "state": {}},
        "e2": {"depth": None},
        "e3": {"tag": "t", "x": 1},
    }
    assert stamped_ids("defect", values) == {"e2"}
    assert stamped_ids("photograph", {"e4": {"withheld": True}, "e5": {"role": "wide"}}) == {"e5"}
    assert stamped_ids("bracket", {"e6": {"depth": 1}}) == set()


def test_a_stamp_over_another_list_does_not_hold():
    old = stamp("s1", "INSPECTED", "ben", list=(1, "cd" * 32))
    assert holding([old], NOW) == []
    assert ids(holding([old, stamp("s2", "INSPECTED", "cay")], NOW)) == ["s2"]


def test_the_stamp_of_a_doer_does_not_hold():
    assert holding([stamp("s1", "INSPECTED", "ben")], NOW, doers={"ben"}) == []


def test_an_independent_stamp_alone_does_not_hold():
    assert holding([stamp("s1", "INDEPENDENT", "ben", "s0")], NOW) == []


def test_of_several_pairs_the_one_with_the_smallest_ids_leads_and_the_rest_follow():
    stamps = [
        stamp("s4", "INDEPENDENT", "dot", "s2"),
        stamp("s2", "INSPECTED", "cay"),
        stamp("s3", "INDEPENDENT", "dot", "s1"),
        stamp("s1", "INSPECTED", "ben"),
    ]
    assert ids(holding(stamps, NOW, independent=True)) == ["s1", "s3", "s2", "s4"]


def test_a_second_stamp_must_rely_on_the_first_and_be_another_persons():
    first = stamp("s1", "INSPECTED", "ben")
    for second in (
        stamp("s2", "INDEPENDENT", "cay"),
        stamp("s2", "INDEPENDENT", "ben", "s1"),
        stamp("s2", "INSPECTED", "cay", "s1"),
        stamp("s2", "RE-INSPECTED", "ben", "s1"),
        stamp("s2", "INDEPENDENT", "cay", "s1", list=(1, "cd" * 32)),
    ):
        assert holding([first, second], NOW, independent=True) == [], second
    again = stamp("s2", "RE-INSPECTED", "ben", "s1", why="second inspector ill")
    assert ids(holding([first, again], NOW, independent=True)) == ["s1", "s2"]
