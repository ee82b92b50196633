"""SQLite as it must be: durable, strict, one writer at a time without deadlock."""

import threading

import pytest
from skinpin.storage import tables
from skinpin.storage.engine import open_engine, reading, writing
from skinpin.storage.migrate import migrate
from sqlalchemy import inspect, text
from sqlalchemy.exc import IntegrityError
from sqlmodel import SQLModel


@pytest.fixture
def engine(tmp_path):
    one = open_engine(f"sqlite:///{tmp_path / 'book.sqlite'}")
    migrate(one)
    yield one
    one.dispose()


def test_every_connection_is_durable_and_waits_for_its_turn(engine):
    with reading(engine) as connection:
        asked = ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        told = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in asked]
    assert told == ["wal", 2, 1, 10_000]


def test_what_a_statement_over_many_rows_could_undo_stays_in_memory(engine):
    with reading(engine) as connection:
        assert connection.exec_driver_sql("PRAGMA temp_store").scalar() == 2


def test_every_table_is_strict(engine):
    with reading(engine) as connection:
        listed = connection.exec_driver_sql("PRAGMA table_list").all()
    strict = {row.name for row in listed if row.strict and not row.name.startswith("sqlite")}
    assert strict == set(SQLModel.metadata.tables)
    with pytest.raises(IntegrityError), writing(engine) as connection:
        connection.execute(text("INSERT INTO photograph_file VALUES ('a', 'not a number', 1)"))


def test_the_migrations_make_the_tables_that_the_code_describes(engine):
    found = inspect(engine)
    for name, table in SQLModel.metadata.tables.items():
        described = {(one.name, one.nullable) for one in table.columns}
        assert {(one["name"], one["nullable"]) for one in found.get_columns(name)} == described
        keys = [one.name for one in table.primary_key]
        assert found.get_pk_constraint(name)["constrained_columns"] == keys
        indexes = {one.name: [each.name for each in one.columns] for one in table.indexes}
        assert {one["name"]: one["column_names"] for one in found.get_indexes(name)} == indexes
    assert tables.entry.name == "entry"


def test_two_that_read_and_then_write_wait_for_each_other(engine):
    with writing(engine) as connection:
        tables_book = "INSERT INTO book VALUES (1, 'b', 'e', 0, '1', NULL)"
        connection.exec_driver_sql(tables_book)
    errors: list[Exception] = []

    def work():
        try:
            for _ in range(20):
                with writing(engine) as connection:
                    seq = connection.scalar(text("SELECT seq FROM book"))
                    connection.execute(text("UPDATE book SET seq = :seq"), {"seq": seq + 1})
        except Exception as error:
            errors.append(error)

    threads = [threading.Thread(target=work) for _ in range(5)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert errors == []
    with reading(engine) as connection:
        assert connection.scalar(text("SELECT seq FROM book")) == 100


def write_and_fail(engine):
    with writing(engine) as connection:
        connection.execute(text("INSERT INTO photograph_file VALUES ('a', 1, 1)"))
        raise ZeroDivisionError


def test_an_error_rolls_back_and_reading_keeps_nothing(engine):
    with pytest.raises(ZeroDivisionError):
        write_and_fail(engine)
    with reading(engine) as connection:
        assert connection.scalar(text("SELECT count(*) FROM photograph_file")) == 0


def test_a_reader_sees_one_state_while_a_writer_goes_on(engine):
    with reading(engine) as reader:
        assert reader.scalar(text("SELECT count(*) FROM photograph_file")) == 0
        with writing(engine) as connection:
            connection.execute(text("INSERT INTO photograph_file VALUES ('a', 1, 1)"))
        assert reader.scalar(text("SELECT count(*) FROM photograph_file")) == 0
