"""Nobody gets in by a foreign name, a foreign page or a script of elsewhere."""

import pytest

POLICY = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "connect-src 'self'",
    "manifest-src 'self'",
    "worker-src 'self'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
}


@pytest.mark.parametrize("path", ["/", "/api/health", "/assets/main-1a2b.js", "/api/nothing"])
def test_every_answer_carries_the_policy(site, path):
    headers = site.ask("GET", path).headers
    assert set(headers["content-security-policy"].split("; ")) == POLICY
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"


@pytest.mark.parametrize("host", ["testserver", "TESTSERVER", "testserver:8703"])
def test_a_known_name_is_let_in_on_any_port(site, host):
    assert site.ask("GET", "/api/health", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["", "testserver.evil.example", "evil.example:testserver", "test server", "@testserver"]
)
def test_a_foreign_or_broken_name_is_refused(site, host):
    answer = site.ask("GET", "/api/health", headers={"Host": host})
    assert (answer.status_code, answer.json()["code"]) == (421, "wrong_host")


@pytest.mark.parametrize(
    ("origin", "status"),
    [
        ({"Origin": "http://testserver"}, 204),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "http://testserver.evil.example"}, 403),
        ({"Origin": "null"}, 403),
        ({}, 403),
    ],
)
def test_a_change_with_a_cookie_needs_the_own_origin(site, origin, status):
    headers = {"Cookie": "skinpin_session=x", **origin}
    assert site.client.post("/api/sign-out", headers=headers).status_code == status


def test_a_device_without_a_browser_needs_no_origin(site):
    token = site.bench.tablet().token
    headers = {"Authorization": f"Bearer {token}"}
    answer = site.client.post("/api/photographs/missing", json={"sha256": []}, headers=headers)
    assert answer.status_code == 200
