import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin_sync.canonical import RefusedLine, sha256_hex
from skinpin_sync.chain import (
    Chain,
    ChainFault,
    Draft,
    Link,
    chain_faults,
    link,
    reached,
    write_act,
)
from skinpin_sync.clock import new_clock
from skinpin_sync.entry import Act, from_line, signed_bytes, to_line

VECTORS = json.loads(Path("sync/vectors/chain.json").read_text("utf-8"))
several = settings(max_examples=300, deadline=None, print_blob=True)
AUTHOR = {"by": "p1", "device": "A", "wall": "2025-11-03T08:15:30+00:00", "schema": 1}
START = Chain(new_clock("writer01"), 0, None)
NOW_MS = 1_762_157_730_250


def write(chain, count, act="act1", now_ms=NOW_MS, **more):
    drafts = [Draft(f"r{at}", "thing", {"colour": "red"}) for at in range(count)]
    return write_act(chain, now_ms, drafts, act=act, **AUTHOR, **more)


def links_of(written):
    return [link(entry, sha256_hex(line)) for entry, line in written]


@pytest.mark.parametrize("case", [pytest.param(case, id=case["what"]) for case in VECTORS])
def test_chains_as_in_the_vectors(case):
    links = [Link(**one) for one in case["links"]]
    refused = [Link(**one) for one in case.get("refused", [])]
    chains = chain_faults(links, refused, case.get("kept"))
    assert chains.faults == [ChainFault(**fault) for fault in case["faults"]]
    assert chains.forks == case["forks"]


def test_an_act_is_written_as_entries_that_follow_each_other():
    chain, written = write(START, 3)
    entries = [entry for entry, _ in written]
    assert [entry.n for entry in entries] == [1, 2, 3]
    assert {entry.act for entry in entries} == {Act("act1", 3)}
    assert entries[1].prev == sha256_hex(to_line(entries[0]))
    assert chain == Chain(chain.clock, 3, sha256_hex(to_line(entries[2])))
    assert [from_line(line) for _, line in written] == entries


def test_only_the_entries_that_ask_for_it_are_signed():
    sig = {"key": "1762157730249-ffff-zzzzzzzz", "value": "A" * 86}
    signed = []
    drafts = [Draft("r1", "thing", {}, signed=True), Draft("r2", "thing", {})]
    sign = lambda line: signed.append(line) or sig  # noqa: E731
    _, written = write_act(START, NOW_MS, drafts, act="act1", **AUTHOR, sign=sign)
    assert [entry.sig for entry, _ in written] == [sig, None]
    assert signed == [signed_bytes(written[0][0])]
    assert chain_faults(links_of(written)).faults == []


def test_an_act_never_holds_two_entries_of_one_record():
    drafts = [Draft("r1", "thing", {"a": 1}), Draft("r1", "thing", {"b": 2})]
    with pytest.raises(RefusedLine, match="at most one entry a record"):
        write_act(START, NOW_MS, drafts, act="act1", **AUTHOR)


def test_a_restart_names_the_entry_before_and_a_clone_is_shown_as_a_fork():
    first, written = write(START, 2)
    for name in ("restart1", "cloned01"):
        written += write(Chain(new_clock(name), 0, first.prev), 2, act=name)[1]
    chains = chain_faults(links_of(written))
    assert chains.faults == []
    assert chains.forks == [sorted(entry.id for entry, _ in written if entry.prev == first.prev)]
    before_the_fork = {entry.id for entry, _ in written[:4]}
    assert reached(links_of(written), [written[3][0].id]) == before_the_fork


@several
@given(
    sizes=st.lists(st.integers(1, 3), min_size=2, max_size=5),
    order=st.randoms(use_true_random=False),
    harm=st.sampled_from(["none", "lost", "refused", "changed", "renumbered"]),
    data=st.data(),
)
def test_every_harm_to_a_chain_is_found_and_nothing_else(sizes, order, harm, data):
    chain, written = START, []
    for at, size in enumerate(sizes):
        chain, act = write(chain, size, act=f"act{at}", now_ms=NOW_MS - at)
        written += act
    kept = {entry.id: sha256_hex(line) for entry, line in written}
    place = data.draw(st.integers(0, len(written) - 2), label="place of the harm")
    hit, links, refused = written[place][0], links_of(written), []
    if harm in ("lost", "refused"):
        lost = links.pop(place)
        refused = [lost._replace(prev=None, device=None)] if harm == "refused" else []
    if harm == "changed":
        line = to_line(hit._replace(set={"colour": "blue"}))
        links[place] = link(hit, sha256_hex(line))
    if harm == "renumbered":
        links[place] = links[place]._replace(n=hit.n + 1)
    order.shuffle(links)
    found = {(fault.what, fault.n) for fault in chain_faults(links, refused, kept).faults}
    expected = {
        "none": set(),
        "refused": set(),
        "lost": {("gap", hit.n + 1)},
        "changed": {("changed", hit.n), ("wrong_prev", hit.n + 1)},
        "renumbered": {("gap", hit.n + 1), ("same_n", hit.n + 1)},
    }
    assert found == expected[harm]
