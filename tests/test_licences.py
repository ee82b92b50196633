"""Every package that is installed has a licence that Skinpin may be used with."""

from pathlib import Path

import pytest

from tests.rules.licences import Package, is_allowed, not_allowed, packages, page

ROOT = Path(__file__).resolve().parent.parent


def test_every_locked_package_has_a_licence_on_the_list() -> None:
    found = packages(ROOT)
    assert len(found) > 100
    assert not_allowed(found) == []


def test_the_list_of_third_party_packages_is_up_to_date() -> None:
    written = (ROOT / "THIRD-PARTY.md").read_text("utf-8")
    assert written == page(packages(ROOT)), "Run: python3 run.py lock"


@pytest.mark.parametrize(
    "licence", ["MIT", "MIT OR GPL-3.0-only", "MPL-2.0 AND (Apache-2.0 OR MIT)", "(MIT AND ISC)"]
)
def test_an_expression_that_leaves_an_allowed_way_passes(licence: str) -> None:
    assert is_allowed(licence)


@pytest.mark.parametrize(
    "licence",
    [
        "AGPL-3.0-only",
        "GPL-2.0-or-later",
        "MIT AND AGPL-3.0-only",
        "MIT AND (GPL-3.0-only OR AGPL-3.0-only)",
        "(GPL-3.0-only OR SSPL-1.0)",
        "",
        "not declared",
        "See file",
    ],
)
def test_an_expression_without_an_allowed_way_is_refused(licence: str) -> None:
    assert not is_allowed(licence)


def test_a_refused_package_is_named_and_an_exception_holds_for_one_licence_only() -> None:
    found = [
        Package("alpha", "1.2", "AGPL-3.0-only", "page"),
        Package("psycopg", "3.4", "LGPL-3.0-only", "server"),
        Package("psycopg", "5.6", "GPL-3.0-only", "server"),
    ]
    assert not_allowed(found) == [
        "alpha 1.2 has the licence AGPL-3.0-only, which is not on the list",
        "psycopg 5.6 has the licence GPL-3.0-only, which is not on the list",
    ]
