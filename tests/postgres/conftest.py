"""One cluster for all tests of this folder, a fresh database for each."""

import itertools
from collections.abc import Callable, Iterator

import pytest
from sqlalchemy import create_engine, text

from tests.postgres.clusters import cluster

ENGLISH = "TEMPLATE template0 LOCALE_PROVIDER icu ICU_LOCALE 'en-US'"
_NUMBERS = itertools.count(1)


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The address of a running cluster."""
    with cluster() as address:
        yield address


@pytest.fixture(scope="session")
def new_database(postgres: str) -> Callable[[], str]:
    """Make databases, collated as English is, so that ids show their own order."""
    engine = create_engine(f"{postgres}/postgres", isolation_level="AUTOCOMMIT")

    def make() -> str:
        name = f"book{next(_NUMBERS)}"
        with engine.connect() as connection:
            connection.execute(text(f"CREATE DATABASE {name} {ENGLISH}"))
        engine.dispose()
        return f"{postgres}/{name}"

    return make
