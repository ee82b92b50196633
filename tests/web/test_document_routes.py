"""The documents over HTTP: only for people signed in, with the right names and types."""

import shutil

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
    lines = answer.text.split("\r\n")
    assert lines[0].startswith("number,also_numbers,state,grade,")
    numbers = [f"A/{n:04}" for n in range(1, 27)] + [f"B/{n:04}" for n in range(1, 20)]
    assert [line[:6] for line in lines[1:-1]] == numbers
