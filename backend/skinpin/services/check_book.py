"""Proof that a book is whole: every writer's chain, every line and every photograph, read again."""

from collections.abc import Iterator

from skinpin_sync.canonical import sha256_hex
from skinpin_sync.chain import ChainFault, Link, chain_faults, link
from sqlalchemy import Connection, select

from skinpin.services.airframes import last_value
from skinpin.services.definition_pictures import pictures_lacking
from skinpin.services.workshop import Workshop
from skinpin.storage.kept import BATCH
from skinpin.storage.log import find_book
from skinpin.storage.records import records_of_kind
from skinpin.storage.shelf import stored_entry
from skinpin.storage.tables import entry, photograph_file, refused_entry

SENTENCES = {
    "changed": "Entry {n} of writer {writer} ({id}) is not as it came.",
    "gap": "Before entry {n} of writer {writer} ({id}) at least one entry is missing.",
    "no_start": "The chain of writer {writer} begins after an entry that is not here ({id}).",
    "same_n": "Writer {writer} has two entries {n} ({id}).",
    "wrong_prev": "Entry {n} of writer {writer} ({id}) does not follow the one before it.",
}


def check_book(workshop: Workshop) -> list[str]:
    """Return a sentence for each thing that is missing or changed; none if the book is whole."""
    with workshop.snapshot() as connection:
        return [
            *_chain_sentences(connection),
            *_count_sentences(connection),
            *_photograph_sentences(connection, workshop),
            *_picture_sentences(connection, workshop),
        ]


def _chain_sentences(connection: Connection) -> Iterator[str]:
    links, kept = [], {}
    columns = select(entry.c.line, entry.c.sha256).order_by(entry.c.seq)
    for row in connection.execute(columns, execution_options={"yield_per": BATCH}):
        one = stored_entry(row.line)
        links.append(link(one, sha256_hex(row.line.encode())))
        kept[one.id] = row.sha256
    for fault in chain_faults(links, _refused(connection), kept).faults:
        yield _sentence(fault)


def _sentence(fault: ChainFault) -> str:
    return SENTENCES[fault.what].format(**fault._asdict())


def _refused(connection: Connection) -> list[Link]:
    """Return what is left of refused lines, for the links that chains need of them.

    Of a line that was garbled once and then came in as it should, nothing is needed; other bytes
    under the id of an entry that is here stay a fault.
    """
    columns = select(refused_entry.c.id, refused_entry.c.n, refused_entry.c.sha256)
    is_here = select(entry.c.id).where(entry.c.id == refused_entry.c.id).exists()
    asked = columns.where((refused_entry.c.code == "other_bytes") | ~is_here)
    return [Link(id, n, None, sha256) for id, n, sha256 in connection.execute(asked)]


def _count_sentences(connection: Connection) -> Iterator[str]:
    """Say which numbers of arrival are missing: the end of a chain has no follower to miss it."""
    row = find_book(connection)
    expected = 1
    for (seq,) in connection.execute(select(entry.c.seq).order_by(entry.c.seq)):
        if seq != expected:
            yield f"Entries {expected} to {seq - 1} in the order of arrival are missing."
        expected = seq + 1
    if row and row.seq != expected - 1:
        yield f"Entries {expected} to {row.seq} in the order of arrival are missing."


def _photograph_sentences(connection: Connection, workshop: Workshop) -> Iterator[str]:
    columns = select(photograph_file.c.sha256).order_by(photograph_file.c.sha256)
    for (sha256,) in connection.execute(columns):
        if not workshop.folder.exists(sha256):
            yield f"The photograph {sha256} is missing."
        elif not workshop.folder.is_whole(sha256):
            yield f"The photograph {sha256} is not as it came."


def _picture_sentences(connection: Connection, workshop: Workshop) -> Iterator[str]:
    """Say which pictures of drawings never came; one that was here is missed as a photograph."""
    had = set(connection.scalars(select(photograph_file.c.sha256)))
    for one in records_of_kind(connection, "airframe"):
        definition = workshop.files.pinned(last_value(one.standing, "definition"))
        for _, title, sha256 in pictures_lacking(workshop, definition or {"views": []}):
            if sha256 not in had:
                number = last_value(one.standing, "constructor")
                where = f"“{title}” of airframe {number}"
                yield f"The picture of {where} is not on this server: add the file again."
