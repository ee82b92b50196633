"""A tablet's pen: writes acts as a tablet of the workshop would, with all that its author sees."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from typing import Any

from skinpin.domain.moves import fields_to_see
from skinpin.domain.stamps import list_file, stamp_list, stamped_ids
from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import new_clock, new_writer
from skinpin_sync.entry import Entry

SCHEMA = 1
_ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"


def seeded_id(*words: str) -> str:
    """Return a record's or act's id of 26 letters, the same for the same words."""
    number = int.from_bytes(hashlib.sha256("\n".join(words).encode()).digest()[:16], "big")
    return "".join(_ALPHABET[number >> 5 * place & 31] for place in range(26))


@dataclass
class Standing:
    """What stands of one record, as every author of the demo sees it: nothing is parallel."""

    kind: str
    ids: dict[str, str] = field(default_factory=dict)
    values: dict[str, Any] = field(default_factory=dict)


@dataclass
class Notebook:
    """Everything written so far: entries, lines, what stands, and the files they name."""

    zone: tzinfo
    records: dict[str, Standing] = field(default_factory=dict)
    lines: list[tuple[int, str, bytes]] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)
    roles: dict[str, str] = field(default_factory=dict)

    def note(self, entry: Entry, line: bytes, at_ms: int) -> None:
        """Take an entry in."""
        record = self.records.setdefault(entry.record, Standing(entry.kind))
        for name, value in entry.set.items():
            record.ids[name], record.values[name] = entry.id, value
        self.lines.append((at_ms, entry.device, line))

    def keep_file(self, content: bytes) -> str:
        """Keep a file under its SHA-256 and return it."""
        sha256 = hashlib.sha256(content).hexdigest()
        self.files[sha256] = content
        return sha256

    def of_defect(self, defect: str, kind: str) -> dict[str, Standing]:
        """Return the photographs, what lies on them, or the rivet lines of a defect."""
        lies = kind in ("mark", "scale", "measurement")
        link = "photograph" if lies else "defect"
        photographs = self.of_defect(defect, "photograph") if lies else {defect}
        return {
            id: one
            for id, one in self.records.items()
            if one.kind == kind and one.values.get(link) in photographs
        }

    def stamped(self, defect: str) -> set[str]:
        """Return the ids that stand in the stamped fields of a defect and what belongs to it."""
        rows = {defect: self.records[defect]}
        for kind in ("photograph", "mark", "scale", "measurement", "rivet_line"):
            rows |= self.of_defect(defect, kind)
        ids: set[str] = set()
        for one in rows.values():
            by_id: dict[str, dict[str, Any]] = {}
            for name, id in one.ids.items():
                by_id.setdefault(id, {})[name] = one.values[name]
            ids |= stamped_ids(one.kind, by_id)
        return ids


@dataclass(frozen=True)
class Intent:
    """What a person wants to write about one record."""

    record: str
    kind: str
    set: Mapping[str, Any]
    relies: Sequence[str] = ()
    why: str | None = None


class Pen:
    """One tablet's writer."""

    def __init__(self, notebook: Notebook, device: str, chain: Chain) -> None:
        self.notebook, self.device, self._chain = notebook, device, chain

    def write(self, at: datetime, by: str, intents: Sequence[Intent]) -> list[Entry]:
        """Write one act of a person at a wall time and return its entries."""
        local = at.replace(tzinfo=self.notebook.zone)
        at_ms = int(local.timestamp() * 1000)
        drafts = [self._draft(by, intent) for intent in intents]
        act = seeded_id("act", self.device, str(self._chain.n))
        wall = local.isoformat(timespec="milliseconds")

        def written(drafts: Sequence[Draft]) -> tuple[Chain, list[tuple[Entry, bytes]]]:
            return write_act(
                self._chain, at_ms, drafts,
                act=act, by=by, device=self.device, wall=wall, schema=SCHEMA,
            )  # fmt: skip

        _, tried = written(drafts)
        self._chain, lines = written(self._with_lists(drafts, [entry for entry, _ in tried]))
        for entry, line in lines:
            self.notebook.note(entry, line, at_ms)
        return [entry for entry, _ in lines]

    def _draft(self, by: str, intent: Intent) -> Draft:
        record = self.notebook.records.get(intent.record, Standing(intent.kind))
        fields = set(intent.set)
        if "state" in intent.set:
            fields |= set(fields_to_see(intent.set["state"]["move"]))
        seen = {name: [record.ids[name]] for name in sorted(fields) if name in record.ids}
        relies = [self.notebook.roles[by], *intent.relies]
        return Draft(intent.record, intent.kind, dict(intent.set), seen, relies, intent.why)

    def _with_lists(self, drafts: Sequence[Draft], entries: Iterable[Entry]) -> list[Draft]:
        """Fill in the list of a stamp: what stands once its own act is written.

        The ids of an act are known beforehand, for they come from the clock alone.
        """
        fresh = Notebook(self.notebook.zone, dict(self.notebook.records))
        for entry in entries:
            old = fresh.records.get(entry.record, Standing(entry.kind))
            fresh.records[entry.record] = Standing(old.kind, dict(old.ids), dict(old.values))
            fresh.note(entry, b"", 0)
        filled = []
        for draft in drafts:
            if draft.kind == "stamp":
                ids = fresh.stamped(draft.set["defect"])
                self.notebook.keep_file(list_file(ids).encode())
                draft = draft._replace(set={**draft.set, "list": stamp_list(ids)})
            filled.append(draft)
        return filled


def new_pen(notebook: Notebook, device: str, record: str) -> Pen:
    """Return the pen of a tablet that has written nothing yet."""
    seed = hashlib.sha256(f"writer {device} {record}".encode()).digest()[:8]
    return Pen(notebook, device, Chain(new_clock(new_writer(seed)), 0, None))
