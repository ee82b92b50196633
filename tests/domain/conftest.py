"""Books in short form, as the shared vectors write them."""

import hashlib
import json
from collections.abc import Callable, Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from skinpin_sync.entry import Act, Entry

VECTORS = Path(__file__).parents[1] / "vectors"


def id_of(place: int, row: dict[str, Any]) -> str:
    days_ms = row.get("days", 0) * 86_400_000
    return f"{1_741_400_000_000 + days_ms + place:013d}-0000-{row.get('writer', 'tableta1')}"


def filled(value: Any, ids: dict[str, str]) -> Any:
    """Put ids for '@name', and a stamp's list for the ids of '$list'."""
    if isinstance(value, str) and value.startswith("@"):
        return ids.get(value[1:], f"1741400099999-0000-{value[1:]:x<8}")
    if isinstance(value, dict) and "$list" in value:
        some = sorted(filled(one, ids) for one in value["$list"])
        text = "".join(f"{one}\n" for one in some)
        return {"count": len(some), "sha256": hashlib.sha256(text.encode()).hexdigest()}
    if isinstance(value, dict):
        return {key: filled(one, ids) for key, one in value.items()}
    if isinstance(value, list):
        return [filled(one, ids) for one in value]
    return value


def relied(row: dict[str, Any]) -> list[str]:
    role = row.get("role", f"@role-{row['by']}")
    return [*([role] if role else []), *row.get("relies", [])]


def made_book(rows: Iterable[dict[str, Any]]) -> SimpleNamespace:
    """Return the entries of rows in short form, and their ids by name."""
    rows = list(rows)
    ids = {row["name"]: id_of(place, row) for place, row in enumerate(rows)}
    acts = [row.get("act", row["name"]) for row in rows]
    last: dict[str, int] = {}
    entries: list[Entry] = []
    for place, row in enumerate(rows):
        writer = row.get("writer", "tableta1")
        last[writer] = last.get(writer, 0) + 1 + row.get("skip", 0)
        entries.append(
            Entry(
                id=id_of(place, row),
                n=last[writer],
                prev=None if last[writer] == 1 else "00" * 32,
                act=Act(acts[place], row.get("of", acts.count(acts[place]))),
                record=row["record"],
                kind=row["kind"],
                set=filled(row["set"], ids),
                seen=filled(row.get("seen", {}), ids),
                relies=filled(relied(row), ids),
                by=row["by"],
                device=row.get("device", "A"),
                wall=row.get("wall", "2025-03-08T10:15:00+00:00"),
                why=row.get("why"),
                schema=1,
                sig=None,
                more={},
            )
        )
    return SimpleNamespace(entries=entries, ids=ids)


def vectors(name: str) -> dict[str, Any]:
    return json.loads((VECTORS / f"{name}.json").read_text("utf-8"))


@pytest.fixture(scope="session")
def book_of() -> Callable[[Iterable[dict[str, Any]]], SimpleNamespace]:
    return made_book


@pytest.fixture(scope="session")
def vectors_of() -> Callable[[str], dict[str, Any]]:
    return vectors
