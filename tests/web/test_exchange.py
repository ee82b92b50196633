"""Entries and photographs over the wire."""

import asyncio
import copy
import hashlib
import json

import pytest
from skinpin.services.push import MAX_BODY_BYTES
from skinpin.storage.photographs_in_bucket import PhotographsInBucket
from skinpin.web.server import build_server
from skinpin_sync.chain import Draft
from sqlalchemy import event

from tests.benches import DEFINITION, body_of
from tests.imaging.pictures import picture
from tests.storage.power_cuts import files_below
from tests.sync.client import from_page


def sha256(content):
    return hashlib.sha256(content).hexdigest()


def test_entries_go_in_and_come_out(site):
    tablet = site.bench.tablet()
    lines = [line for _, line in tablet.defect("d1", note="a")]
    answer = site.ask(
        "POST", f"/api/entries?book={tablet.book}", token=tablet.token, content=body_of(lines)
    )
    assert answer.json()["results"][0]["result"] == "stored"
    page = site.ask("GET", f"/api/entries?book={tablet.book}", token=tablet.token)
    assert page.headers["content-type"] == "application/x-ndjson"
    head, told = from_page(page.content)
    assert told[-1:] == lines
    assert head["seq"] == answer.json()["seq"]
    session = site.session_of("lead")
    [row] = site.ask("GET", "/api/defects", session=session).json()
    assert row["record"] == "d1"


def test_a_record_is_found_by_its_number(site):
    tablet = site.bench.tablet()
    site.bench.push(tablet.defect("d1", number="A/0017"))
    session = site.session_of("lead")
    for written in ("A0017", "a0017"):
        [row] = site.ask("GET", f"/api/defects/{written}", session=session).json()
        assert row["number"] == "A/0017"


def test_a_number_given_up_still_finds_its_record(site):
    tablet = site.bench.tablet()
    [(first, _)] = written = tablet.defect("d1", number="A/0017")
    site.bench.push(written)
    again = Draft("d1", "defect", {"number": "A/0018"}, {"number": [first.id]})
    site.bench.push(tablet.write(again))
    session = site.session_of("lead")
    [row] = site.ask("GET", "/api/defects/A0017", session=session).json()
    assert (row["number"], row["also_numbers"]) == ("A/0018", ["A/0017"])


def test_a_body_over_the_limit_is_refused(site):
    tablet = site.bench.tablet()
    body = b"x" * (MAX_BODY_BYTES + 1)
    answer = site.ask("POST", f"/api/entries?book={tablet.book}", token=tablet.token, content=body)
    assert (answer.status_code, answer.json()["code"]) == (413, "too_large")


def test_a_digest_tells_which_entries_the_log_holds_up_to_a_seq(site):
    tablet = site.bench.tablet()
    path = f"/api/entries/digest?book={tablet.book}"
    site.bench.push(tablet.defect("d1"))
    page = site.ask("GET", f"/api/entries?book={tablet.book}", token=tablet.token)
    head, *lines = [json.loads(line) for line in page.content.splitlines()]
    for upto in (0, 1, head["seq"] - 1, head["seq"], head["seq"] + 1):
        ids = sorted(line["id"] for line in lines[:upto])
        told = site.ask("GET", f"{path}&upto={upto}", token=tablet.token).json()
        expected = {"entries": len(ids), "sha256": sha256("\n".join(ids).encode())}
        assert told == {"epoch": head["epoch"], **expected}
    other = site.ask("GET", "/api/entries/digest?book=other&upto=1", token=tablet.token)
    assert (other.status_code, other.json()["code"]) == (409, "another_book")


def test_a_photograph_goes_in_once_and_comes_out_as_it_was(site):
    tablet, content = site.bench.tablet(), picture((2000, 700))
    path = f"/api/photographs/{sha256(content)}"
    asked = {"sha256": [sha256(content)]}
    missing = site.ask("POST", "/api/photographs/missing", token=tablet.token, json=asked)
    assert missing.json() == {"missing": [sha256(content)]}
    assert site.ask("PUT", path, token=tablet.token, content=content).status_code == 201
    assert site.ask("PUT", path, token=tablet.token, content=content).status_code == 200
    missing = site.ask("POST", "/api/photographs/missing", token=tablet.token, json=asked)
    assert missing.json() == {"missing": []}
    got = site.ask("GET", path, token=tablet.token)
    assert (got.content, got.headers["content-type"]) == (content, "image/jpeg")
    assert "immutable" in got.headers["cache-control"]
    session = site.session_of("clerk")
    small = site.ask("GET", f"{path}?size=320", session=session)
    assert small.headers["content-type"] == "image/jpeg"
    assert len(small.content) < len(content)


def test_damaged_bytes_are_refused_and_leave_nothing(site):
    tablet = site.bench.tablet()
    before = files_below(site.bench.workshop.folder.root)
    answer = site.ask(
        "PUT", f"/api/photographs/{sha256(b'right')}", token=tablet.token, content=b"wrong"
    )
    assert (answer.status_code, answer.json()["code"]) == (422, "wrong_sha256")
    assert files_below(site.bench.workshop.folder.root) == before


@pytest.mark.parametrize("sent", [0, 1, 3])
async def test_a_device_that_leaves_while_sending_leaves_nothing(bench, static, caplog, sent):
    app = build_server(bench.workshop, ["testserver"], static)
    token, content = bench.tablet().token, b"x" * 4000
    before = files_below(bench.workshop.folder.root)
    messages = [
        {"type": "http.request", "body": content[:1000], "more_body": True} for _ in range(sent)
    ] + [{"type": "http.disconnect"}]

    async def receive():
        return messages.pop(0)

    async def send(message):
        pass

    headers = [(b"host", b"testserver"), (b"authorization", f"Bearer {token}".encode())]
    path = f"/api/photographs/{sha256(content)}"
    scope = {"type": "http", "method": "PUT", "path": path, "raw_path": path.encode(),
             "query_string": b"", "headers": headers, "scheme": "http",
             "server": ("testserver", 80), "client": ("127.0.0.1", 5), "root_path": "",
             "http_version": "1.1", "app": app}  # fmt: skip
    await app(scope, receive, send)
    assert files_below(bench.workshop.folder.root) == before
    assert [record for record in caplog.records if record.exc_info] == []


def test_a_definition_with_troubles_sets_no_book_up_over_the_wire(empty_site):
    pages = {"workshop": "Quay Shed", "time_zone": "Europe/London", "unit": "in",
             "lead_name": "Lead One", "passcode": "471108"}  # fmt: skip
    turned = copy.deepcopy(DEFINITION)
    members = turned["structures"][0]["members"]
    members.reverse()
    twice = copy.deepcopy(turned)
    twice["structures"][0]["members"][0]["station"] = "168.0"
    answer = empty_site.ask("POST", "/api/setup", json=pages | {"definition": twice})
    assert (answer.status_code, answer.json()["code"]) == (422, "bad_definition")
    assert answer.json()["message"] == "F8 and F7 both stand at Sta 168 in."
    assert empty_site.ask("GET", "/api/setup").json() == {"empty": True}
    told = empty_site.ask("POST", "/api/setup", json=pages | {"definition": turned}).json()
    assert told["said"] == [
        "Hull is not typed in order of station: F7, F6, F5, F4, F3 and 2 more.",
    ]


def test_setting_up_over_the_wire_signs_the_lead_in(empty_site):
    assert empty_site.ask("GET", "/api/setup").json() == {"empty": True}
    pages = {"workshop": "Quay Shed", "time_zone": "Europe/London", "unit": "in",
             "lead_name": "Lead One", "passcode": "471108", "definition": DEFINITION}  # fmt: skip
    answer = empty_site.ask("POST", "/api/setup", json=pages)
    assert answer.status_code == 200
    assert answer.json()["role"] == "lead"
    session = answer.cookies["skinpin_session"]
    assert empty_site.ask("GET", "/api/session", session=session).json()["name"] == "Lead One"
    assert empty_site.ask("GET", "/api/setup").json() == {"empty": False}
    assert empty_site.ask("POST", "/api/setup", json=pages).json()["code"] == "book_exists"
    health = empty_site.ask("GET", "/api/health").json()
    assert (health["status"], health["book"]) == ("ok", answer.json()["book"])
    assert health["seq"] == 3


def test_a_database_that_is_full_stores_nothing_and_says_so(site):
    tablet = site.bench.tablet()
    pages = []

    def hold(raw, record, proxy):
        if pages:
            raw.execute(f"PRAGMA max_page_count = {pages[0]}")

    engine = site.bench.workshop.engine
    event.listen(engine, "checkout", hold)
    with site.bench.workshop.reading() as connection:
        pages.append(connection.exec_driver_sql("PRAGMA page_count").scalar_one())
    written = [line for n in range(300) for line in tablet.defect(f"d{n}", note="x" * 2000)]
    path, body = f"/api/entries?book={tablet.book}", body_of(line for _, line in written)
    answer = site.ask("POST", path, token=tablet.token, content=body)
    assert (answer.status_code, answer.json()["code"]) == (507, "disk_full")
    pages[0] = 10**6
    answer = site.ask("POST", path, token=tablet.token, content=body).json()
    assert {one["result"] for one in answer["results"]} == {"stored"}


def test_whoever_watches_the_server_may_ask_for_the_head_alone(site):
    answer = site.ask("HEAD", "/api/health")
    assert (answer.status_code, answer.content) == (200, b"")


def test_a_slow_store_is_asked_beside_the_thread_that_serves_everybody(site, monkeypatch):
    """Whether a file is here is a question over the network where photographs lie in a store."""
    tablet, folder = site.bench.tablet(), site.bench.workshop.folder
    monkeypatch.setattr(folder, "is_near", PhotographsInBucket.is_near)
    plain, on_loop = type(folder).exists, []

    def exists(sha256):
        try:
            asyncio.get_running_loop()
            on_loop.append(True)
        except RuntimeError:
            on_loop.append(False)
        return plain(folder, sha256)

    monkeypatch.setattr(folder, "exists", exists)
    for n in range(2):  # the second time the device is known
        content = b"\xff\xd8\xff" + bytes([n]) * 1000
        address = f"/api/photographs/{sha256(content)}"
        assert site.ask("PUT", address, token=tablet.token, content=content).status_code == 201
    assert on_loop == [False, False]
