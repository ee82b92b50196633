"""The one character that PostgreSQL takes in no text is no fault there either."""

import pytest
from fastapi.testclient import TestClient
from skinpin.services.signing import sign_in
from skinpin.web.guard import COOKIE
from skinpin.web.server import build_server

from tests.benches import PASSCODE, open_bench, set_up
from tests.storage.test_derive import empty_book
from tests.storage.zeros import ZERO, assert_zeros_are_kept


@pytest.fixture
def postgres_bench(tmp_path, new_database):
    bench = set_up(open_bench(tmp_path, new_database()))
    yield bench
    bench.workshop.close()


def test_a_zero_character_is_kept_wherever_it_stands(tmp_path, new_database):
    workshop = empty_book(tmp_path, new_database())
    try:
        assert_zeros_are_kept(workshop)
    finally:
        workshop.close()


def test_a_zero_character_in_a_question_is_no_fault(postgres_bench):
    app = build_server(postgres_bench.workshop, ["testserver"])
    session = sign_in(postgres_bench.workshop, postgres_bench.new.lead, PASSCODE).token
    cookie = {"Cookie": f"{COOKIE}={session}"}
    bearer = {"Authorization": f"Bearer {postgres_bench.tablet().token}"}
    with TestClient(app, raise_server_exceptions=False) as client:

        def ask(path, headers):
            return client.get(path, headers=headers).status_code

        for name in ("airframe", "zone", "state", "stage", "kind"):
            assert ask(f"/api/defects?{name}=%00", cookie) == 200
        assert ask("/api/defects/A%000001", cookie) == 422
        assert ask("/api/exports/defects.csv?zone=%00", cookie) < 500
        assert ask("/api/reports/zone/%00.pdf", cookie) < 500
        assert ask(f"/api/entries?book={postgres_bench.new.book}&at=%00&after=1", bearer) < 500
        assert ask("/api/photographs/%00", cookie) < 500
        said = {"person": ZERO, "passcode": ZERO}
        answer = client.post("/api/sign-in", json=said, headers={"Origin": "http://testserver"})
        assert answer.json()["code"] != "fault"
