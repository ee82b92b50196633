"""Whether the server is well, and which book it holds."""

from importlib.metadata import version
from typing import Any

from skinpin.services.workshop import Workshop
from skinpin.storage.log import find_book


def health(workshop: Workshop) -> dict[str, Any]:
    """Return version, book, epoch and last seq; book and epoch are null before set-up."""
    with workshop.reading() as connection:
        row = find_book(connection)
    return {
        "status": "ok",
        "version": version("skinpin"),
        "book": row and row.id,
        "epoch": row and row.epoch,
        "seq": row.seq if row else 0,
    }
