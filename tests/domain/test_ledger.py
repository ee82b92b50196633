"""Verdicts are a function of the set of entries, whatever the order in which they come."""

import random
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import is_judged
from skinpin.domain.ledger import WAITING, judge_all, settle
from skinpin.domain.permissions import MOVES, STATES, moves_open
from skinpin.domain.verdicts import COUNTS, Known, act_of, index_of

PEOPLE = {"lead": "lead", "ada": "lead", "ben": "inspector", "cay": "fitter"}
PIN = {"name": "QS-7", "issue": "1", "sha256": "55" * 32}
GIVEN = {
    "new": {"number": "A/0001", "kind": "pitting", "place": {"member": "F6"}},
    "raise": {"no_photograph": "lamp failed", "kind": "pitting", "place": {"member": "F7"}},
    "assess": {"disposition": "Accept as is", "reason": "light"},
    "nil": {"kind": "nil", "disposition": "Accept as is"},
    "accept": {"disposition": "Accept as is", "standard": PIN},
    "defer": {"deferral": {"to_stage": "Stage 2", "limit": "no limit", "authority": "lead"}},
    "same as": {"same_as": "Z"},
}
ASIDE = ("same as", "raised in error", "nil", "defer")
STAMPS = {"clear": "INSPECTED", "accept": "DISPOSITION"}


class MemoryShelf:
    """The plainest shelf: everything in dictionaries, every question a walk."""

    def __init__(self):
        self.pairs = {}

    def add(self, arrived, known):
        changes = settle(arrived, self, known)
        for entry in arrived:
            self.pairs[entry.id] = (entry, WAITING if is_judged(entry) else COUNTS)
        for change in changes.values():
            assert change.before == self.before(change, arrived)
            self.pairs[change.entry.id] = (change.entry, change.now)

    def before(self, change, arrived):
        is_new = any(one.id == change.entry.id for one in arrived)
        return None if is_new else self.pairs[change.entry.id][1]

    def load(self, ids):
        found = {id: self.pairs.get(id) for id in ids}
        keys = {act_of(p[0]) for p in found.values() if p and p[1].plain == "waits"}
        mates = {id: p for id, p in self.pairs.items() if act_of(p[0]) in keys}
        return mates | found

    def acts(self, keys):
        found = {}
        for entry, _ in self.pairs.values():
            if act_of(entry) in keys:
                found.setdefault(act_of(entry), []).append(entry)
        return found

    def indexed(self, ids):
        pairs = [pair for pair in self.pairs.values() if is_judged(pair[0])]
        return [entry for entry, verdict in pairs if index_of(entry, verdict) & set(ids)]

    def person(self, person):
        pairs = [pair for pair in self.pairs.values() if is_judged(pair[0])]
        return [p for p in pairs if p[0].record == person and p[0].kind == "person"]

    def held(self, devices):
        pairs = [p for p in self.pairs.values() if p[0].device in devices]
        return [entry for entry, verdict in pairs if verdict.code == "leaver"]


def set_up():
    def person(who, given, **more):
        row = {"name": f"role-{who}", "by": "lead", "record": who, "kind": "person"}
        return row | {"set": {"role": {"role": given, "from": "2025-03-01"}}} | more

    book = {"name": "book", "by": "lead", "record": "book", "kind": "book"}
    yield book | {"set": {"workshop": "Quay Shed"}, "act": "set-up", "role": None}
    yield person("lead", "lead", act="set-up", role=None)
    for who, role in list(PEOPLE.items())[1:]:
        yield person(who, role)


class Author:
    """Writes random acts of several people on few records, most of them as the rules want."""

    def __init__(self, chance):
        self.chance = chance
        self.rows = list(set_up())
        self.states = {}
        self.count = 0

    def write(self):
        write = self.chance.choices(
            [self.move, self.decide, self.capture, self.leave, self.confirm, self.name_later],
            [16, 3, 2, 1, 2, 1],
        )[0]
        write()

    def put(self, by, record, kind, set, **more):
        self.count += 1
        writer = more.pop("writer", self.chance.choice(["tableta1", "tabletb1"]))
        row = {"name": f"e{self.count}", "by": by, "record": record, "kind": kind, "set": set}
        row |= {"writer": writer, "device": writer[-2].upper()} | more
        self.rows.append(row)
        return row

    def move(self):
        chance, record = self.chance, self.chance.choice("XY")
        before = self.states.setdefault(record, [])
        seen = chance.sample(before[-3:], min(len(before), chance.choice([0, 1, 1, 1, 1, 2, 2])))
        seen = before[-1:] if before and not seen and chance.random() < 0.8 else seen
        states = {row["set"]["state"]["to"] for row in seen} - {None}
        by = chance.choice([*PEOPLE, "lead", "ada", "lead", "ada"])
        if seen and chance.random() < 0.2:
            self.undo(record, seen)
        else:
            self.step(by, record, seen, states)

    def step(self, by, record, seen, states):
        chance, move = self.chance, self.chosen(by, states)
        to = self.end_of(move, states)
        values = {"state": {"move": move, "to": to}} | GIVEN.get(move, {})
        more = {"seen": {"state": [f"@{row['name']}" for row in seen]}} if seen else {}
        more |= {"why": "a reason"} if chance.random() < 0.9 else {}
        self.together(by, record, values, more, move)

    def chosen(self, by, states):
        is_open = moves_open(PEOPLE[by], states)
        if is_open and self.chance.random() < 0.9:
            weights = [1 if move in ASIDE else 5 for move in is_open]
            return self.chance.choices(is_open, weights)[0]
        return self.chance.choice(MOVES)["move"]

    def end_of(self, move, states):
        row = self.chance.choice([row for row in MOVES if row["move"] == move])
        if row["to"] in STATES:
            return row["to"]
        return self.chance.choice(sorted(states) if move == "choose" and states else STATES)

    def together(self, by, record, values, more, move):
        chance, writer = self.chance, self.chance.choice(["tableta1", "tabletb1"])
        act = {"act": f"act{self.count}", "writer": writer}
        if chance.random() < 0.08:
            act["of"] = 3
        if move in STAMPS and chance.random() < 0.9:
            size = {"count": 1, "sha256": "ab" * 32}
            made = {"defect": record, "act": STAMPS[move], "number": "1", "person": by}
            self.put(by, f"T{self.count}", "stamp", made | {"list": size}, **act)
        if move in ("found again", "offer"):
            self.put(by, f"P{self.count}", "photograph", {"defect": record}, **act)
        self.states[record].append(self.put(by, record, "defect", values, **act, **more))

    def undo(self, record, seen):
        [row] = seen[:1]
        undone = self.chance.choice([row, *self.states[record]])
        past = undone.get("seen", {}).get("state", [])
        past = [one for one in self.rows if f"@{one['name']}" in past]
        to = past[0]["set"]["state"]["to"] if past else None
        state = {"move": "undo", "to": to, "undoes": f"@{undone['name']}"}
        more = {"seen": {"state": [f"@{row['name']}"]}, "writer": undone["writer"]}
        row = self.put(undone["by"], record, "defect", {"state": state}, **more)
        self.states[record].append(row)

    def decide(self):
        values = {self.chance.choice(["stage", "independent", "note"]): True}
        more = {"role": None} if self.chance.random() < 0.2 else {}
        by, record = self.chance.choice(list(PEOPLE)), self.chance.choice("XY")
        self.put(by, record, "defect", values, **more)

    def capture(self):
        self.put("ben", self.chance.choice("XY"), "defect", {"note": "rust"}, role=None)

    def leave(self):
        who = self.chance.choice(list(PEOPLE))
        upto = [f"@{row['name']}" for row in self.rows if self.chance.random() < 0.15]
        role = {"role": self.chance.choice([None, "lead"]), "from": "2025-07-01", "upto": upto}
        seen = {"role": [f"@role-{who}"]} if self.chance.random() < 0.9 else {}
        by = self.chance.choice(["lead", "ada"])
        self.put(by, who, "person", {"role": role}, seen=seen)

    def confirm(self):
        who, by = self.chance.choice(list(PEOPLE)), self.chance.choice(["lead", "ada", "ben"])
        ids = [f"@{row['name']}" for row in self.rows if self.chance.random() < 0.5]
        self.put(by, who, "person", {"confirms": ids})

    def name_later(self):
        later = f"@e{self.count + self.chance.choice([-2, -1, 0, 1, 2, 3])}"
        more = {"relies": [later]} if self.chance.random() < 0.5 else {"seen": {"stage": [later]}}
        self.put("lead", self.chance.choice("XY"), "defect", {"stage": "Stage 2"}, **more)


def random_book(seed, acts, book_of):
    author = Author(random.Random(seed))
    for _ in range(acts):
        author.write()
    return book_of(author.rows).entries


def known_for(entries):
    by_id = {entry.id: entry for entry in entries}

    def reached(entry, ends):
        same = (by_id[id] for id in ends if id in by_id and id[-8:] == entry.id[-8:])
        return any(entry.n <= end.n for end in same)

    return Known({}, reached=reached, grade_of=lambda values, pins: 3)


def batches_of(entries, chance):
    entries = list(entries)
    chance.shuffle(entries)
    while entries:
        size = chance.choice([1, 1, 2, 5])
        yield entries[:size]
        entries = entries[size:]


@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 10**6), acts=st.integers(3, 30), order=st.integers(0, 10**6))
def test_any_order_of_arrival_comes_to_the_verdicts_of_the_whole_book(book_of, seed, acts, order):
    entries = random_book(seed, acts, book_of)
    known = known_for(entries)
    shelf, chance = MemoryShelf(), random.Random(order)
    for batch in batches_of(entries, chance):
        shelf.add(batch, known)
        if chance.random() < 0.2:
            here = [entry for entry, _ in shelf.pairs.values()]
            assert verdicts_of(shelf) == judge_all(here, known).verdicts
    assert verdicts_of(shelf) == judge_all(entries, known).verdicts


def verdicts_of(shelf):
    return {id: verdict for id, (_, verdict) in shelf.pairs.items()}


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 10**6), order=st.integers(0, 10**6))
def test_without_leavers_a_verdict_only_ever_leaves_waiting(book_of, seed, order):
    entries = [one for one in random_book(seed, 20, book_of) if "upto" not in str(one.set)]
    known, shelf = known_for(entries), MemoryShelf()
    for batch in batches_of(entries, random.Random(order)):
        before = verdicts_of(shelf)
        shelf.add(batch, known)
        for id, verdict in before.items():
            assert verdict.result == "waits" or shelf.pairs[id][1] == verdict


def test_the_random_books_hold_every_verdict_and_most_moves(book_of):
    codes, moves = set(), set()
    for seed in range(400):
        entries = random_book(seed, 25, book_of)
        judged = judge_all(entries, known_for(entries))
        codes |= {(verdict.result, verdict.code) for verdict in judged.verdicts.values()}
        moves |= {
            one.set["state"]["move"]
            for one in entries
            if "state" in one.set and judged.verdicts[one.id].counts
        }
    wanted = {("waits", code) for code in ("entries", "act", "leaver")}
    words = ("cycle", "act", "no role", "field", "role", "not open", "needs", "not latest")
    assert codes >= wanted | {("does not count", code) for code in words} | {("counts", "")}
    assert moves >= {row["move"] for row in MOVES}


def test_a_file_that_comes_later_is_asked_for_again(book_of):
    author = Author(random.Random(1))
    author.states["X"] = []
    for move, to in (("new", "Draft"), ("raise", "Raised"), ("assess", "Assessed")):
        seen = [f"@{row['name']}" for row in author.states["X"][-1:]]
        more = {"seen": {"state": seen}} if seen else {}
        author.together("lead", "X", {"state": {"move": move, "to": to}} | GIVEN[move], more, move)
    before = author.states["X"][-1]["name"]
    stamp = {"defect": "X", "act": "DISPOSITION", "number": "1", "person": "lead"}
    size = {"count": 1, "sha256": "ab" * 32}
    author.put("lead", "T", "stamp", stamp | {"list": size}, act="end", writer="tableta1")
    values = {"state": {"move": "accept", "to": "Cleared"}, "standard": PIN}
    seen = {"state": [f"@{before}"], "disposition": [f"@{before}"]}
    author.put("lead", "X", "defect", values, seen=seen, act="end", writer="tableta1")
    entries = book_of(author.rows).entries
    shelf, known = MemoryShelf(), known_for(entries)
    shelf.add(entries, replace(known, grade_of=lambda values, pins: None))
    last = entries[-1].id
    assert (shelf.pairs[last][1].code, shelf.pairs[last][1].waits_for) == ("standard", ("55" * 32,))
    changes = settle([], shelf, known, again=["55" * 32])
    assert changes[last].now == COUNTS
    assert changes[last].before == shelf.pairs[last][1]


def test_a_whole_book_is_judged_once_whatever_is_asked(book_of):
    entries = random_book(7, 20, book_of)
    known = known_for(entries)
    assert judge_all(reversed(entries), known) == judge_all(entries, known)


@pytest.mark.parametrize("size", [1, 500])
def test_captures_change_no_verdict(book_of, size):
    rows = [
        {"name": f"c{n}", "by": "x", "record": "X", "kind": "defect", "set": {"note": "a"}}
        for n in range(size)
    ]
    assert settle(book_of(rows).entries, MemoryShelf(), Known({})) == {}
