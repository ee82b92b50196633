"""Files of memory sticks over the wire, in pieces."""

import time

from tests.bags import stick_tablet, zipped


def a_file(site, stick=None):
    stick = stick or stick_tablet(site.bench)
    [(_, line)] = stick.tablet.defect("d1", number="A/0001")
    return zipped(stick.files([line], [b"\xff\xd8\xff" + b"p" * 5000]))


def send(site, session, content, piece=2000):
    """Send a file in pieces; return its address."""
    told = {"size_bytes": len(content)}
    began = site.ask("POST", "/api/stick-files", session=session, json=told)
    assert began.status_code == 201
    path = f"/api/stick-files/{began.json()['id']}"
    for at in range(0, len(content), piece):
        put = site.ask("PUT", f"{path}?at={at}", session=session, content=content[at : at + piece])
        assert put.json()["here_bytes"] == min(at + piece, len(content))
    return path


def ended(site, session, path):
    for _ in range(200):
        job = site.ask("GET", path, session=session).json()
        if job["state"] in ("done", "refused"):
            return job
        time.sleep(0.02)
    raise AssertionError(job)


def test_a_file_comes_in_pieces_and_is_taken_in_once(site):
    session, content = site.session_of("lead"), a_file(site)
    path = send(site, session, content)
    assert site.ask("POST", f"{path}/take-in", session=session, json={}).status_code == 202
    taken = ended(site, session, path)["taken"]
    assert (taken["letter"], taken["stored"], taken["photographs_stored"]) == ("A", 1, 1)
    path = send(site, session, content, piece=100_000)
    site.ask("POST", f"{path}/take-in", session=session, json={})
    taken = ended(site, session, path)["taken"]
    assert (taken["entries"], taken["stored"], taken["photographs_stored"]) == (1, 0, 0)


def test_a_piece_may_come_twice_and_one_that_leaves_a_gap_is_refused(site):
    session, content = site.session_of("clerk"), a_file(site)
    path = send(site, session, content)
    again = site.ask("PUT", f"{path}?at=0", session=session, content=content[:2000])
    assert again.json()["here_bytes"] == len(content)
    told = {"size_bytes": len(content)}
    path = f"/api/stick-files/{site.ask('POST', '/api/stick-files', session=session, json=told).json()['id']}"  # noqa: E501
    for at, piece, code in (
        (10, b"x", "cut_short"),
        (-1, b"x", "too_large"),
        (0, content + b"x", "too_large"),
    ):
        answer = site.ask("PUT", f"{path}?at={at}", session=session, content=piece)
        assert answer.json()["code"] == code
    early = site.ask("POST", f"{path}/take-in", session=session, json={})
    assert (early.status_code, early.json()["code"]) == (400, "cut_short")


def test_a_faulty_file_is_refused_with_a_sentence_and_stores_nothing(site):
    session, content = site.session_of("lead"), a_file(site)
    path = send(site, session, content[:-30])
    site.ask("POST", f"{path}/take-in", session=session, json={})
    job = ended(site, session, path)
    assert (job["state"], job["trouble"]["code"]) == ("refused", "not_a_bag")
    assert site.ask("GET", "/api/health").json()["seq"] == 4


def test_a_lost_tablets_file_goes_on_with_a_leads_reason(site):
    session, stick = site.session_of("lead"), stick_tablet(site.bench)
    content = a_file(site, stick)
    site.ask("POST", f"/api/devices/{stick.record}/end", session=session, json={"reason": "lost"})
    path = send(site, session, content)
    site.ask("POST", f"{path}/take-in", session=session, json={})
    assert ended(site, session, path)["trouble"]["code"] == "lost_tablet"
    site.ask("POST", f"{path}/take-in", session=session, json={"reason": "found in the bilge"})
    assert ended(site, session, path)["state"] == "done"


def test_nobody_sees_or_moves_the_file_of_another(site):
    lead, clerk = site.session_of("lead"), site.session_of("clerk")
    path = send(site, lead, a_file(site))
    for method, way in (("GET", ""), ("PUT", "?at=0"), ("POST", "/take-in")):
        more = {"json": {}} if method == "POST" else {}
        answer = site.ask(method, f"{path}{way}", session=clerk, **more)
        assert (answer.status_code, answer.json()["code"]) == (404, "no_such_file")


def test_a_file_without_a_size_or_beyond_the_limit_is_refused(site):
    session = site.session_of("lead")
    for size in (0, -1, 2**32):
        answer = site.ask("POST", "/api/stick-files", session=session, json={"size_bytes": size})
        assert (answer.status_code, answer.json()["code"]) == (413, "too_large")
