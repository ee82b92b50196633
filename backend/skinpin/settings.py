"""Every SKINPIN_ variable, read once."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from skinpin.domain.errors import Refused


@dataclass(frozen=True)
class Settings:
    """Where a book lies and on which day it runs."""

    data: Path
    database: str
    photographs: Path
    backups: Path
    today: date | None = None
    hosts: tuple[str, ...] = ()

    def with_backups(self, folder: Path) -> "Settings":
        """Return the settings with another folder of backups."""
        return replace(self, backups=folder.expanduser().resolve())


def read_settings(data: Path, variables: Mapping[str, str] = os.environ) -> Settings:
    """Settings of the book in a data folder, variables going before defaults."""
    folder = data.expanduser().resolve()
    photographs = variables.get("SKINPIN_PHOTOGRAPHS") or str(folder / "photographs")
    if "://" in photographs:
        raise Refused(
            "bad_setting",
            f"SKINPIN_PHOTOGRAPHS is '{photographs}', but only a folder can hold photographs.",
            "Give the path of a folder.",
        )
    return Settings(
        data=folder,
        database=variables.get("SKINPIN_DATABASE") or f"sqlite:///{folder / 'book.sqlite'}",
        photographs=Path(photographs).expanduser().resolve(),
        backups=Path(variables.get("SKINPIN_BACKUPS") or folder / "backups").expanduser().resolve(),
        today=_day(variables.get("SKINPIN_TODAY", "")),
        hosts=tuple(variables.get("SKINPIN_HOSTS", "").split()),
    )


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError as error:
        raise Refused(
            "bad_setting",
            f"SKINPIN_TODAY is '{text}', which is not a date.",
            "Write it as 2025-11-03, or leave it out.",
        ) from error
