"""What several tests of services share."""

import pytest

from tests.services.books import open_demo


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the demo's workshop, open over a copy of its own; tests only read it."""
    opened = open_demo(tmp_path_factory.mktemp("demo") / "book")
    yield opened
    opened.close()
