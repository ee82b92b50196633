"""Brings the tables of a book up to this version, at every start."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine

from skinpin.storage.engine import writing


def migrate(engine: Engine) -> None:
    """Run every migration the book has not had, in one transaction."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    with writing(engine) as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
