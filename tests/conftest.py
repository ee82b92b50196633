"""Fixtures that several rooms share."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from skinpin.services.set_up import NewBook
from skinpin.services.workshop import Workshop

from tests.benches import Bench, open_bench, set_up


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    """An open workshop without a book."""
    one = open_bench(tmp_path / "empty")
    yield one
    one.close()


@pytest.fixture(scope="session")
def first_book(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, NewBook, str]:
    """A book set up once, to be copied: making a passcode's check value takes its time."""
    folder = tmp_path_factory.mktemp("first")
    one = set_up(open_bench(folder))
    one.workshop.close()
    return folder, one.new, one.role_entry


@pytest.fixture
def bench(first_book: tuple[Path, NewBook, str], tmp_path: Path) -> Iterator[Bench]:
    """A workshop with a book, its first lead and its first airframe."""
    folder, new, role_entry = first_book
    shutil.copytree(folder, tmp_path / "book")
    one = open_bench(tmp_path / "book", seed=2)
    yield Bench(one, new, role_entry)
    one.close()
