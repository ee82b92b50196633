"""A server whose rules are others than those a book was made by makes its tables anew at start."""

import random
from pathlib import Path

import pytest
from skinpin.app import open_workshop
from skinpin.services.photographs import keep_bytes
from skinpin.services.push import push
from skinpin.settings import read_settings
from skinpin.storage import rebuild
from skinpin.storage.engine import writing
from skinpin.storage.log import create_book, find_book
from skinpin.storage.rules import RULES
from sqlalchemy import text

from tests.benches import body_of, chained, derived, open_bench
from tests.domain.conftest import made_book
from tests.domain.test_ledger import random_book
from tests.storage.enriched import FILES, enriched

KEPT = {
    "entry": "seq, id, line, sha256, received_at_ms, ahead",
    "photograph_file": "*",
    "device": "*",
    "refused_entry": "*",
}


def kept(workshop):
    """Return everything that is not derived."""
    with workshop.reading() as connection:
        return {
            table: sorted(map(tuple, connection.execute(text(f"SELECT {names} FROM {table}"))))
            for table, names in KEPT.items()
        }


def spoil(workshop):
    """Leave the tables as other rules would have made them."""
    with writing(workshop.engine) as connection:
        for wrong in (
            "UPDATE entry SET verdict = '', code = 'x' WHERE verdict <> ''",
            "UPDATE defect SET state = 'Draft', number = 'Z/0001'",
            "DELETE FROM link",
            "DELETE FROM awaited",
            "UPDATE record SET standing = '{}'",
            "UPDATE book SET rules = 'old'",
        ):
            connection.execute(text(wrong))


def rules(workshop):
    with workshop.reading() as connection:
        return find_book(connection).rules


@pytest.fixture(params=[7, 19])
def book(request, tmp_path):
    """A book with a random history in a data folder: the folder, what is derived, what is kept."""
    print("seed", request.param)
    settings = read_settings(tmp_path, {})
    workshop = open_bench(tmp_path, settings.database)
    with writing(workshop.engine) as connection:
        create_book(connection, "book", "epoch", "old")
    written = chained(enriched(random_book(request.param, 60, made_book), request.param))
    random.Random(request.param).shuffle(written)
    push(workshop, "book", body_of(line for _, line in written))
    for bytes_ in FILES:
        keep_bytes(workshop, bytes_)
    before = derived(workshop), kept(workshop)
    assert all(before[0][table] for table in ("entry", "record", "link", "named", "defect"))
    return Path(tmp_path), workshop, before


def test_it_comes_to_what_was_made_as_the_entries_came_and_keeps_the_rest(book):
    folder, workshop, before = book
    spoil(workshop)
    assert derived(workshop) != before[0]
    again = open_workshop(read_settings(folder, {}))
    assert (derived(again), kept(again)) == before
    assert rules(again) == RULES


def test_a_server_that_is_stopped_midway_leaves_all_as_it_was(book, monkeypatch):
    folder, workshop, before = book
    spoil(workshop)
    spoilt = derived(workshop)
    real, parts = rebuild.derive_again, []

    def stops(connection, arrivals, files):
        if len(parts) == 2:
            raise KeyboardInterrupt
        parts.append(len(arrivals))
        real(connection, arrivals, files)

    monkeypatch.setattr(rebuild, "BATCH", 20)
    monkeypatch.setattr(rebuild, "derive_again", stops)
    with pytest.raises(KeyboardInterrupt):
        open_workshop(read_settings(folder, {}))
    assert parts == [20, 20]
    assert (derived(workshop), kept(workshop), rules(workshop)) == (spoilt, before[1], "old")
    monkeypatch.undo()
    again = open_workshop(read_settings(folder, {}))
    assert (derived(again), kept(again)) == before


def test_a_book_made_by_the_same_rules_is_left_alone(book, monkeypatch):
    folder, workshop, _ = book
    spoil(workshop)
    with writing(workshop.engine) as connection:
        connection.execute(text("UPDATE book SET rules = :rules"), {"rules": RULES})
    spoilt = derived(workshop)
    assert derived(open_workshop(read_settings(folder, {}))) == spoilt
