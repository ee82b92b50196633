import json
from itertools import islice, permutations
from pathlib import Path

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st
from skinpin_sync.entry import Act, Entry
from skinpin_sync.standing import (
    Fault,
    Standing,
    add,
    counts_for,
    field_values,
    loops,
    seen_for,
    standing,
)

VECTORS = json.loads(Path("sync/vectors/standing.json").read_text("utf-8"))
several = settings(max_examples=300, deadline=None, print_blob=True)
IDS, FIELDS, RECORDS = "abcdefgh", "fg", ("r1", "r2")


def plain(now):
    """Return standing values as the vectors write them."""
    faults = [list(fault) for fault in now.faults]
    return {"values": now.values, "awaited": list(now.awaited), "faults": faults}


def entry(id, set_, seen, record="r1"):
    rest = {"relies": (), "by": "p1", "device": "A", "wall": "", "why": None, "schema": 1}
    place = {"n": 1, "prev": None, "act": Act(id, 1), "record": record, "kind": "thing"}
    return Entry(id=id, set=set_, seen=seen, sig=None, more={}, **place, **rest)


def counter(table):
    return lambda one: table.get(one.id, True)


@pytest.mark.parametrize("case", [pytest.param(case, id=case["what"]) for case in VECTORS])
def test_what_stands_as_in_the_vectors(case):
    entries = [entry(**{"set_": one.pop("set"), **one}) for one in map(dict, case["entries"])]
    counts, elsewhere = counter(case.get("counts", {})), case.get("elsewhere", ())
    found = standing(entries, counts, elsewhere)
    expected = {name: case[name] for name in ("values", "awaited", "faults")}
    assert plain(found) == expected
    assert standing(entries[::-1], counts, elsewhere) == found
    for order in islice(permutations(entries), 24):
        now = Standing({})
        for at, one in enumerate(order):
            quick = add(now, [one], counts)
            now = standing(order[: at + 1], counts, elsewhere)
            assert quick in (None, now)


# The book's rule written down a second time, slowly, as sets of pairs.
def by_the_rule(entries, counts, elsewhere):
    here = {one.id: one for one in entries}
    values, faults = {}, set()
    for field in {field for one in entries for field in one.set}:
        named = {(a.id, b) for a in entries for b in a.seen.get(field, ()) if b in here}
        sees = set(named)
        silent = {id for id, one in here.items() if not counts_for(counts(one), field)}
        while more := {(a, c) for a, b in sees if b in silent for d, c in sees if d == b} - sees:
            sees |= more
        setters = {id for id, one in here.items() if field in one.set} - silent
        edges = {(a, b) for a, b in sees if a in setters and b in setters}
        reach = set(edges)
        while more := {(a, c) for a, b in reach for d, c in reach if d == b} - reach:
            reach |= more
        back = {(a, b) for a, b in named if {a, b} <= setters | silent}
        while more := {(a, c) for a, b in back for d, c in back if d == b} - back:
            back |= more
        for a, b in named:
            if a in setters and (a, b) in back and (b, a) in back:
                faults.add(Fault("itself" if a == b else "cycle", a, field, b))
        retired = {b for a, b in edges if (b, a) not in reach}
        for id in setters - retired:
            values.setdefault(id, {})[field] = here[id].set[field]
    named = {(one.id, f, id) for one in entries for f, ids in one.seen.items() for id in ids}
    faults |= {Fault("elsewhere", a, f, b) for a, f, b in named if b in elsewhere}
    awaited = {b for _, _, b in named if b not in here and b not in elsewhere}
    return Standing(values, tuple(sorted(awaited)), tuple(sorted(faults)))


ids = st.sampled_from(IDS)
fields = st.sampled_from(FIELDS)
counted = st.sampled_from([True, True, False, frozenset("f"), frozenset("g")])


@st.composite
def books(draw):
    """Entries of two records whose ids collide, and for some the id that decides if they count."""
    entries = [
        entry(
            id,
            draw(st.dictionaries(fields, st.integers(0, 2), max_size=2)),
            draw(st.dictionaries(fields, st.lists(ids, min_size=1, max_size=3), max_size=2)),
            draw(st.sampled_from(RECORDS)),
        )
        for id in draw(st.lists(ids, unique=True, max_size=8))
    ]
    rules = {one.id: (draw(counted), draw(st.none() | ids), draw(counted)) for one in entries}
    return entries, rules


def counts_after(rules, arrived):
    """Return a counts function whose answer changes when the id a rule names has arrived."""

    def counts(one):
        before, trigger, after = rules[one.id]
        return after if trigger in arrived else before

    return counts


def elsewhere_of(log, record):
    return {one.id for one in log.values() if one.record != record}


def deliver(log, kept, batch, rules):
    """Take a batch as a server does: the fast way where it is sure, else from the log."""
    new = {one.id: one for one in batch if one.id not in log}
    before = counts_after(rules, set(log))
    counts = counts_after(rules, {*log, *new})
    recounted = {one.record for one in log.values() if before(one) != counts(one)}
    log.update(new)
    hit = {record for record, now in kept.items() if set(now.awaited) & set(new)}
    for record in {one.record for one in new.values()} | recounted | hit:
        mine = [one for one in new.values() if one.record == record]
        now = None if record in recounted | hit else add(kept.get(record), mine, counts)
        event("from the log" if now is None else "the fast way")
        if now is None:
            whole = [one for one in log.values() if one.record == record]
            now = standing(whole, counts, elsewhere_of(log, record))
        kept[record] = now


def by_the_set(log, rules):
    counts = counts_after(rules, set(log))
    return {
        record: by_the_rule(
            [one for one in log.values() if one.record == record], counts, elsewhere_of(log, record)
        )
        for record in {one.record for one in log.values()}
    }


@several
@given(books(), st.data())
def test_any_order_repetition_and_batching_gives_what_the_set_gives(book, data):
    entries, rules = book
    log, kept = {}, {}
    arriving = data.draw(st.permutations(entries + entries[: len(entries) // 2]), label="order")
    while arriving:
        size = data.draw(st.integers(1, len(arriving)), label="batch")
        deliver(log, kept, arriving[:size], rules)
        arriving = arriving[size:]
        assert kept == by_the_set(log, rules)


@several
@given(books())
def test_a_field_once_set_by_a_counting_entry_always_has_a_standing_value(book):
    entries, rules = book
    counts = counts_after(rules, set(IDS))
    now = standing(entries, counts)
    for field in FIELDS:
        is_set = any(field in one.set and counts_for(counts(one), field) for one in entries)
        assert bool(field_values(now, field)) == is_set


@several
@given(st.dictionaries(ids, st.sets(ids, max_size=3)))
def test_loops_are_the_groups_that_reach_each_other(edges):
    reach = {(a, b) for a, others in edges.items() for b in others}
    while more := {(a, c) for a, b in reach for d, c in reach if d == b} - reach:
        reach |= more
    groups = {a: {b for b in IDS if {(a, b), (b, a)} <= reach} for a in IDS}
    expected = {tuple(sorted(group)) for group in groups.values() if len(group) > 1}
    assert loops(edges) == [list(group) for group in sorted(expected)]


def test_a_loop_of_ten_thousand_needs_no_recursion():
    ring = {str(at): [str((at + 1) % 10_000)] for at in range(10_000)}
    assert [len(group) for group in loops(ring)] == [10_000]


@several
@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2), st.booleans()), max_size=12))
def test_no_value_goes_unless_an_author_who_saw_it_set_the_field_again(steps):
    views, everything = [set(), set(), set()], {}
    for at, (author, other, speaks) in enumerate(steps):
        views[author] |= views[other]
        if speaks:
            mine = [everything[id] for id in sorted(views[author])]
            seen = seen_for(standing(mine, counter({})), "f")
            everything[str(at)] = entry(str(at), {"f": at}, seen)
            views[author].add(str(at))
    now = standing(everything.values(), counter({}))
    replaced = {id for one in everything.values() for id in one.seen.get("f", ())}
    assert set(now.values) == set(everything) - replaced
    assert (now.awaited, now.faults) == ((), ())
    for at, view in enumerate(views):
        mine = [everything[id] for id in view]
        last = seen_for(standing(mine, counter({})), "f").get("f", [])
        assert bool(last) == bool(view), f"author {at} sees nothing"


def test_an_author_names_what_stands_and_a_choice_settles_it():
    both = standing([entry("a", {"f": 1}, {}), entry("b", {"f": 2, "g": 3}, {})], counter({}))
    assert seen_for(both, ["f", "g", "h"]) == {"f": ["a", "b"], "g": ["b"]}
    assert seen_for(None, ["f"]) == {}
    chosen = add(both, [entry("c", {"f": 2}, seen_for(both, ["f"]))], counter({}))
    assert chosen == Standing({"b": {"g": 3}, "c": {"f": 2}})


def test_the_fast_way_changes_nothing_it_was_given():
    before = standing([entry("a", {"f": 1, "g": 1}, {})], counter({}))
    kept = json.dumps(plain(before))
    add(before, [entry("b", {"f": 2}, {"f": ["a"]})], counter({}))
    assert json.dumps(plain(before)) == kept


@pytest.mark.parametrize(
    ("why", "before", "new"),
    [
        ("it was awaited", [entry("b", {"f": 2}, {"f": ["a"]})], entry("a", {"f": 1}, {})),
        ("it is there already", [entry("a", {"f": 1}, {})], entry("a", {"f": 1}, {})),
        ("it names itself", [], entry("a", {"f": 1}, {"f": ["a"]})),
        ("it names what is not here", [], entry("b", {"f": 1}, {"f": ["a"]})),
        (
            "it names what no longer stands",
            [entry("a", {"f": 1}, {}), entry("b", {"f": 2}, {"f": ["a"]})],
            entry("c", {"f": 3}, {"f": ["a"]}),
        ),
    ],
)
def test_the_fast_way_is_not_sure_when(why, before, new):
    assert add(standing(before, counter({})), [new], counter({})) is None, why
