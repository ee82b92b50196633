"""Drawings over the wire."""

import pytest

from tests.imaging.pictures import picture
from tests.imaging.sheets import pdf, svg

PLACES = [(0.0, 0.0), (300.0, 0.0), (300.0, 90.0)]


def point(at, off=0.0):
    return {"px": [20 + 3 * at[0] + off, 400 - 3 * at[1]], "at": list(at)}


@pytest.fixture
def lead(site):
    session = site.session_of("lead")
    return lambda path, **more: site.ask("POST", path, session=session, **more)


@pytest.mark.parametrize(
    ("content", "kind", "pages"),
    [(svg(), "image/svg+xml", 1), (pdf(["red", "blue"]), "application/pdf", 2),
     (picture((600, 200)), "image/jpeg", 1)],
)  # fmt: skip
def test_a_drawing_is_taken_in_and_handed_out_as_a_picture(site, lead, content, kind, pages):
    path = f"/api/drawings?page={pages}"
    answer = lead(path, content=content, headers={"Content-Type": kind})
    assert answer.status_code == 201
    told = answer.json()
    assert told["pages"] == pages
    found = site.ask("GET", f"/api/photographs/{told['sha256']}", session=site.session_of("clerk"))
    assert found.headers["Content-Type"] == told["media_type"]
    assert len(found.content) == told["size_bytes"]


@pytest.mark.parametrize(
    ("path", "content", "status", "code"),
    [
        ("/api/drawings", b"none", 422, "unreadable_picture"),
        ("/api/drawings?page=2", picture(), 422, "no_such_page"),
        ("/api/drawings?page=0", picture(), 422, "wrong_shape"),
        ("/api/drawings?page=x", picture(), 422, "wrong_shape"),
        ("/api/drawings", b"\x89PNG" * (9 * 1024 * 1024), 413, "too_large"),
    ],
)
def test_what_is_no_drawing_is_refused(lead, path, content, status, code):
    answer = lead(path, content=content)
    assert (answer.status_code, answer.json()["code"]) == (status, code)


def test_a_drawing_larger_than_other_bodies_is_read(lead):
    answer = lead("/api/drawings", content=b"%PDF-" + bytes(9 * 1024 * 1024))
    assert answer.json()["code"] == "unreadable_picture"


def test_points_are_fitted_and_the_check_point_is_held_against_its_limit(lead):
    body = {"points": [point(at) for at in PLACES], "second": "water line"}
    told = lead("/api/drawings/fit", json={**body, "check": point((150.0, 45.0))}).json()
    assert told["method"] == "affine"
    assert told["to_picture"] == pytest.approx([3, 0, 20, 0, -3, 400, 0, 0, 1], abs=1e-9)
    assert (told["span"], told["limit"], told["mirrored"]) == (300, 1.5, False)
    assert told["check_error"] == pytest.approx(0, abs=1e-9)
    assert (len(told["errors"]), len(told["fitted_px"]), told["troubles"]) == (3, 3, [])
    off = lead("/api/drawings/fit", json={**body, "check": point((150.0, 45.0), 6.0)}).json()
    assert off["check_error"] == pytest.approx(2)
    (trouble,) = off["troubles"]
    assert (trouble["code"], trouble["weight"]) == ("check_point_off", "refused")
    assert "2 in off" in trouble["message"]
    wider = {**body, "check": point((150.0, 45.0), 6.0), "limit_percent": 1.0}
    assert lead("/api/drawings/fit", json=wider).json()["troubles"] == []


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"points": [point(PLACES[0])]}, "too_few_points"),
        ({"points": [point((float(x), 5.0)) for x in (0, 100, 300)]}, "collinear_points"),
        ({"method": "spline"}, "no_such_method"),
        ({"second": None}, "wrong_shape"),
        ({"points": [{"px": [1, 2, 3], "at": [0, 0]}]}, "wrong_shape"),
        ({"points": [{"px": ["1", 2], "at": [0, 0]}]}, "wrong_shape"),
        ({"points": [point(PLACES[0])] * 201}, "wrong_shape"),
        ({"more": 1}, "wrong_shape"),
    ],
)
def test_points_that_tell_nothing_are_refused(lead, change, code):
    body = {"points": [point(at) for at in PLACES], "second": "water line", **change}
    answer = lead("/api/drawings/fit", json=body)
    assert (answer.status_code, answer.json()["code"]) == (422, code)
