"""A book of every earlier state of the tables comes to today's with all that was in it."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from skinpin.storage import migrate as migrating
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.migrate import migrate
from sqlalchemy import MetaData, Table, inspect, select

from tests.upgrades.accounts import account
from tests.upgrades.releases import RELEASES, database_of, workshop_in

FOLDER = Path(migrating.__file__).parent / "migrations"


def configured(connection=None) -> Config:
    """Return Alembic's settings for the book's migrations."""
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    config.attributes["connection"] = connection
    return config


CHAIN = [one.revision for one in ScriptDirectory.from_config(configured()).walk_revisions()][::-1]


def test_the_migrations_are_one_chain():
    assert ScriptDirectory.from_config(configured()).get_heads() == [CHAIN[-1]]
    assert sorted(CHAIN) == CHAIN


@pytest.fixture(scope="module")
def full(tmp_path_factory) -> dict[str, list[dict]]:
    """The rows of every table of a recorded release."""
    file = database_of(RELEASES[0], tmp_path_factory.mktemp("release") / "book")
    engine = open_engine(f"sqlite:///{file}")
    rows = {name: rows_in(engine, name) for name in inspect(engine).get_table_names()}
    engine.dispose()
    assert {name for name in rows if not rows[name]} <= {"refused_entry", "awaited", "missing_file"}
    return {name: held for name, held in rows.items() if name != "alembic_version"}


def rows_in(engine, name: str) -> list[dict]:
    """Return the rows of a table, whatever columns it has."""
    with engine.connect() as connection:
        table = Table(name, MetaData(), autoload_with=connection)
        return [dict(row._mapping) for row in connection.execute(select(table))]


@pytest.mark.parametrize("revision", CHAIN)
def test_a_book_with_data_goes_from_each_state_to_today_without_loss(full, tmp_path, revision):
    file = tmp_path / "book" / "book.sqlite"
    file.parent.mkdir()
    engine = open_engine(f"sqlite:///{file}")
    kept = {}
    with writing(engine) as connection:
        command.upgrade(configured(connection), revision)
    for name in set(inspect(engine).get_table_names()) & set(full):
        with writing(engine) as connection:
            table = Table(name, MetaData(), autoload_with=connection)
            known = set(table.columns.keys())
            kept[name] = [{at: row[at] for at in row if at in known} for row in full[name]]
            if kept[name]:
                connection.execute(table.insert(), kept[name])
    migrate(engine)
    for name, before in kept.items():
        now = [{at: row[at] for at in row if at in before[0]} for row in rows_in(engine, name)]
        assert sorted(now, key=repr) == sorted(before, key=repr), name
    engine.dispose()
    with workshop_in(file.parent, RELEASES[0], f"sqlite:///{file}") as workshop:
        assert account(workshop)["digest"] == RELEASES[0].told("stored")["digest"]


@pytest.mark.parametrize("release", RELEASES, ids=lambda one: one.folder.name)
def test_no_migration_that_was_released_has_been_edited(release, tmp_path):
    file = database_of(release, tmp_path / "book")
    made = open_engine(f"sqlite:///{tmp_path / 'made.sqlite'}")
    with writing(made) as connection:
        command.upgrade(configured(connection), revision_of(file))
    made.dispose()
    assert statements_of(tmp_path / "made.sqlite") == statements_of(file)


def revision_of(file: Path) -> str:
    """Return the state of the tables of a database."""
    with closing(sqlite3.connect(file)) as database:
        return database.execute("SELECT version_num FROM alembic_version").fetchone()[0]


def statements_of(file: Path) -> set[str]:
    """Return what made the tables and indexes of a database."""
    with closing(sqlite3.connect(file)) as database:
        told = database.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    return {" ".join(sql.replace('"', "").split()) for (sql,) in told}


def test_a_migration_that_fails_leaves_the_book_as_it_was(tmp_path, monkeypatch):
    engine = open_engine(f"sqlite:///{tmp_path / 'book.sqlite'}")
    with writing(engine) as connection:
        command.upgrade(configured(connection), CHAIN[0])
    upgrade = command.upgrade

    def broken(config, to):
        upgrade(config, to)
        raise OSError("the power went")

    monkeypatch.setattr(command, "upgrade", broken)
    with pytest.raises(OSError, match="the power went"):
        migrate(engine)
    engine.dispose()
    assert revision_of(tmp_path / "book.sqlite") == CHAIN[0]
    with closing(sqlite3.connect(tmp_path / "book.sqlite")) as database:
        columns = [name for _, name, *_ in database.execute("PRAGMA table_info(device)")]
    assert "told" not in columns
