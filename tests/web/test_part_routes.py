"""Parts over the wire."""

import hashlib
import random

import pytest
from skinpin.storage.files import FileLayer
from skinpin.storage.photograph_parts import PART_BYTES
from skinpin.web.server import build_server

PICTURE = random.Random(7).randbytes(PART_BYTES + 100)
NAME = hashlib.sha256(PICTURE).hexdigest()
PATH = f"/api/photographs/{NAME}/parts"
PARTS = [PICTURE[:PART_BYTES], PICTURE[PART_BYTES:]]


def headers(content):
    told = hashlib.sha256(content).hexdigest()
    return {"Skinpin-Sha256": told, "Skinpin-Size-Bytes": str(len(PICTURE))}


def put(site, token, n, content=None, **more):
    content = PARTS[n] if content is None else content
    told = {**headers(content), **more}
    return site.ask("PUT", f"{PATH}/{n}", token=token, content=content, headers=told)


def test_a_photograph_comes_in_parts_and_goes_out_whole(site):
    token = site.bench.tablet().token
    asked = site.ask("GET", PATH, token=token)
    assert asked.json() == {"whole": False, "size_bytes": None, "here": []}
    answer = put(site, token, 1)
    assert (answer.status_code, answer.json()) == (200, {"missing": [0]})
    asked = site.ask("GET", PATH, token=token).json()
    assert asked == {"whole": False, "size_bytes": len(PICTURE), "here": [1]}
    body = {"sha256": [NAME, "ab" * 32]}
    asked = site.ask("POST", "/api/photographs/missing", token=token, json=body).json()
    assert asked == {"missing": [NAME, "ab" * 32], "begun": [NAME]}
    answer = put(site, token, 0)
    assert (answer.status_code, answer.json()) == (201, {"missing": []})
    assert put(site, token, 0).status_code == 200
    assert site.ask("GET", f"/api/photographs/{NAME}", token=token).content == PICTURE


@pytest.mark.parametrize(
    ("n", "content", "more", "status", "code"),
    [
        (0, b"short", {}, 400, "cut_short"),
        (1, PARTS[1] + b"x", {}, 413, "too_large"),
        (1, PARTS[1], {"Skinpin-Sha256": "ab" * 32}, 422, "wrong_sha256"),
        (1, PARTS[1], {"Skinpin-Sha256": "ab"}, 422, "wrong_shape"),
        (1, PARTS[1], {"Skinpin-Size-Bytes": "99999999999"}, 413, "too_large"),
        (1, PARTS[1], {"Skinpin-Size-Bytes": "none"}, 422, "wrong_shape"),
        (9, PARTS[1], {}, 422, "wrong_shape"),
    ],
)
def test_a_wrong_part_is_refused_and_nothing_is_kept(site, n, content, more, status, code):
    token = site.bench.tablet().token
    answer = put(site, token, n, content, **more)
    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert site.ask("GET", PATH, token=token).json()["here"] == []


def test_a_part_without_its_hash_is_refused(site):
    answer = site.ask("PUT", f"{PATH}/0", token=site.bench.tablet().token, content=PARTS[0])
    assert (answer.status_code, answer.json()["code"]) == (422, "wrong_shape")


def test_a_full_disk_is_answered(site, monkeypatch):
    def full(layer, file, at, part):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(FileLayer, "write_at", full)
    token = site.bench.tablet().token
    answer = put(site, token, 0)
    assert (answer.status_code, answer.json()["code"]) == (507, "disk_full")
    monkeypatch.undo()
    assert put(site, token, 0).json() == {"missing": [1]}


@pytest.mark.parametrize("sent", [0, 1, 3])
async def test_a_device_that_leaves_in_the_middle_of_a_part_leaves_nothing(
    bench, static, caplog, sent
):
    app = build_server(bench.workshop, ["testserver"], static)
    token = bench.tablet().token
    messages = [
        {"type": "http.request", "body": PARTS[0][:1000], "more_body": True} for _ in range(sent)
    ] + [{"type": "http.disconnect"}]

    async def receive():
        return messages.pop(0)

    async def send(message):
        pass

    told = [(name.lower().encode(), value.encode()) for name, value in headers(PARTS[0]).items()]
    scope = {"type": "http", "method": "PUT", "path": f"{PATH}/0", "raw_path": PATH.encode(),
             "query_string": b"", "scheme": "http", "server": ("testserver", 80),
             "headers": [(b"host", b"testserver"),
                         (b"authorization", f"Bearer {token}".encode()), *told],
             "client": ("127.0.0.1", 5), "root_path": "", "http_version": "1.1",
             "app": app}  # fmt: skip
    await app(scope, receive, send)
    assert bench.workshop.parts.begun(NAME) is None
    assert [record for record in caplog.records if record.exc_info] == []
