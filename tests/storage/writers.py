"""A device that pushes one act after the other, right or wrong."""

from typing import Any

from skinpin.services.push import push
from skinpin.services.workshop import Workshop
from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import new_clock

from tests.benches import NOW_MS, WALL, body_of


class Writer:
    """Writes by one person on one device."""

    def __init__(self, workshop: Workshop, book: str, by: str = "X") -> None:
        self.workshop, self.book, self.by = workshop, book, by
        self.chain = Chain(new_clock("writerx1"), 0, None)
        self.fields: dict[tuple[str, str], str] = {}
        self.ids: list[str] = []

    def seen(self, record: str, fields: dict[str, Any]) -> dict[str, list[str]]:
        """Return the last entries of a record that set these fields."""
        found = {field: self.fields.get((record, field)) for field in fields}
        return {field: [id] for field, id in found.items() if id}

    def last_ids(self) -> list[str]:
        """Return the last entries written, to rely on."""
        return self.ids[-2:]

    def push(self, draft: Draft) -> dict[str, Any]:
        """Write an act of one entry and push it."""
        self.chain, written = write_act(
            self.chain,
            NOW_MS,
            [draft],
            act=f"act{len(self.ids)}",
            by=self.by,
            device="A",
            wall=WALL,
            schema=1,
        )
        [(entry, line)] = written
        self.ids.append(entry.id)
        self.fields |= {(entry.record, field): entry.id for field in entry.set}
        return push(self.workshop, self.book, body_of([line]))
