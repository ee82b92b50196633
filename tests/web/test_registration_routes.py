"""Laying one photograph on another over the wire."""

import pytest
from skinpin.imaging.turns import MOST_WAITING
from skinpin.services import registration
from skinpin.services.photographs import keep_bytes

from tests.imaging.plates import jpeg, plate, seen_again

SHA = "ab" * 32


@pytest.fixture
def ask(site):
    session = site.session_of("clerk")

    def asked(sha256, body):
        path = f"/api/photographs/{sha256}/register"
        return site.ask("POST", path, session=session, json=body)

    return asked


def test_a_pair_is_told_and_nothing_is_stored(site, ask):
    grey = plate(31)
    again, _ = seen_again(grey, 31)
    one, other = (keep_bytes(site.bench.workshop, jpeg(each)) for each in (grey, again))
    before = site.client.get("/api/health").json()["seq"]
    told = ask(one, {"with": other}).json()
    assert set(told) == {"to_other", "turn_deg", "scale_percent", "inliers", "cells", "offered",
                         "reason"}  # fmt: skip
    assert told["offered"] is True
    assert len(told["to_other"]) == 9
    assert site.client.get("/api/health").json()["seq"] == before


@pytest.mark.parametrize("body", [{}, {"with": 1}, {"with": SHA, "size": 3}, {"with_": SHA}, []])
def test_a_wrong_body_is_refused(ask, body):
    answer = ask(SHA, body)
    assert answer.status_code == 422
    assert answer.json()["code"] == "wrong_shape"


def test_a_photograph_that_is_not_here_and_a_hash_that_is_none_are_refused(ask):
    assert ask(SHA, {"with": SHA}).json()["code"] == "no_such_photograph"
    assert ask("short", {"with": SHA}).status_code in (404, 422)


def test_where_two_wait_the_next_is_told_before_anything_is_rendered(site, ask, monkeypatch):
    sha256 = keep_bytes(site.bench.workshop, jpeg(plate(32)))
    monkeypatch.setattr(registration._TURNS, "_inside", 1 + MOST_WAITING)
    monkeypatch.setattr(site.bench.workshop, "renderer", None)
    answer = ask(sha256, {"with": sha256})
    assert (answer.status_code, answer.json()["code"]) == (429, "wait")
