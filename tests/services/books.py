"""Looks into a book, past the services."""

from sqlalchemy import text

from tests.benches import Bench


def lines_in_order(bench: Bench) -> list[bytes]:
    """Return every line of the log in the order of arrival."""
    with bench.workshop.reading() as connection:
        return [
            line.encode()
            for line in connection.scalars(text("SELECT line FROM entry ORDER BY seq"))
        ]
