"""A replay tells what an old app would miss; planted faults show that it does."""

import pytest
from fastapi.testclient import TestClient
from skinpin.services import push
from skinpin.web.server import build_server
from skinpin_sync.exchange import Result

from tests.upgrades.releases import RELEASES, database_of, workshop_in
from tests.upgrades.replay import Replay, lacks


@pytest.mark.parametrize(
    ("recorded", "given", "said"),
    [
        ({"a": 1}, {"a": 2, "more": None}, []),
        ({"a": None}, {"a": "now given"}, []),
        ({"a": 1}, {}, ["answer lacks 'a'"]),
        ({"a": {"b": [1]}}, {"a": {"b": [1, 2]}}, ["answer.a.b has 2 instead of 1"]),
        ([{"a": "1"}], [{"a": 1}], ['answer[0].a is 1, not of the type of "1"']),
        ({"a": True}, {"a": None}, ["answer.a is null, not of the type of true"]),
    ],
)
def test_what_an_answer_lacks_is_told_and_what_it_has_more_is_not(recorded, given, said):
    assert list(lacks(recorded, given)) == said


@pytest.fixture
def replay(folder):
    """The last release's database, served by today's server, and a replay of what came after."""
    release = RELEASES[-1]
    file = database_of(release, folder / "book")
    with workshop_in(file.parent, release, f"sqlite:///{file}") as workshop:
        app = build_server(workshop, ["testserver"], folder / "no-page")
        one = Replay(TestClient(app), workshop)
        one.know(release.part("before"))
        yield one, release.part("after")
        app.state.reports.close()
        app.state.sticks.close()


def test_a_field_that_the_server_no_longer_tells_is_found(replay, monkeypatch):
    answer_all = push._answer_all

    def without_time(*given):
        return {name: one for name, one in answer_all(*given).items() if name != "server_time"}

    monkeypatch.setattr(push, "_answer_all", without_time)
    one, asked = replay
    pushes = sum(each["method"] == "POST" and "/api/entries?" in each["path"] for each in asked)
    troubles = one.play(asked)
    assert troubles.count("after: POST /api/entries: answer lacks 'server_time'") == pushes > 5


def test_a_server_that_turns_an_unknown_kind_away_is_found(replay, monkeypatch):
    judge = push.judge

    def strict(reads, held):
        return [
            Result(result.id, "refused", "wrong_shape", "No such kind.")
            if read.entry and read.entry.kind == "borescope_run"
            else result
            for read, result in zip(reads, judge(reads, held), strict=True)
        ]

    monkeypatch.setattr(push, "judge", strict)
    one, asked = replay
    assert any("'result': 'refused'" in trouble for trouble in one.play(asked))
