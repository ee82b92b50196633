"""What a book holds, told so that two versions of the server can be compared."""

from typing import Any

import orjson
from skinpin.services.workshop import Workshop
from skinpin_sync.canonical import sha256_hex
from sqlalchemy import text


def account(workshop: Workshop) -> dict[str, Any]:
    """Return what stands, what rows say and how each entry was judged.

    `records` is {record: [kind, SHA-256 of {entry: {field: value}}]}, `rows` {record: [number,
    state, grade]}, `judged` {entry: code} of entries that wait or do not count, `digest` one
    SHA-256 over all records.
    """
    with workshop.reading() as connection:
        kept = connection.execute(text("SELECT record, kind, standing FROM record ORDER BY record"))
        records = {name: [kind, _digest(standing)] for name, kind, standing in kept}
        told = connection.execute(text("SELECT record, number, state, grade FROM defect"))
        rows = {name: list(shown) for name, *shown in told}
        codes = connection.execute(text("SELECT id, code FROM entry WHERE code <> ''"))
        judged = {row.id: row.code for row in codes}
    return {"digest": digest_of(records), "records": records, "rows": rows, "judged": judged}


def digest_of(records: dict[str, list[str]]) -> str:
    """Return one SHA-256 over all records."""
    return sha256_hex(orjson.dumps(records, option=orjson.OPT_SORT_KEYS))


def without_servers_own(told: dict[str, Any]) -> dict[str, Any]:
    """Leave out what a server writes itself with ids it draws: tablets, and what ended a role."""
    records = {
        name: kept for name, kept in told["records"].items() if kept[0] not in ("tablet", "person")
    }
    return {**told, "records": records, "digest": digest_of(records)}


def _digest(standing: str) -> str:
    """Return the SHA-256 of what stands, however this version keeps it."""
    values = orjson.loads(standing)["values"]
    return sha256_hex(orjson.dumps(values, option=orjson.OPT_SORT_KEYS))
