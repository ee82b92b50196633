"""The scale card over the wire."""

import hashlib

from skinpin.imaging.turns import MOST_WAITING
from skinpin.services import scale_card

from tests.cards import as_jpeg, looked_at
from tests.imaging.test_cards import SIZE, TILTED, through


def kept(site, content):
    sha256 = hashlib.sha256(content).hexdigest()
    token = site.bench.tablet().token
    put = site.ask("PUT", f"/api/photographs/{sha256}", token=token, content=content)
    assert put.status_code == 201
    return sha256


def test_the_server_finds_the_card_and_says_how_far_it_lies_from_the_tablets(site):
    session = site.session_of("inspector")
    sha256 = kept(site, as_jpeg(looked_at(through(TILTED), SIZE)))
    address = f"/api/photographs/{sha256}/card"
    off = [[round(10 * x), round(10 * y)] for x, y in TILTED]
    off[2][0] += 30
    told = site.ask("POST", address, session=session, json={"points": off}).json()
    assert told["ids"] == [11, 12, 13, 14]
    assert abs(told["apart_px"] - 3) < 0.6
    alone = site.ask("POST", address, session=session, json={}).json()
    assert alone["points"] == told["points"]
    assert alone["apart_px"] is None


def test_a_photograph_without_a_card_or_none_at_all_is_refused(site):
    session = site.session_of("inspector")
    sha256 = kept(site, as_jpeg(looked_at(through([(x / 100, y / 100) for x, y in TILTED]), SIZE)))
    for name, status, code in ((sha256, 422, "no_card"), ("ab" * 32, 404, "no_such_photograph")):
        answer = site.ask("POST", f"/api/photographs/{name}/card", session=session, json={})
        assert (answer.status_code, answer.json()["code"]) == (status, code)


def test_what_are_no_points_is_refused(site):
    session = site.session_of("inspector")
    address = f"/api/photographs/{'ab' * 32}/card"
    for points in ([[1]], [[1, 2.5]], [[1, 2]] * 5, "x", [[1, 10**12]]):
        answer = site.ask("POST", address, session=session, json={"points": points})
        assert (answer.status_code, answer.json()["code"]) == (422, "wrong_shape")


def test_the_sheet_is_a_pdf_and_no_other_name_is_a_card(site):
    session = site.session_of("fitter")
    answer = site.ask("GET", "/api/scale-card.pdf?card=SC-2", session=session)
    assert answer.content.startswith(b"%PDF-")
    wrong = site.ask("GET", "/api/scale-card.pdf?card=../x", session=session)
    assert (wrong.status_code, wrong.json()["code"]) == (422, "no_such_card")


def test_where_two_wait_the_next_is_told_at_once(site, monkeypatch):
    sha256 = kept(site, as_jpeg(looked_at(through(TILTED), SIZE)))
    monkeypatch.setattr(scale_card._TURNS, "_inside", 1 + MOST_WAITING)
    session = site.session_of("inspector")
    answer = site.ask("POST", f"/api/photographs/{sha256}/card", session=session, json={})
    assert (answer.status_code, answer.json()["code"]) == (429, "wait")
