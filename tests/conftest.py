"""Fixtures that several rooms share."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from skinpin.services.workshop import Workshop

from tests.benches import Bench, open_bench, set_up


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    """An open workshop without a book."""
    one = open_bench(tmp_path)
    yield one
    one.close()


@pytest.fixture
def bench(workshop: Workshop) -> Bench:
    """A workshop with a book, its first lead and its first airframe."""
    return set_up(workshop)
