"""What was looked at in a zone, in which surveys, and with which registered instruments."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin.services.airframes import last_value
from skinpin.services.report_reader import Reader, tablet_of, text_of
from skinpin.storage.records import StandingRecord
from skinpin.storage.shelf import Kept

COVERED = ("survey", "looked_at", "blocked", "method", "paint")


def coverage_of(reader: Reader, parts: set[tuple[str, str]]) -> list[dict[str, Any]]:
    """Return what is said of the cells of structures and hands."""
    found = []
    for one in reader.of_kind("coverage"):
        cell = last_value(one.standing, "cell")
        if isinstance(cell, dict) and (cell.get("structure"), cell.get("hand")) in parts:
            reader.rests_on.add(one.record)
            found.append({"cell": cell} | {w: last_value(one.standing, w) for w in COVERED})
    return found


def surveys_of(reader: Reader, coverage: Iterable[Mapping[str, Any]]) -> list[dict[str, str]]:
    """Return the surveys that covered the zone, the first one first."""
    found = reader.find({str(one["survey"]) for one in coverage if one["survey"]}).values()
    kept = {one.entry.record: one for one in reader.kept_of(found, "title")}
    surveys = [_survey(reader, one, kept.get(one.record)) for one in found]
    return sorted(surveys, key=lambda one: (one["date"], one["title"]))


def _survey(reader: Reader, one: StandingRecord, kept: Kept | None) -> dict[str, str]:
    words = {field: text_of(one.standing, field) for field in ("title", "date", "method", "by")}
    named = {"by": reader.person_name(words["by"]), "tablet": tablet_of(kept) if kept else ""}
    return {"record": one.record} | words | named


def instruments_of(reader: Reader) -> dict[str, dict[str, str]]:
    """Return the register of instruments by name: title, range, due."""
    register = reader.of_kind("instrument")
    reader.rests_on |= {one.record for one in register}
    return {
        text_of(one.standing, "name"): {
            field: text_of(one.standing, field) for field in ("title", "range", "due")
        }
        for one in register
    }
