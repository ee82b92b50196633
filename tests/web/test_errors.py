"""Whatever goes wrong comes out as {code, message, hint}, with the headers of every answer."""

import ast
from pathlib import Path

import pytest
import skinpin
from skinpin.services import photographs
from skinpin.services.push import MAX_BODY_BYTES
from skinpin.web.errors import STATUS, fault
from skinpin.web.guard import HEADERS
from sqlalchemy.exc import OperationalError

SHA = "ab" * 32
PRODUCERS = [
    # method, path, more, status, code
    ("GET", "/api/nothing", {}, 404, "no_such_address"),
    ("GET", "/nothing.txt", {}, 404, "no_such_address"),
    ("POST", "/airframe", {}, 405, "wrong_method"),
    ("DELETE", "/api/health", {}, 405, "wrong_method"),
    ("POST", "/api/sign-in", {"content": b"{", "headers": {"Content-Type": "application/json"}},
     422, "wrong_shape"),
    ("POST", "/api/sign-in", {"json": {"person": 5, "passcode": "x"}}, 422, "wrong_shape"),
    ("POST", "/api/sign-in", {"json": {"person": "a", "passcode": "x", "more": 1}},
     422, "wrong_shape"),
    ("POST", "/api/sign-in", {"content": b"person=a"}, 422, "wrong_shape"),
    ("POST", "/api/sign-in", {"content": rb'{"person":"\ud800","passcode":"\ud800"}',
     "headers": {"Content-Type": "application/json"}}, 422, "wrong_shape"),
    ("POST", "/api/sign-in", {"content": b"[" * (MAX_BODY_BYTES + 1),
     "headers": {"Content-Type": "application/json"}}, 413, "too_large"),
    ("GET", "/" + "a" * 300 + ".js", {}, 404, "no_such_address"),
    ("POST", "/api/sign-in", {"json": {"person": "a", "passcode": "123456"}},
     401, "wrong_passcode"),
    ("GET", "/api/health", {"headers": {"Host": "elsewhere.example"}}, 421, "wrong_host"),
    ("POST", "/api/sign-in", {"headers": {"Origin": "http://elsewhere.example"}, "json": {}},
     403, "wrong_origin"),
    ("POST", "/api/enrol", {"json": {"code": "AAAAA-AAAAA", "public_key": {}}},
     422, "wrong_shape"),
    ("POST", "/api/enrolment-codes", {}, 401, "not_signed_in"),
    ("GET", "/api/entries", {}, 401, "not_enrolled"),
    ("GET", "/api/people", {"token": "wrong"}, 401, "not_enrolled"),
    ("PUT", f"/api/photographs/{SHA}", {"content": b"x"}, 401, "not_enrolled"),
    ("GET", f"/api/photographs/{SHA}", {}, 401, "not_signed_in"),
    ("GET", "/api/defects", {}, 401, "not_signed_in"),
]  # fmt: skip


def check_shape(answer, status, code):
    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert answer.json().keys() == {"code", "message", "hint"}
    assert answer.json()["message"].endswith(".")
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS


@pytest.mark.parametrize(("method", "path", "more", "status", "code"), PRODUCERS)
def test_every_producer_of_errors_uses_the_one_shape(site, method, path, more, status, code):
    check_shape(site.ask(method, path, **more), status, code)


def test_a_signed_in_person_is_told_of_what_is_not_there_and_of_what_is_written_wrong(site):
    session = site.session_of("lead")
    for path, status, code in (
        (f"/api/photographs/{SHA}", 404, "no_such_photograph"),
        (f"/api/photographs/{SHA}?size=x", 422, "wrong_shape"),
        (f"/api/photographs/{SHA}?size=500", 422, "wrong_shape"),
        ("/api/photographs/abc", 422, "wrong_shape"),
        ("/api/defects/A0001", 404, "no_such_defect"),
        ("/api/defects/x", 422, "not_a_number"),
    ):
        check_shape(site.ask("GET", path, session=session), status, code)


def test_a_fault_of_the_server_says_nothing_of_its_inside(site, monkeypatch):
    def broken(*args):
        raise RuntimeError("password of the database")

    monkeypatch.setattr("skinpin.web.people_routes.health", broken)
    answer = site.ask("GET", "/api/health")
    check_shape(answer, 500, "fault")
    assert "password" not in answer.text


def test_a_full_disk_is_told_as_such(site, monkeypatch):
    def full(*args):
        raise OSError(28, "No space left on device")

    token = site.bench.tablet().token
    monkeypatch.setattr(photographs.Upload, "write", full)
    answer = site.ask("PUT", f"/api/photographs/{SHA}", token=token, content=b"x")
    check_shape(answer, 507, "disk_full")


def test_before_set_up_every_part_of_the_book_says_that_there_is_none(empty_site):
    for method, path, body in (
        ("POST", "/api/enrol", {"code": "AAAAA", "public_key": {}}),
        ("POST", "/api/sign-in", {"person": "a", "passcode": "123456"}),
    ):
        answer = empty_site.ask(method, path, json=body)
        assert answer.status_code in (401, 422)
        assert answer.json().keys() == {"code", "message", "hint"}
    assert empty_site.ask("GET", "/api/people").json() == []


def codes_used() -> set[str]:
    root = Path(skinpin.__file__).parent
    calls = [
        node
        for room in ("services", "storage", "imaging", "web")
        for file in (root / room).rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text()))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Refused"
    ]
    return {node.args[0].value for node in calls if isinstance(node.args[0], ast.Constant)}


def test_every_code_that_can_reach_the_web_has_a_status():
    assert len(codes_used()) > 10
    assert codes_used() - STATUS.keys() - {"which_lead"} == set()


def test_a_name_is_kept_in_one_spelling_and_one_too_long_is_told(site):
    session = site.session_of("lead")
    more = {"role": "clerk", "passcode": "123456", "stamp_number": "e\u0301"}
    for name, status in (("Ame\u0301lie", 200), ("A" * 70_000, 413)):
        answer = site.ask("POST", "/api/people", session=session, json={"name": name, **more})
        assert answer.status_code == status, answer.text
    people = {one["name"]: one for one in site.ask("GET", "/api/people").json()}
    assert people["Am\u00e9lie"]["stamp_number"] == "\u00e9"


LONE = '"\\ud800 alone"'


@pytest.mark.parametrize(
    ("method", "path", "body"),
    [
        ("POST", "/api/people", '{"name": %s, "role": "clerk", "passcode": "123456"}'),
        ("POST", "/api/paper", '{"typed": {"note": %s, "found_by": %s}}'),
        ("POST", "/api/enrol", '{"code": %s, "public_key": {}}'),
        ("POST", "/api/sign-in", '{"person": %s, "passcode": %s}'),
        ("POST", "/api/reports", '{"zones": [%s]}'),
        ("GET", "/api/defects?find=%%ED%%A0%%80&zone=%%00", ""),
        ("GET", "/api/defects/%%ED%%A0%%80", ""),
        ("GET", "/api/exports/defects.csv?zone=%%0d%%0aX-A:%%20b", ""),
    ],
)
def test_half_a_character_is_told_or_kept_and_never_a_fault(site, method, path, body):
    session = site.session_of("lead")
    content = (body % ((LONE,) * body.count("%s"))).encode()
    answer = site.ask(
        method, path.replace("%%", "%"), session=session, content=content,
        headers={"content-type": "application/json"},
    )  # fmt: skip
    assert answer.status_code < 500, answer.text
    if answer.status_code >= 400:
        assert set(answer.json()) == {"code", "message", "hint"}


def test_a_cursor_beyond_every_number_is_told(site):
    tablet = site.bench.tablet()
    path = f"/api/entries?book={site.bench.new.book}&after={10**20}"
    check_shape(site.ask("GET", path, token=tablet.token), 422, "wrong_shape")


@pytest.mark.parametrize(
    "said",
    [
        "database or disk is full",
        'could not extend file "base/16384/16402": No space left on device\nHINT:  Check free disk',
    ],
)
def test_a_full_disk_is_said_in_one_way_whichever_database_meets_it(said):
    error = OperationalError("INSERT", {}, Exception(said))
    answer = fault("POST /api/entries", error)
    assert answer.status_code == 507
    assert b'"disk_full"' in answer.body
