"""The web app is handed out; nothing beside it is."""

import pytest
from skinpin.web.pages import build_name


@pytest.mark.parametrize("path", ["/", "/airframe", "/airframe/A0017/photograph/x1", "/set-up"])
def test_the_address_of_a_screen_gets_the_page_asked_for_again_each_time(site, path):
    answer = site.ask("GET", path)
    assert "<title>Skinpin</title>" in answer.text
    assert answer.headers["cache-control"] == "no-cache"
    assert answer.headers["content-type"].startswith("text/html")


def test_a_hashed_file_is_kept_for_ever_and_the_service_worker_is_not(site):
    asset = site.ask("GET", "/assets/main-1a2b.js")
    assert asset.headers["cache-control"] == "public, max-age=31536000, immutable"
    assert "javascript" in asset.headers["content-type"]
    assert site.ask("GET", "/sw.js").headers["cache-control"] == "no-cache"
    assert site.ask("HEAD", "/sw.js").status_code == 200


@pytest.mark.parametrize(
    "path",
    ["/../secret.txt", "/..%2fsecret.txt", "/assets/..%2f..%2fsecret.txt", "/%00", "/missing.js",
     "//etc/passwd.txt", "/api", "/api/", "/assets/main-zzzz.js"],
)  # fmt: skip
def test_nothing_else_is_handed_out(site, path):
    answer = site.ask("GET", path)
    assert answer.status_code == 404
    assert "s3cr3t" not in answer.text


def test_the_description_of_the_routes_is_served(site):
    told = site.ask("GET", "/openapi.json").json()
    assert "/api/entries" in told["paths"]
    assert "/{path}" not in told["paths"]


@pytest.mark.parametrize(
    ("page", "name"),
    [
        ('<script type="module" crossorigin src="/assets/index-zt_QOI-M.js"></script>', "zt_QOI-M"),
        ("<!doctype html><title>Skinpin</title>", None),
    ],
)
def test_the_build_is_named_as_its_script_is(tmp_path, page, name):
    assert build_name(tmp_path) is None
    (tmp_path / "index.html").write_text(page)
    assert build_name(tmp_path) == name
