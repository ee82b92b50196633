"""Documents handed to whoever asked: a report or an export as a file of a chosen name."""

from pathlib import Path

from skinpin.domain.errors import Refused
from skinpin.storage.files import FileLayer, put_in_place


def write_document(out: Path, content: bytes, layer: FileLayer | None = None) -> None:
    """Write a document whole or not at all: a failure leaves what was there as it was."""
    try:
        if out.exists() and not out.is_file():  # such as a terminal or a pipe
            out.write_bytes(content)
        else:
            put_in_place(layer or FileLayer(), out, content)
    except OSError as error:
        raise Refused(
            "not_written", f"{out} can't be written: {error.strerror}.", "Give another file."
        ) from error
