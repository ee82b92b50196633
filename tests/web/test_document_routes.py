"""The documents over HTTP: only for people signed in, with the right names and types."""

import hashlib
import shutil
import time

import pytest
from fastapi.testclient import TestClient
from skinpin.app import open_workshop
from skinpin.services.people import person_named
from skinpin.services.signing import sign_in
from skinpin.settings import read_settings
from skinpin.web.guard import COOKIE
from skinpin.web.server import build_server
from skinpin_demo.histories import histories

from tests.ready_book import ready_book

ROUTES = ["/api/reports/zone/111.pdf", "/api/exports/defects.csv"]


@pytest.fixture(scope="module")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    return open_workshop(read_settings(folder, {"SKINPIN_TODAY": "2025-11-03"}))


@pytest.fixture(scope="module")
def client(workshop, tmp_path_factory):
    app = build_server(workshop, ["testserver"], tmp_path_factory.mktemp("static"))
    with TestClient(app, raise_server_exceptions=False) as opened:
        yield opened


@pytest.fixture(scope="module")
def signed_in(workshop, client):
    clerk = next(one for one in histories()["people"] if one["role"] == "clerk")
    token = sign_in(workshop, person_named(workshop, clerk["name"]), clerk["passcode"]).token
    return {"Cookie": f"{COOKIE}={token}"}


@pytest.mark.parametrize("route", ROUTES)
def test_nobody_gets_a_document_without_signing_in(client, route):
    answer = client.get(route)
    assert answer.status_code == 401
    assert answer.json()["code"] == "not_signed_in"


def test_the_report_is_a_pdf_named_after_its_zone(client, signed_in):
    answer = client.get(ROUTES[0], headers=signed_in)
    assert (answer.status_code, answer.content[:5]) == (200, b"%PDF-")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == 'inline; filename="zone-111.pdf"'
    assert answer.headers["cache-control"] == "no-store"


def test_a_zone_that_is_not_there_is_an_error_of_the_one_shape(client, signed_in):
    answer = client.get('/api/reports/zone/9"9.pdf', headers=signed_in)
    assert 400 <= answer.status_code < 500
    assert answer.json()["code"] == "no_such_zone"


def test_the_csv_has_a_row_for_each_record(client, signed_in):
    answer = client.get(ROUTES[1], headers=signed_in)
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert answer.headers["skinpin-records"] == "45"
    lines = answer.text.split("\r\n")
    assert lines[0].startswith("number,also_numbers,state,grade,")
    numbers = [f"A/{n:04}" for n in range(1, 27)] + [f"B/{n:04}" for n in range(1, 20)]
    assert [line[:6] for line in lines[1:-1]] == numbers


@pytest.mark.parametrize(("ending", "begin"), [("xlsx", b"PK"), ("jsonl", b"{")])
def test_the_book_is_handed_out_in_every_kind_and_by_zone(client, signed_in, ending, begin):
    answer = client.get(f"/api/exports/defects.{ending}?zone=111", headers=signed_in)
    assert answer.content.startswith(begin)
    assert answer.headers["skinpin-records"] == "3"
    named = f'attachment; filename="defects-zone-111.{ending}"'
    assert answer.headers["content-disposition"] == named


def test_a_kind_of_file_that_is_none_is_an_error_of_the_one_shape(client, signed_in):
    answer = client.get("/api/exports/defects.exe", headers=signed_in)
    assert (answer.status_code, answer.json()["code"]) == (404, "no_such_export")


def test_a_report_is_asked_for_watched_and_fetched(client, signed_in):
    headers = signed_in | {"Origin": "http://testserver"}
    asked = client.post("/api/reports", headers=headers, json={"zones": ["131"]})
    assert asked.status_code == 202
    [job] = asked.json()
    until = time.monotonic() + 60
    while (job := client.get("/api/reports", headers=signed_in).json()[0])["state"] != "done":
        assert job["state"] in ("waiting", "running"), job
        assert time.monotonic() < until
        time.sleep(0.05)
    pdf = client.get(f"/api/reports/{job['id']}.pdf", headers=signed_in)
    assert pdf.headers["content-disposition"] == 'attachment; filename="zone-131.pdf"'
    assert hashlib.sha256(pdf.content).hexdigest() == job["sha256"]
    after = client.post(f"/api/reports/{job['id']}/cancel", headers=headers)
    assert after.json()["state"] == "done"


def test_a_body_that_is_wrong_is_refused(client, signed_in):
    headers = signed_in | {"Origin": "http://testserver"}
    for body in ({}, {"zones": "111"}, {"zones": ["111"], "more": 1}, {"zones": ["9"] * 101}):
        answer = client.post("/api/reports", headers=headers, json=body)
        assert (answer.status_code, answer.json()["code"]) == (422, "wrong_shape")
