"""Pushing: every line answered, stored once, in one transaction."""

import threading

import orjson
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.services.defects import list_defects
from skinpin.services.people import add_person, people_here
from skinpin.services.push import FAST, fast_encode, push, write_act_here
from skinpin.storage.rebuild import rebuild
from skinpin_sync.canonical import PLAIN, RefusedLine, parse, plain_encode
from skinpin_sync.chain import Chain, Draft, Link, chain_faults, link
from skinpin_sync.clock import MAX_MS, Clock
from sqlalchemy import text

from tests.benches import Tablet, body_of, derived, open_bench
from tests.services.books import lines_in_order


def refusal(call, *args):
    with pytest.raises(Refused) as refused:
        call(*args)
    return refused.value


def test_lines_are_stored_as_they_came_and_known_again(bench):
    tablet = bench.tablet()
    one, two = tablet.defect("r1", note="köln"), tablet.defect("r2", note="b")
    answer = bench.push([*one, *two])
    first_seq = answer["seq"] - 1
    assert [(each["result"], each["seq"]) for each in answer["results"]] == [
        ("stored", first_seq),
        ("stored", first_seq + 1),
    ]
    again = bench.push([*two, *two, *one])
    assert [(each["result"], each["seq"]) for each in again["results"]] == [
        ("duplicate", first_seq + 1),
        ("duplicate", first_seq + 1),
        ("duplicate", first_seq),
    ]
    assert again["seq"] == answer["seq"]
    assert lines_in_order(bench)[-2:] == [one[0][1], two[0][1]]


def test_the_answer_names_book_epoch_and_server_time(bench):
    answer = bench.push([])
    assert answer["book"] == bench.new.book
    assert answer["server_time"] == bench.workshop.now_ms.now_ms
    assert answer["results"] == []


def test_a_bad_line_is_refused_with_a_reason_and_the_others_go_on(bench):
    tablet = bench.tablet()
    good = tablet.defect("r1", note="a")
    lines = [b"not json", b'{"id": 1}', good[0][1], b'{"a":1.5}', b"{}"]
    answer = push(bench.workshop, bench.new.book, body_of(lines))
    assert [one["result"] for one in answer["results"]] == [
        *("refused", "refused", "stored", "refused", "refused")
    ]
    for one in answer["results"]:
        assert one["result"] == "stored" or (one["code"] and one["reason"].endswith("."))


def test_the_same_id_with_other_bytes_is_refused_and_the_first_kept(bench):
    tablet = bench.tablet()
    [(entry, line)] = tablet.defect("r1", note="first")
    other = line.replace(b'"first"', b'"other"')
    answer = push(bench.workshop, bench.new.book, body_of([line, other]))
    assert [one["result"] for one in answer["results"]] == ["stored", "refused"]
    assert answer["results"][1]["code"] == "other_bytes"
    late = push(bench.workshop, bench.new.book, body_of([other]))
    assert late["results"][0]["code"] == "other_bytes"
    assert lines_in_order(bench)[-1] == line


def test_a_refused_line_is_remembered_so_that_chains_can_be_checked(bench):
    tablet = bench.tablet()
    first = tablet.defect("r1", note="a")
    [(_, broken)] = tablet.defect("r2", note="b")
    last = tablet.defect("r3", note="c")
    refused = broken.replace(b'"schema":1', b'"schema":0')
    push(bench.workshop, bench.new.book, body_of([first[0][1], refused, last[0][1]]))
    with bench.workshop.reading() as connection:
        kept = connection.execute(text("SELECT id, n, sha256, code FROM refused_entry")).all()
        rows = connection.execute(text("SELECT id, sha256 FROM entry")).all()
    shas = {row.id: row.sha256 for row in rows}
    assert [(row.n, row.code) for row in kept] == [(2, "wrong_shape")]
    links = [link(one, shas[one.id]) for one, _ in (*first, *last)]
    lost = [Link(row.id, row.n, None, row.sha256) for row in kept]
    assert [one.what for one in chain_faults(links).faults] == ["gap"]
    assert "gap" not in [one.what for one in chain_faults(links, lost).faults]


def test_an_act_with_a_refused_entry_stops_waiting(bench):
    tablet = bench.tablet()
    stamp = {"defect": "r1", "act": "INSPECTED", "number": "01", "person": bench.new.lead,
             "list": {"count": 0, "sha256": "00" * 32}}  # fmt: skip
    first, second = tablet.write(
        Draft("s1", "stamp", stamp, relies=[bench.role_entry]),
        Draft("s2", "stamp", stamp, relies=[bench.role_entry]),
    )
    bench.push([first])
    assert verdict_of(bench, first) == "waits"
    broken = second[1].replace(b'"schema":1', b'"schema":0')
    push(bench.workshop, bench.new.book, body_of([broken]))
    assert verdict_of(bench, first) == "does not count"


def verdict_of(bench, written):
    with bench.workshop.reading() as connection:
        asked = text("SELECT verdict FROM entry WHERE id = :id")
        kept = connection.execute(asked, {"id": written[0].id}).scalar_one()
    return orjson.loads(kept)[0] if kept else "counts"


def test_a_stamp_of_time_ahead_is_stored_and_said(bench):
    tablet = bench.tablet()
    tablet.now_ms += 10 * 365 * 86_400_000
    [one] = bench.push(tablet.defect("r1", note="a"))["results"]
    assert (one["result"], one["ahead"]) == ("stored", True)
    with bench.workshop.writing() as connection:
        here = written_here(bench.workshop, connection, bench)
    assert here < f"{bench.workshop.now_ms.now_ms:013d}-ffff"


@pytest.mark.parametrize("body", [b"{}", b"{}\n{}"])
def test_a_body_cut_short_changes_nothing(bench, body):
    before = lines_in_order(bench)
    assert refusal(push, bench.workshop, bench.new.book, body).code == "cut_short"
    assert lines_in_order(bench) == before


def test_another_book_is_refused(bench):
    line = body_of([bench.tablet().defect("r1", note="a")[0][1]])
    before = lines_in_order(bench)
    assert refusal(push, bench.workshop, "another", line).code == "another_book"
    assert lines_in_order(bench) == before


def test_a_push_before_set_up_is_refused(workshop):
    assert refusal(push, workshop, "b", b"").code == "no_book"


def test_six_writers_at_once_get_their_seq_without_gap_or_double(bench):
    tablets = [bench.tablet(f"tablet{place}x") for place in range(6)]
    acts = {
        one.name: [one.defect(f"{one.name}{n}", note="a") for n in range(15)] for one in tablets
    }
    errors: list[Exception] = []

    def work(name):
        try:
            for act in acts[name]:
                bench.push(act)
        except Exception as error:
            errors.append(error)

    threads = [threading.Thread(target=work, args=(name,)) for name in acts]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert errors == []
    with bench.workshop.reading() as connection:
        seqs = list(connection.scalars(text("SELECT seq FROM entry ORDER BY seq")))
        last = connection.scalar(text("SELECT seq FROM book"))
    assert seqs == list(range(1, last + 1))
    assert len(lines_in_order(bench)) == last


def test_the_server_goes_on_with_its_own_chain_after_a_restart(bench):
    bench.tablet()
    again = open_bench(bench.workshop.folder.root.parent, seed=99)
    with again.writing() as connection:
        write = written_here(again, connection, bench)
    again.close()
    with bench.workshop.reading() as connection:
        rows = connection.execute(
            text("SELECT line, sha256 FROM entry WHERE device = 'server' ORDER BY seq")
        ).all()
    values = [orjson.loads(row.line) for row in rows]
    assert values[-1]["id"] == write
    assert values[-1]["n"] == 1
    assert [one.get("prev") for one in values] == [None, *(row.sha256 for row in rows[:-1])]


def written_here(workshop, connection, bench):
    draft = Draft("t9", "tablet", {"letter": "Z"}, relies=[bench.role_entry])
    return write_act_here(workshop, connection, bench.new.lead, [draft])[0].id


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text('abc_"\\/~\x7f\x1f', max_size=3), inner, max_size=3)
    ),
    max_leaves=12,
)


@settings(deadline=None, max_examples=300)
@given(JSON)
def test_the_fast_encoder_writes_the_same_bytes(value):
    assert fast_encode(value) == plain_encode(value)


DEEP = b"[" * 31 + b"1" + b"]" * 31
HARD_LINES = [
    *(b"1.0", b"1e3", b'{"a":1,"a":1}', b"[1 ]", b'"\\ud800"', b"9007199254740993", b"-0"),
    *(b"[1.5]", b'{"a":{"b":[-1.5]}}', b"[1e300]", b"[9007199254740993]", b"[-9007199254740992]"),
    *(b"[9007199254740991]", b"[18446744073709551616]", b"[NaN]", b"[-0]", b'{"__proto__":1}'),
    *(
        DEEP,
        b"[" + DEEP + b"]",
        b"[[" + DEEP + b"]]",
        b"[" * 2000,
        b"\xef\xbb\xbf1",
        b'{"\xc3\xa9":1}',
    ),
]


@settings(deadline=None, max_examples=300)
@given(st.binary(max_size=40) | st.sampled_from(HARD_LINES))
def test_the_fast_codec_takes_and_refuses_the_same_lines(line):
    def said(codec):
        try:
            return parse(line, codec)
        except RefusedLine as refused:
            return refused.code

    assert said(FAST) == said(PLAIN)


@pytest.mark.parametrize("line", HARD_LINES)
def test_the_fast_codec_takes_and_refuses_the_hard_lines_alike(line):
    def said(codec):
        try:
            return parse(line, codec)
        except RefusedLine as refused:
            return refused.code

    assert said(FAST) == said(PLAIN)


def test_an_entry_of_another_kind_gives_nobody_a_role_and_takes_nobody_away(bench):
    fitter = add_person(bench.workshop, bench.new.lead, "Fitter", "fitter", "", "222222")
    tablet = bench.tablet()
    before = people_here(bench.workshop, with_unlock=False)
    role = {"role": "lead", "from": "2025-11-01"}
    for kind in ("a_kind_of_later", "zzz", "defect", "tablet"):
        bench.push(tablet.write(Draft(fitter, kind, {"role": role, "note": "a", "letter": "B"})))
        bench.push(tablet.write(Draft(bench.new.lead, kind, {"note": "a", "letter": "B"})))
    assert people_here(bench.workshop, with_unlock=False) == before


def test_an_entry_of_another_kind_decides_nothing_about_a_defect_and_hides_none(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001", note="a"))
    rows = list_defects(bench.workshop, {})
    for kind in ("a_kind_of_later", "zzz", "photograph"):
        said = {"stage": "Stage 1", "overrule": {"grade": 0}, "disposition": "Accept as is"}
        bench.push(tablet.write(Draft("d1", kind, said | {"role": "wide"})))
    assert list_defects(bench.workshop, {}) == rows
    before = derived(bench.workshop)
    with bench.workshop.writing() as connection:
        rebuild(connection, bench.workshop.files)
    assert derived(bench.workshop) == before


def by_server(bench, writer):
    tablet = bench.tablet()
    return Tablet("server", tablet.token, tablet.book, tablet.by, tablet.role_entry, writer)


def test_the_server_goes_on_where_it_was_after_its_older_entries_came_again(bench):
    workshop = bench.workshop
    add_person(workshop, bench.new.lead, "One", "clerk", "", "111111")
    bench.push(by_server(bench, "oldserv1").write(Draft("s1", "survey", {"title": "a"})))
    add_person(workshop, bench.new.lead, "Two", "clerk", "", "222222")
    asked = text("SELECT n FROM entry WHERE writer = :writer ORDER BY seq")
    with workshop.reading() as connection:
        numbers = list(connection.scalars(asked, {"writer": workshop.writer}))
    assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize(("ms", "n"), [(0, 2**53 - 2), (MAX_MS, 3)], ids=["last number", "last ms"])
def test_an_entry_forged_in_the_name_of_the_server_does_not_stop_it(bench, ms, n):
    workshop = bench.workshop
    forger = by_server(bench, workshop.writer)
    forger.chain = Chain(Clock(workshop.writer, ms, 0xFFFE), n, "ab" * 32)
    [answer] = bench.push(forger.write(Draft("s1", "survey", {"title": "a"})))["results"]
    assert answer["result"] == "stored"
    person = add_person(workshop, bench.new.lead, "Two", "clerk", "", "222222")
    assert person in {one["person"] for one in people_here(workshop, with_unlock=False)}
