"""What the tests of released versions share."""

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder in memory where there is one: nothing here is about the disk."""
    where = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(prefix="skinpin-upgrades-", dir=where) as made:
        yield Path(made)
