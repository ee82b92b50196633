"""Puts a book together from its settings; the only place that wires the rooms."""

import socket
from collections.abc import Collection
from datetime import UTC
from time import time

from fastapi import FastAPI
from sqlalchemy.exc import OperationalError

from skinpin.domain.errors import Refused
from skinpin.imaging.renderer import Renderer
from skinpin.services.full_disk import full_disk
from skinpin.services.photograph_parts import sweep_parts
from skinpin.services.replays import Replays
from skinpin.services.workshop import Workshop, computer_ms, pinned_clock, pinned_shift
from skinpin.settings import Settings
from skinpin.storage.bucket import Bucket, Place
from skinpin.storage.engine import open_engine, writing
from skinpin.storage.files import FileLayer
from skinpin.storage.migrate import migrate
from skinpin.storage.photographs import PhotographFolder
from skinpin.storage.photographs_in_bucket import PhotographsInBucket
from skinpin.storage.rebuild import rebuild_if_old
from skinpin.storage.signing import Key
from skinpin.storage.time_zone import book_zone
from skinpin.web.server import build_server

ARRIVING_S = 3600
"""After so long without a byte no photograph is still arriving."""

LOOPBACK = ("localhost", "127.0.0.1", "[::1]")


def open_workshop(settings: Settings, *, sweep: bool = False) -> Workshop:
    """Open the book of a data folder, making what is not there yet.

    `sweep` clears interrupted arrivals away; only the server may, as it alone takes files in.
    """
    layer = FileLayer()
    try:
        layer.make_folder(settings.data)
        folder = _photographs(settings, layer)
        engine = open_engine(settings.database)
        migrate(engine)
    except (OSError, OperationalError) as error:
        raise (
            full_disk(error, settings.data)
            or Refused(
                "no_data_folder",
                f"The book in {settings.data} can't be opened: {_reason(error)}.",
                "Give a folder that may be written with --data.",
            )
        ) from error
    if sweep:
        # Only SQLite is sure to be served by one process alone.
        is_alone = engine.dialect.name == "sqlite"
        folder.sweep(None if is_alone else time() - ARRIVING_S)
    replays = Replays(settings.data / "as-at")
    workshop = Workshop(engine, folder, Renderer(), replays=replays)
    with writing(engine) as connection:
        rebuild_if_old(connection, workshop.files)
        # Only now can what stands be read: rows of older rules may have another form.
        zone = book_zone(connection) if settings.today else UTC
    workshop.now_ms = pinned_clock(settings.today, computer_ms, zone)
    workshop.shift_ms = pinned_shift(settings.today, computer_ms, zone)
    if sweep:
        sweep_parts(workshop)
        replays.sweep()
    return workshop


def _photographs(settings: Settings, layer: FileLayer) -> PhotographFolder:
    """Return where photographs are kept: a folder, or a store with a folder before it."""
    store = settings.objects
    if store is None:
        return PhotographFolder(settings.photographs, layer)
    key = Key(store.key_id, store.secret, store.region)
    bucket = Bucket(Place(store.endpoint, store.bucket, store.prefix, key))
    return PhotographsInBucket(settings.photographs, bucket, layer)


def build_app(settings: Settings, hosts: Collection[str] = ()) -> FastAPI:
    """Return the web app of the book in a data folder."""
    workshop = open_workshop(settings, sweep=True)
    name = socket.gethostname().lower()
    known = {*LOOPBACK, name, f"{name}.local", *hosts, *settings.hosts}
    return build_server(workshop, known, backups=settings.backups)


def _reason(error: Exception) -> str:
    cause = error.orig if isinstance(error, OperationalError) else error
    return str(cause).strip().split("\n")[0].rstrip(".")
