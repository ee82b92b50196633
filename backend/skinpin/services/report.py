"""The zone report: gathers what it says, from one look at the book."""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import version
from typing import Any, NamedTuple

from skinpin.domain.definition import spelt_out
from skinpin.domain.errors import Refused
from skinpin.domain.kinds import WORDING
from skinpin.domain.place_zones import NO_ZONE
from skinpin.reports.running import Running, Step
from skinpin.reports.zone_report import zone_report_pdf
from skinpin.services.airframes import Row, find_airframe, last_value, rows_of
from skinpin.services.as_at import as_at, day_words
from skinpin.services.report_pictures import drawings, renditions
from skinpin.services.report_reader import Reader, text_of
from skinpin.services.report_records import records_of
from skinpin.services.report_scope import coverage_of, instruments_of, surveys_of
from skinpin.services.workday import wall_time
from skinpin.services.workshop import Workshop
from skinpin.storage.records import StandingRecord
from skinpin.storage.rested import came_at_ms, lines_of_records

NO_STANDARD = {"name": "no standard of acceptance,", "issue": "none", "rows": []}


class Made(NamedTuple):
    """A report with what identifies it: the record hash, entries, sheets and data cut-off."""

    pdf: bytes
    record_sha256: str
    entries: int
    seq: int
    records: int
    photographs: int


def report_zone(workshop: Workshop, zone: str, airframe: str = "", day: str = "") -> bytes:
    """Return the report of a zone as PDF, as at a day or as it stands."""
    return report_telling(workshop, zone, airframe, None, day).pdf


def report_telling(
    workshop: Workshop,
    zone: str,
    airframe: str,
    tell: Callable[[str], None] | None,
    day: str = "",
) -> Made:
    """Make the report of a zone, as at a day or as it stands, and tell in words how far it is."""
    running = Running((lambda step: tell(step_words(step))) if tell else None)
    with as_at(workshop, day) as then:
        return make_report(then, zone, airframe, running, day)


def step_words(step: Step) -> str:
    """Return how far a report is, in words.

    >>> step_words(Step("photographs", 3, 20))
    'Photographs made ready, 3 of 20'
    """
    return STEPS[step.doing] + (f", {step.done} of {step.of}" if step.of else "")


NO_ZONE_TITLE = "Off the aircraft or not placed"

STEPS = {
    "waiting": "Waiting",
    "records": "Records gathered",
    "photographs": "Photographs made ready",
    "sheets": "Sheets set",
    "keeping": "Report kept",
}


def make_report(
    workshop: Workshop, zone: str, airframe: str, running: Running, day: str = ""
) -> Made:
    """Make the report of a zone and say how far it is; ended by `running` it raises."""
    running.now("records")
    ready, _ = gather_zone(workshop, zone, airframe)
    pictures = renditions(workshop, ready["records"], running)
    shown: dict[str, Any] = {"as_at": day and day_words(day)}
    photographs = len(pictures)
    shown["drawings"] = drawings(workshop, ready, pictures)
    running.now("sheets")
    pdf = zone_report_pdf(ready | shown, pictures, running)
    rested = ready["rested"]
    return Made(
        pdf,
        rested["sha256"],
        rested["count"],
        ready["cutoff"]["seq"],
        sum(one["row"]["state"] != "Draft" for one in ready["records"]),
        photographs,
    )


def entries_of_report(workshop: Workshop, zone: str, airframe: str = "", day: str = "") -> str:
    """Return the lines a zone's report rests on; their SHA-256 is its record hash."""
    with as_at(workshop, day) as then:
        return gather_zone(then, zone, airframe)[1]


def gather_zone(workshop: Workshop, zone: str, airframe: str) -> tuple[dict[str, Any], str]:
    """Return what a report is set from, and the lines it rests on."""
    with workshop.reading() as connection:
        reader = Reader(workshop, connection, find_airframe(workshop, connection, airframe))
        ready = _ready(reader, zone, _rules_of(reader, zone))
        lines = lines_of_records(connection, reader.rests_on, reader.book.seq)
    text = "".join(f"{line}\n" for line in lines)
    sha256 = hashlib.sha256(text.encode()).hexdigest()
    return ready | {"rested": {"count": len(lines), "sha256": sha256}}, text


def zone_titles(definition: Mapping[str, Any]) -> dict[str, str]:
    """Return the title of every zone that a report can be asked for, `NO_ZONE` first."""
    named: dict[str, str] = {NO_ZONE: NO_ZONE_TITLE}
    return named | {rule["zone"]: str(rule["title"]) for rule in definition["zones"]}


def _rules_of(reader: Reader, zone: str) -> list[Mapping[str, Any]]:
    every = spelt_out(reader.airframe.definition)["zones"]
    rules = [rule for rule in every if rule["zone"] == zone]
    if not rules and zone != NO_ZONE:
        raise Refused(
            "no_such_zone",
            f"The airframe definition has no zone {zone[:20]}.",
            f"It has {', '.join(sorted({rule['zone'] for rule in every}))}, "
            f"and {NO_ZONE} for what lies in none.",
        )
    return rules


def _ready(reader: Reader, zone: str, rules: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    airframe = reader.airframe
    rows = rows_of(reader.connection, airframe)
    unplaced = [row for row in rows if not row["zones"]]
    found = [row for row in rows if zone in row["zones"]] if rules else unplaced
    here = sorted(found, key=_nose_to_tail)
    reader.names |= {row["record"]: row["number"] for row in rows if row["number"]}
    coverage = coverage_of(reader, {(rule["structure"], rule["hand"]) for rule in rules})
    book = reader.find(["book"])["book"]
    return {
        "zone": zone,
        "title": rules[0]["title"] if rules else NO_ZONE_TITLE,
        "rules": rules,
        "unplaced": sorted(row["number"] for row in unplaced if row["number"]),
        "definition": spelt_out(airframe.definition),
        "standard": _standard(reader),
        "airframe": f"{airframe.type} · {airframe.constructor}",
        "workshop": text_of(book.standing, "workshop"),
        "date": reader.today,
        "epoch": reader.book.epoch,
        "version": version("skinpin"),
        "safety": WORDING["full"],
        "limits": WORDING["limits"],
        "surveys": surveys_of(reader, coverage),
        "coverage": coverage,
        "instruments": instruments_of(reader),
        "cutoff": _cutoff(reader),
        "records": records_of(reader, here, rows),
    }


def _standard(reader: Reader) -> Mapping[str, Any]:
    """Return the standard written last of those that are here, with its file's SHA-256."""
    found = [
        (max(one.standing.values), one, source)
        for one in reader.of_kind("standard")
        if (source := reader.workshop.files.find(_sha256_of(one)))
    ]
    if not found:
        return NO_STANDARD
    _, one, source = max(found, key=lambda each: each[0])
    reader.rests_on.add(one.record)
    return {**source, "sha256": _sha256_of(one)}


def _sha256_of(one: StandingRecord) -> str:
    return str(last_value(one.standing, "sha256"))


def _cutoff(reader: Reader) -> dict[str, Any]:
    """Return the last entry this book has and when it came, in the workshop's time."""
    came_ms = came_at_ms(reader.connection, reader.book.seq)
    at = wall_time(came_ms, reader.time_zone)[:16].replace("T", " ") if came_ms is not None else ""
    return {
        "seq": reader.book.seq,
        "at": at or "at a time not known",
        "zone": str(reader.time_zone),
    }


def _nose_to_tail(row: Row) -> tuple[bool, float, str]:
    station = row["station"]
    return station is None, float(station or 0), str(row["number"])
