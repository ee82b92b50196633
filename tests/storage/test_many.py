"""Rows by the hundred and the rest one by one are stored alike."""

import pytest
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.many import AT_ONCE, insert_new_rows, insert_rows, rows_among, upsert_rows
from skinpin.storage.migrate import migrate
from skinpin.storage.tables import photograph_file
from sqlalchemy import bindparam, select
from sqlalchemy.exc import IntegrityError

ALL = select(photograph_file)


@pytest.fixture
def connection(tmp_path):
    engine = open_engine(f"sqlite:///{tmp_path / 'book.sqlite'}")
    migrate(engine)
    with writing(engine) as one:
        yield one
    engine.dispose()


def rows(count, at=1):
    return [(f"file {n}", n, at) for n in range(count)]


@pytest.mark.parametrize("count", [0, 1, AT_ONCE - 1, AT_ONCE, AT_ONCE + 1, 3 * AT_ONCE + 7])
def test_every_row_is_stored_once_whatever_their_number(connection, count):
    insert_rows(connection, photograph_file, rows(count))
    assert connection.execute(ALL.order_by(photograph_file.c.size_bytes)).all() == rows(count)
    insert_new_rows(connection, photograph_file, rows(count + 2, at=2))
    upsert_rows(connection, photograph_file, rows(count + 1, at=3)[1:])
    found = connection.execute(ALL.order_by(photograph_file.c.size_bytes)).all()
    assert [row.received_at_ms for row in found] == [1 if count else 2, *[3] * count, 2]


def test_a_key_that_is_there_is_refused_and_named(connection):
    insert_rows(connection, photograph_file, rows(2 * AT_ONCE))
    with pytest.raises(IntegrityError, match=r"photograph_file\.sha256"):
        insert_rows(connection, photograph_file, rows(2 * AT_ONCE))


def test_a_question_is_asked_for_its_ids_alone(connection):
    insert_rows(connection, photograph_file, rows(20))
    asked = ALL.where(photograph_file.c.size_bytes <= bindparam("most"))
    ids = ["file 3", "file 5", "file 12", "none"]
    found = rows_among(connection, asked, photograph_file.c.sha256, ids, {"most": 10})
    assert sorted(row.size_bytes for row in found) == [3, 5]
    assert rows_among(connection, asked, photograph_file.c.sha256, [], {"most": 10}) == ()
