"""The demo book, loaded once and copied once for the tests of this folder."""

import shutil

import pytest
from skinpin.app import open_workshop
from skinpin.services.defects import list_defects
from skinpin.settings import read_settings

from tests.ready_book import DEMO_TODAY, ready_book


@pytest.fixture(scope="session")
def workshop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    opened = open_workshop(read_settings(folder, {"SKINPIN_TODAY": DEMO_TODAY}))
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def rows(workshop):
    return {row["number"]: row for row in list_defects(workshop, {})}
