"""Pulling: pages that split no act, and a cursor that notices another log."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.pull import EPOCH_REST_MS, pull
from skinpin_sync.chain import Draft
from sqlalchemy import text

from tests.services.books import lines_in_order
from tests.sync.client import from_page


def page(bench, *, epoch="", after=0, at="", limit=500):
    body = pull(bench.workshop, bench.new.book, epoch=epoch, after=after, at=at, limit=limit)
    return from_page(body)


def follow(bench, limit):
    """Pull page after page from the start."""
    head, lines = page(bench, limit=limit)
    sizes = [len(lines)]
    while head["to"] < head["seq"]:
        head, more = page(bench, epoch=head["epoch"], after=head["to"], at=head["at"], limit=limit)
        sizes.append(len(more))
        lines += more
    return lines, sizes


def photo_act(tablet, place):
    return tablet.write(
        Draft(f"d{place}", "defect", {"note": "a"}),
        Draft(f"p{place}", "photograph", {"defect": f"d{place}"}),
        Draft(f"m{place}", "mark", {"photograph": f"p{place}"}),
    )


@pytest.mark.parametrize("limit", [1, 2, 3, 7, 1000])
def test_pages_bring_every_line_once_in_order_and_split_no_act(bench, limit):
    tablet = bench.tablet()
    bench.push([line for place in range(8) for line in photo_act(tablet, place)])
    lines, sizes = follow(bench, limit)
    assert lines == lines_in_order(bench)
    assert all(size >= min(limit, 3) or size < 3 for size in sizes)
    acts = [line[line.index(b'"act"') : line.index(b'"by"')] for line in lines]
    at = 0
    for size in sizes[:-1]:
        at += size
        assert acts[at] != acts[at - 1]


def test_an_act_longer_than_the_margin_stays_whole(bench):
    tablet = bench.tablet()
    bench.push(tablet.write(*(Draft(f"d{n}", "defect", {"note": "a"}) for n in range(100))))
    before = page(bench, limit=500)[0]["seq"] - 100
    head, lines = page(bench, limit=before + 1)
    assert len(lines) == before + 100
    assert head["to"] == head["seq"]


def test_a_page_after_the_last_entry_is_empty_and_moves_nothing(bench):
    head, _ = page(bench)
    after, lines = page(bench, epoch=head["epoch"], after=head["to"], at=head["at"])
    assert (lines, after["count"], after["to"], after["at"]) == ([], 0, head["to"], head["at"])
    assert after["epoch"] == head["epoch"]


ELSEWHERE = "1741400000000-0000-tableta1"


@pytest.mark.parametrize("at", ["", "x", "\0", ELSEWHERE[:-1], f"{ELSEWHERE} "])
def test_a_cursor_without_an_id_is_refused_and_draws_nothing(bench, at):
    head, _ = page(bench)
    with pytest.raises(Refused) as refusal:
        page(bench, epoch=head["epoch"], after=head["to"], at=at)
    assert refusal.value.code == "wrong_shape"
    assert page(bench)[0]["epoch"] == head["epoch"]


def test_a_device_can_not_draw_epoch_after_epoch(bench, caplog):
    first, _ = page(bench)
    fresh, _ = page(bench, epoch=first["epoch"], after=1, at=ELSEWHERE)
    assert f"{ELSEWHERE} at 1 of epoch {first['epoch']}" in caplog.text
    with pytest.raises(Refused) as refusal:
        page(bench, epoch=fresh["epoch"], after=1, at=ELSEWHERE)
    assert refusal.value.code == "wait"
    assert "60 minutes" in refusal.value.hint
    head, lines = page(bench, epoch=fresh["epoch"])
    assert (head["epoch"], len(lines)) == (fresh["epoch"], head["seq"])
    bench.workshop.now_ms.now_ms += EPOCH_REST_MS
    assert page(bench, epoch=fresh["epoch"], after=1, at=ELSEWHERE)[0]["epoch"] != fresh["epoch"]


def test_a_clock_put_back_keeps_nobody_waiting(bench):
    fresh, _ = page(bench, epoch=page(bench)[0]["epoch"], after=1, at=ELSEWHERE)
    bench.workshop.now_ms.now_ms -= 1000
    assert page(bench, epoch=fresh["epoch"], after=1, at=ELSEWHERE)[0]["epoch"] != fresh["epoch"]


def test_another_id_at_the_cursor_draws_a_new_epoch_once(bench):
    at = ELSEWHERE
    head, _ = page(bench)
    fresh, lines = page(bench, epoch=head["epoch"], after=head["to"], at=at)
    assert fresh["epoch"] != head["epoch"]
    assert (lines, fresh["to"], fresh["at"]) == ([], 0, "")
    again, _ = page(bench, epoch=head["epoch"], after=head["to"], at=at)
    assert again["epoch"] == fresh["epoch"]


def test_a_restored_older_log_draws_a_new_epoch(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", note="lost by the restore"))
    head, _ = page(bench)
    with bench.workshop.writing() as connection:
        connection.execute(text("DELETE FROM entry WHERE seq = (SELECT max(seq) FROM entry)"))
        connection.execute(text("UPDATE book SET seq = seq - 1"))
    fresh, _ = page(bench, epoch=head["epoch"], after=head["to"], at=head["at"])
    assert fresh["epoch"] != head["epoch"]


def test_an_older_epoch_is_told_the_new_one_and_changes_nothing(bench):
    head, _ = page(bench)
    told, lines = page(bench, epoch="an older epoch", after=3, at="x")
    assert (told["epoch"], lines, told["to"]) == (head["epoch"], [], 0)


def test_entries_stamped_ahead_come_with_their_arrival_time(bench):
    tablet = bench.tablet()
    tablet.now_ms += 10**11
    [(entry, _)] = written = tablet.defect("d1", note="a")
    arrived = bench.push(written)["server_time"]
    assert page(bench)[0]["ahead"] == {entry.id: arrived}


@pytest.mark.parametrize("wrong", [{"limit": 0}, {"limit": 1001}, {"after": -1}])
def test_a_wrong_question_is_refused(bench, wrong):
    with pytest.raises(Refused) as refused:
        page(bench, **wrong)
    assert refused.value.code == "wrong_shape"


def test_another_book_gets_nothing(bench):
    with pytest.raises(Refused) as refused:
        pull(bench.workshop, "another", epoch="", after=0, at="", limit=5)
    assert refused.value.code == "another_book"
