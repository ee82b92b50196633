"""A book with its tablets, that no server has open."""

from pathlib import Path

import pytest

from tests.benches import Tablet, open_bench, set_up


@pytest.fixture
def book(tmp_path: Path) -> tuple[Path, list[Tablet]]:
    """Return the folder of a book with three tablets."""
    bench = set_up(open_bench(tmp_path / "book"))
    tablets = [bench.tablet(f"tablet{letter}x") for letter in "abc"]
    bench.workshop.close()
    return tmp_path / "book", tablets
