"""Every operation of /openapi.json, asked with whatever its schema allows and does not allow.

The answer is never a fault, and an error has the one shape of errors. `OPENAPI_EXAMPLES` asks for
more than CI has time for.
"""

import os

import pytest
import schemathesis
from hypothesis import HealthCheck, given, note, settings
from skinpin.services.signing import sign_in
from skinpin.web.guard import COOKIE
from skinpin.web.server import build_server

from tests.benches import PASSCODE, open_bench, set_up
from tests.web.conftest import ORIGIN

EXAMPLES = int(os.environ.get("OPENAPI_EXAMPLES", "25"))


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    folder = tmp_path_factory.mktemp("openapi")
    static = folder / "static"
    (static / "assets").mkdir(parents=True)
    (static / "index.html").write_text("<!doctype html>")
    bench = set_up(open_bench(folder / "book"))
    app = build_server(bench.workshop, ["testserver"], static)
    token = bench.tablet().token
    app.state.asking = {
        "Authorization": f"Bearer {token}",
        "Cookie": f"{COOKIE}={sign_in(bench.workshop, bench.new.lead, PASSCODE).token}",
        **ORIGIN,
    }
    bench.push(bench.tablet("tabletb1").defect("d1", number="A/0001", note="one"))
    yield app
    bench.workshop.close()


def test_no_question_is_a_fault(served):
    found = schemathesis.openapi.from_asgi("/openapi.json", served)
    operations = [one.ok() for one in found.get_all_operations()]
    assert len(operations) > 30
    for operation in operations:
        expect_no_fault(operation, served)


def expect_no_fault(operation, served):
    """Ask one operation; a person's sign-in must outlast it, so signing out is not sent."""
    if operation.path == "/api/sign-out":
        return

    @settings(deadline=None, max_examples=EXAMPLES, suppress_health_check=list(HealthCheck))
    @given(case=operation.as_strategy())
    def ask(case):
        answer = case.call(headers=served.state.asking)
        note(f"{case.method} {case.formatted_path}: {answer.status_code} {answer.content[:300]}")
        assert answer.status_code < 500 or answer.status_code == 507
        if answer.status_code >= 400:
            assert set(answer.json()) == {"code", "message", "hint"}

    try:
        ask()
    except BaseException as error:
        error.add_note(operation.label)
        raise
