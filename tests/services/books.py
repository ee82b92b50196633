"""Looks into a book, past the services."""

import shutil
from pathlib import Path

from skinpin.app import open_workshop
from skinpin.services.workshop import Workshop
from skinpin.settings import read_settings
from sqlalchemy import text

from tests.benches import Bench
from tests.ready_book import DEMO_TODAY, ready_book


def open_demo(folder: Path) -> Workshop:
    """Copy the demo book into a folder that is not there yet, and open it on its day."""
    shutil.copytree(ready_book(), folder)
    return open_workshop(read_settings(folder, {"SKINPIN_TODAY": DEMO_TODAY}))


def lines_in_order(bench: Bench) -> list[bytes]:
    """Return every line of the log in the order of arrival."""
    with bench.workshop.reading() as connection:
        return [
            line.encode()
            for line in connection.scalars(text("SELECT line FROM entry ORDER BY seq"))
        ]
