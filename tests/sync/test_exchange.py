"""Vectors and properties of the exchange, and a workshop of tablets in memory."""

import json
from collections import Counter
from itertools import count
from pathlib import Path

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st
from skinpin_sync.canonical import RefusedLine, sha256_hex
from skinpin_sync.chain import Chain, Draft, chain_faults, link, write_act
from skinpin_sync.clock import encode, is_ahead, new_clock, receive
from skinpin_sync.entry import from_line
from skinpin_sync.exchange import (
    Cursor,
    cursor_verdict,
    judge,
    page_length,
    read_lines,
    refused_link,
    to_page,
)
from skinpin_sync.standing import add, seen_for, standing

from tests.sync.client import (
    Held,
    Mark,
    Outbox,
    batches,
    by_act,
    from_page,
    head_verdict,
    mark,
    merge_answer,
    new_epoch,
    next_step,
    queue,
    stop_reason,
    take_page,
)

VECTORS = json.loads(Path("sync/vectors/exchange.json").read_text("utf-8"))
ENTRIES = json.loads(Path("sync/vectors/entry.json").read_text("utf-8"))
several = settings(max_examples=300, deadline=None, print_blob=True)
NOW_MS, HOUR_MS, FIFTY_YEARS_MS = 1_762_157_730_250, 3_600_000, 50 * 31_557_600_000
PAGE_LIMIT, BATCH_LIMIT = 2, 2


@pytest.mark.parametrize("case", [pytest.param(c, id=c["what"]) for c in VECTORS["batches"]])
def test_batches_as_in_the_vectors(case):
    held = [Held(**one) for one in case["held"]]
    assert batches(held, case["max_entries"], case["max_bytes"]) == case["batches"]


def test_pages_cursors_and_heads_as_in_the_vectors():
    for case in VECTORS["page_length"]:
        assert page_length(case["acts"], case["limit"]) == case["count"]
    for case in VECTORS["cursor_verdict"]:
        query = Cursor(*case["query"])
        assert cursor_verdict(case["epoch"], case["id_at_after"], query) == case["verdict"]
    for case in VECTORS["head_verdict"]:
        outbox = Outbox("b", Cursor(case["epoch"], 0, ""))
        assert head_verdict(outbox, case["head"]) == case["verdict"]
    for case in VECTORS["pages"]:
        lines = [line.encode() for line in case["lines"]]
        assert to_page(case["head"], lines) == case["body"].encode()
        head = {**case["head"], "count": len(lines)}
        assert from_page(case["body"].encode()) == (head, lines)
    for case in VECTORS["refused_link"]:
        found = refused_link(read_lines(case["line"].encode() + b"\n")[0])
        assert (found and [found.id, found.n]) == case["link"]


def do_step(outbox, step):
    if step["do"] == "queue":
        return queue(outbox, step["ids"])
    if step["do"] == "new_epoch":
        return new_epoch(outbox, step["epoch"], step["ids"])
    if step["do"] == "take_page":
        return take_page(outbox, step["head"], step["ids"])
    return merge_answer(outbox, step["ids"], step["answer"])


@pytest.mark.parametrize("case", [pytest.param(c, id=c["what"]) for c in VECTORS["rounds"]])
def test_rounds_as_in_the_vectors(case):
    outbox = Outbox("b")
    for step in case["steps"]:
        outbox = do_step(outbox, step)
        seq, expected = step["next"]
        assert next_step(outbox, seq) == expected
        for name in {"cursor", "unsent", "sent", "refused", "ask_files"} & step.keys():
            found = getattr(outbox, name)
            assert (list(found) if isinstance(found, tuple) else found) == step[name]


def test_a_cut_body_page_or_answer_is_refused_whole():
    line = ENTRIES["accepted"][0]["line"].encode()
    with pytest.raises(RefusedLine, match="no line end"):
        read_lines(line + b"\n" + line)
    body = to_page({"book": "b"}, [line, line])
    for end in range(len(body)):
        with pytest.raises(RefusedLine):
            from_page(body[:end])
    with pytest.raises(RefusedLine, match="more or fewer"):
        from_page(body + b"half a li")
    with pytest.raises(RefusedLine, match="1 lines were sent and 0 answered"):
        merge_answer(Outbox("b", unsent=("x",)), ["x"], {"results": []})


def test_one_poisoned_line_leaves_the_good_ones_alone():
    good = [case["line"].encode() for case in ENTRIES["accepted"][:1]]
    bad = [case["line"].encode() for case in ENTRIES["refused"]]
    changed = good[0].replace(b"red", b"blu")
    reads = read_lines(b"".join(line + b"\n" for line in [bad[0], *good, *bad, *good, changed]))
    results = judge(reads, {})
    assert [one.result for one in results if one.result != "refused"] == ["stored", "duplicate"]
    assert [one.code for one in results[2:-2]] == [case["code"] for case in ENTRIES["refused"]]
    assert results[-1].code == "other_bytes"
    assert judge(reads[-1:], {results[-1].id: reads[-1].sha256})[0].result == "duplicate"


@several
@given(st.lists(st.tuples(st.sampled_from("abc"), st.integers(0, 9)), max_size=12))
def test_batches_hold_everything_once_and_split_no_act(rows):
    held = [Held(str(at), act, size) for at, (act, size) in enumerate(rows)]
    found = batches(held, 3, 25)
    assert sorted(id for batch in found for id in batch) == sorted(one.id for one in held)
    acts = [{held[int(id)].act for id in batch} for batch in found]
    assert sum(len(each) for each in acts) == len({one.act for one in held})
    for batch, each in zip(found, acts, strict=True):
        assert len(each) == 1 or len(batch) <= 3
        assert len(each) == 1 or sum(held[int(id)].size_bytes + 1 for id in batch) <= 25


@several
@given(st.lists(st.sampled_from("abc"), max_size=9), st.integers(1, 9))
def test_a_page_ends_between_acts_and_is_no_longer_than_it_must_be(acts, limit):
    count = page_length(acts, limit)
    assert count >= min(limit, len(acts))
    assert count in (0, len(acts)) or acts[count] != acts[count - 1]
    assert len(set(acts[limit - 1 : count])) <= 1
    assert sorted(at for places in by_act(acts) for at in places) == list(range(len(acts)))


def test_a_run_that_gets_nowhere_ends_with_a_sentence():
    one, two = Mark(Cursor("e", 0, ""), 3, 0, False), Mark(Cursor("e", 1, "x"), 2, 0, False)
    assert stop_reason([]) is None
    assert stop_reason([one, two, one]) is None
    assert "3 entries are unsent" in stop_reason([two, one, one])
    epochs = [Mark(Cursor(f"e{at}", 0, ""), at, 0, True) for at in range(4)]
    assert stop_reason(epochs[:3]) is None
    assert "4 epochs" in stop_reason(epochs)


# The workshop: a server and tablets in memory, with a bad network between them.
class LostError(Exception):
    """The network swallowed something."""


class Server:
    """Keeps lines in the order of arrival."""

    def __init__(self):
        self.epoch, self.lines = 1, {}

    def state(self):
        seq, time = len(self.lines), NOW_MS
        return {"book": "b", "epoch": str(self.epoch), "seq": seq, "server_time": time}

    def post(self, body):
        reads = read_lines(body)
        results = judge(reads, {id: sha256_hex(line) for id, line in self.lines.items()})
        for read, one in zip(reads, results, strict=True):
            if one.result == "stored":
                self.lines[one.id] = read.line
        seqs = {id: seq for seq, id in enumerate(self.lines, 1)}
        answers = [{**one._asdict(), "seq": seqs.get(one.id)} for one in results]
        return json.dumps({**self.state(), "results": answers})

    def get(self, query):
        ids = list(self.lines)
        here = ids[query.seq - 1] if 0 < query.seq <= len(ids) else None
        verdict = cursor_verdict(str(self.epoch), here, query)
        if verdict == "new_epoch":
            self.epoch += 1
        if verdict != "page":
            return to_page({**self.state(), "to": 0, "at": ""}, [])
        rest = ids[query.seq :]
        page = rest[: page_length([act_of(self.lines[id]) for id in rest], PAGE_LIMIT)]
        to, at = query.seq + len(page), page[-1] if page else query.at
        return to_page({**self.state(), "to": to, "at": at}, [self.lines[id] for id in page])


def act_of(line):
    return from_line(line).act.id


class Tablet:
    """Holds lines, what stands of each record, and its outbox."""

    def __init__(self, device, off_ms, writers):
        self.device, self.off_ms, self.writers = device, off_ms, writers
        self.lines, self.kept, self.outbox, self.files_asked = {}, {}, Outbox("b"), 0
        self.chain = Chain(new_clock("notbegun"), 0, None)
        self.restart()

    def clone(self):
        other = Tablet(self.device, self.off_ms, self.writers)
        other.lines, other.kept, other.outbox = dict(self.lines), dict(self.kept), self.outbox
        other.chain = other.chain._replace(prev=self.chain.prev)
        return other

    def restart(self):
        self.chain = Chain(new_clock(f"{next(self.writers):08d}"), 0, self.chain.prev)

    def write(self, records, at):
        drafts = [Draft(r, "thing", {"f": at}, seen_for(self.kept.get(r), ["f"])) for r in records]
        author = {"by": "p1", "device": self.device, "wall": "2025-11-03T08:15:30+00:00"}
        act = f"act{self.chain.clock.writer}{at}"
        now_ms = NOW_MS + self.off_ms + at % 3
        self.chain, written = write_act(self.chain, now_ms, drafts, act=act, **author, schema=1)
        self.store([line for _, line in written])
        self.outbox = queue(self.outbox, [entry.id for entry, _ in written])

    def store(self, lines):
        held = {id: sha256_hex(line) for id, line in self.lines.items()}
        reads = read_lines(b"".join(line + b"\n" for line in lines))
        results = judge(reads, held)
        new = [r.entry for r, one in zip(reads, results, strict=True) if one.result == "stored"]
        self.lines |= {read.entry.id: read.line for read in reads if read.entry in new}
        hit = {r for r, now in self.kept.items() if {one.id for one in new} & set(now.awaited)}
        for record in hit | {one.record for one in new}:
            mine = [one for one in new if one.record == record]
            fast = None if record in hit else add(self.kept.get(record), mine, lambda one: True)
            self.kept[record] = fast or standing(self.log(record), lambda one: True)
        return [one.id for one in results if one.result != "refused"]

    def log(self, record):
        return [e for e in map(from_line, self.lines.values()) if e.record == record]

    def run(self, server, faults):
        seq, marks = None, []
        while (step := next_step(self.outbox, seq)) != "rest" and not stop_reason(marks):
            seq = getattr(self, step)(server, faults)
            marks.append(mark(self.outbox))
        return stop_reason(marks)

    def meet(self, head):
        if head_verdict(self.outbox, head) == "new_epoch":
            self.outbox = new_epoch(self.outbox, head["epoch"], self.lines)
            return True
        return False

    def send(self, server, faults):
        held = [Held(id, act_of(self.lines[id]), len(self.lines[id])) for id in self.outbox.unsent]
        ids = batches(held, BATCH_LIMIT)[0]
        body = b"".join(self.lines[id] + b"\n" for id in ids)
        answer = json.loads(carry(faults, lambda: server.post(body)))
        self.meet(answer)
        self.outbox = merge_answer(self.outbox, ids, answer)
        return answer["seq"]

    def fetch(self, server, faults):
        body = carry(faults, lambda: server.get(self.outbox.cursor))
        head, lines = from_page(body)
        assert not is_split(server, head, lines)
        if not self.meet(head):
            self.outbox = take_page(self.outbox, head, self.store(lines))
            clock = self.chain.clock
            for line in lines:
                clock = receive(clock, from_line(line).id, NOW_MS)
            self.chain = self.chain._replace(clock=clock)
        return head["seq"]

    def files(self, server, faults):
        self.files_asked += 1
        self.outbox = self.outbox._replace(ask_files=False)
        return len(server.lines)

    def believes(self):
        """Return the ids this tablet takes to be on the server."""
        return set(self.lines) - set(self.outbox.unsent) - set(self.outbox.sent)


def is_split(server, head, lines):
    """Say whether the next line of the log belongs to the act of the page's last one."""
    rest = list(server.lines.values())[head["to"] :]
    return bool(lines and rest) and act_of(lines[-1]) == act_of(rest[0])


def carry(faults, ask):
    """Bring a question to the server and its answer back, through what the network does."""
    fault = faults.pop() if faults else "fine"
    if fault == "request lost":
        raise LostError
    answer = ask()
    if fault == "twice":
        answer = ask()
    if fault == "answer lost":
        raise LostError
    return answer[: len(answer) // 2] if fault == "answer cut" else answer


def try_run(tablet, server, faults):
    try:
        tablet.run(server, faults)
    except (LostError, RefusedLine, json.JSONDecodeError) as fault:
        event(type(fault).__name__)


def come_to_rest(tablets, server):
    for _ in range(4):
        for tablet in tablets:
            assert tablet.run(server, []) is None


def assert_all_agree(tablets, server, written):
    assert set(server.lines) == written
    for tablet in tablets:
        assert tablet.lines == server.lines
        assert (tablet.outbox.unsent, tablet.outbox.sent) == ((), ())
        assert not tablet.outbox.refused
        assert is_ahead(encode(tablet.chain.clock), NOW_MS) <= (tablet.off_ms > 0)
        for record, now in tablet.kept.items():
            assert now == standing(tablet.log(record), lambda one: True)
            assert (now.awaited, now.faults) == ((), ())
    entries = [from_line(line) for line in server.lines.values()]
    here = Counter(entry.act for entry in entries)
    assert all(act.of == found for act, found in here.items())
    links = [
        link(entry, sha256_hex(line))
        for entry, line in zip(entries, server.lines.values(), strict=True)
    ]
    assert chain_faults(links).faults == []


FAULTS = ["fine", "fine", "request lost", "answer lost", "answer cut", "twice"]
VERBS = ["write", "write", "write", "run", "run", "half", "restart", "clone", "restore"]
steps = st.tuples(st.sampled_from(VERBS), st.integers(0, 2), st.integers(0, 5))


def half(tablet, server):
    """Post only the first unsent line, as a client would that knows nothing of acts."""
    for id in tablet.outbox.unsent[:1]:
        server.post(tablet.lines[id] + b"\n")


def play(server, tablets, steps, faults, is_declared):
    for at, (verb, who, number) in enumerate(steps):
        tablet = tablets[who % len(tablets)]
        if verb == "write":
            tablet.write([["r1"], ["r2"], ["r1", "r2"], ["r2", "r1", "r3"]][number % 4], at)
        elif verb == "run":
            try_run(tablet, server, faults)
        elif verb == "half":
            half(tablet, server)
        elif verb == "restart":
            tablet.restart()
        elif verb == "clone":
            tablets.append(tablet.clone())
        elif verb == "restore":
            kept = list(server.lines.items())[: max(0, len(server.lines) - number)]
            server.lines, server.epoch = dict(kept), server.epoch + is_declared


@pytest.mark.parametrize("is_declared", [True, False], ids=["restored", "copied back"])
@several
@given(
    steps=st.lists(steps, max_size=14),
    faults=st.lists(st.sampled_from(FAULTS), max_size=12),
    off_ms=st.permutations([0, -HOUR_MS, FIFTY_YEARS_MS]),
)
def test_all_copies_agree_and_nothing_written_is_lost(is_declared, steps, faults, off_ms):
    server, writers = Server(), count(1)
    tablets = [Tablet(*one, writers) for one in zip("ABC", off_ms, strict=True)]
    play(server, tablets, steps, faults, is_declared)
    written = {id for tablet in tablets for id in tablet.lines}
    come_to_rest(tablets, server)
    assert_all_agree(tablets, server, written)
