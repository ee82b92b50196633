"""Every SKINPIN_ variable, read once."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from urllib.parse import urlsplit

from skinpin.domain.errors import Refused

DEMO_DAY = "demo-day.txt"
KEY = ("AWS_ACCESS_KEY_ID", "AWS_SECRET_ACCESS_KEY")


@dataclass(frozen=True)
class Objects:
    """An S3-style store of photographs, and who asks there."""

    bucket: str
    prefix: str
    endpoint: str
    region: str
    key_id: str
    secret: str = field(repr=False)


@dataclass(frozen=True)
class Settings:
    """Where a book lies and on which day it runs."""

    data: Path
    database: str
    photographs: Path
    backups: Path
    today: date | None = None
    hosts: tuple[str, ...] = ()
    objects: Objects | None = None

    def with_backups(self, folder: Path) -> "Settings":
        """Return the settings with another folder of backups."""
        return replace(self, backups=folder.expanduser().resolve())


def read_settings(data: Path, variables: Mapping[str, str] = os.environ) -> Settings:
    """Settings of the book in a data folder, variables going before defaults."""
    folder = data.expanduser().resolve()
    photographs = variables.get("SKINPIN_PHOTOGRAPHS") or str(folder / "photographs")
    objects = _objects(photographs, variables) if "://" in photographs else None
    photographs = str(folder / "photographs") if objects else photographs
    return Settings(
        data=folder,
        database=variables.get("SKINPIN_DATABASE") or f"sqlite:///{folder / 'book.sqlite'}",
        photographs=Path(photographs).expanduser().resolve(),
        backups=Path(variables.get("SKINPIN_BACKUPS") or folder / "backups").expanduser().resolve(),
        today=_today(folder, variables),
        hosts=tuple(variables.get("SKINPIN_HOSTS", "").split()),
        objects=objects,
    )


def _objects(address: str, variables: Mapping[str, str]) -> Objects:
    """Return the store that an address like s3://bucket/prefix names; the key is AWS's own."""
    where = urlsplit(address)
    if where.scheme != "s3" or not where.netloc:
        raise Refused(
            "bad_setting",
            f"SKINPIN_PHOTOGRAPHS is '{address}', which is neither a folder nor an S3-style store.",
            "Give the path of a folder, or s3://bucket/prefix.",
        )
    key_id, secret = (variables.get(name, "") for name in KEY)
    if not key_id or not secret:
        raise Refused(
            "bad_setting",
            f"SKINPIN_PHOTOGRAPHS is '{address}', but there is no key to it.",
            f"Set {' and '.join(KEY)}.",
        )
    region = variables.get("AWS_REGION") or variables.get("AWS_DEFAULT_REGION") or "us-east-1"
    endpoint = variables.get("AWS_ENDPOINT_URL_S3") or variables.get("AWS_ENDPOINT_URL")
    usual = f"https://s3.{region}.amazonaws.com"
    prefix, end = where.path.strip("/"), (endpoint or usual).rstrip("/")
    return Objects(where.netloc, prefix, end, region, key_id, secret)


def _today(folder: Path, variables: Mapping[str, str]) -> date | None:
    """Return the day the book runs on: the variable's, else the one a demo's folder names."""
    if text := variables.get("SKINPIN_TODAY", ""):
        return _day(text, "SKINPIN_TODAY")
    kept = folder / DEMO_DAY
    text = kept.read_text(encoding="utf-8", errors="replace").strip() if kept.is_file() else ""
    return _day(text, str(kept))


def _day(text: str, named: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError as error:
        raise Refused(
            "bad_setting",
            f"{named} is '{text}', which is not a date.",
            "Write it as 2025-11-03, or leave it out.",
        ) from error
