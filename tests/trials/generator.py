"""Books of any size from one seed, for trials and for tests that need many records.

The same seed and count give the same bytes. Records are defects on the hull of the demo airframe,
one entry of twelve fields each, as a tablet writes them at the first save.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any, NamedTuple

from skinpin_sync.chain import Chain, Draft, write_act
from skinpin_sync.clock import new_clock

BEGAN_MS = 1_757_150_400_000  # 2025-09-06 09:20 UTC, a survey day of the demo
STEP_MS = 41_000
WALL = "2025-09-06T10:20:00+01:00"
MEMBERS = [f"F{number}" for number in range(1, 23)]
STRAKES = [["K"], ["K", "B1"], ["B1", "B2"], ["B2", "B3"], ["B3"]]
PARTS = [("bottom plating", "0.064"), ("side plating", "0.036"), ("frame", "0.048")]
KINDS = ["pitting", "surface corrosion", "crack", "dent", "score"]


class Writer(NamedTuple):
    """The tablet and the person that a generated book is written by."""

    device: str = "trial-tablet"
    by: str = "trial-person"
    letter: str = "T"
    writer: str = "trial000"


TABLET = Writer()


class Written(NamedTuple):
    """One generated entry: its record and fields, and its canonical line."""

    record: str
    fields: dict[str, Any]
    line: bytes


def fields_of(chance: Random, number: str, airframe: str) -> dict[str, Any]:
    """Return the twelve fields of one made-up defect."""
    part, thickness = chance.choice(PARTS)
    length_in = chance.randrange(10, 900)
    return {
        "number": number,
        "airframe": airframe,
        "place": place_of(chance),
        "kind": chance.choice(KINDS),
        "material": "AL",
        "part": part,
        "thickness": {"value": thickness, "unit": "in"},
        "length": {"value": f"{length_in / 100:.2f}", "unit": "in"},
        "width": {"value": f"0.{chance.randrange(5, 99):02d}", "unit": "in"},
        "depth": {
            "value": f"0.{chance.randrange(1, 30):03d}",
            "unit": "in",
            "method": "depth gauge",
        },
        "paint": chance.choice(["on", "off"]),
        "note": f"Seen by lamp and mirror, {chance.randrange(10**6):06d}",
    }


def place_of(chance: Random) -> dict[str, Any]:
    """Return a made-up place on the hull."""
    return {
        "structure": "Hull",
        "hand": chance.choice("PS"),
        "member": chance.choice(MEMBERS),
        "offset": {"value": f"{chance.randrange(0, 70) / 10:.1f}", "unit": "in"},
        "strakes": chance.choice(STRAKES),
        "face": chance.choice(["inner", "outer"]),
        "precision": "exact",
    }


def defects(
    count: int, seed: int, by: Writer = TABLET, airframe: str = "trial-airframe"
) -> Iterator[Written]:
    """Write `count` defects one after the other, in one chain."""
    chance = Random(seed)
    chain = Chain(new_clock(by.writer), 0, None)
    for index in range(count):
        number = f"{by.letter}/{index % 9999 + 1:04d}"
        record = f"{by.letter.lower()}{seed}-{index:07d}"
        fields = fields_of(chance, number, airframe)
        chain, written = write_act(
            chain,
            BEGAN_MS + index * STEP_MS,
            [Draft(record, "defect", fields)],
            act=f"act-{record}",
            by=by.by,
            device=by.device,
            wall=WALL,
            schema=1,
        )
        yield Written(record, fields, written[0][1])


def raised(
    count: int, seed: int, by: Writer, airframe: str, role_entry: str, standard: dict[str, str]
) -> Iterator[list[bytes]]:
    """Write `count` defects, each begun and then raised; return the two lines of each.

    `role_entry` is the entry that gives the writer's person a role, which moves rely on;
    `standard` names the standard that the defects are graded by.
    """
    chance = Random(seed)
    chain = Chain(new_clock(by.writer), 0, None)
    for index in range(count):
        number = f"{by.letter}/{index % 9999 + 1:04d}"
        record = f"{by.letter.lower()}{seed}-{index:07d}"
        begun = fields_of(chance, number, airframe) | {"state": {"move": "new", "to": "Draft"}}
        begun["standard"] = standard
        raising = {"no_photograph": "taken later", "state": {"move": "raise", "to": "Raised"}}
        lines: list[bytes] = []
        first: list[str] = []
        for fields in (begun, raising):
            seen = {name: first for name in begun if first and name in ("state", "place", "kind")}
            chain, written = write_act(
                chain,
                BEGAN_MS + index * STEP_MS,
                [Draft(record, "defect", fields, seen=seen, relies=[role_entry])],
                act=f"act-{len(lines)}-{record}",
                by=by.by,
                device=by.device,
                wall=WALL,
                schema=1,
            )
            first = [written[0][0].id]
            lines.append(written[0][1])
        yield lines


def document(written: Written) -> dict[str, Any]:
    """Return the same record as one document, for peers that keep documents."""
    return {"_id": written.record, **written.fields, "by": "trial-person", "wall": WALL}
