"""What was looked at in a zone, in which surveys, and with which registered instruments."""

from collections.abc import Iterable
from typing import Any

from skinpin.services.airframes import last_value
from skinpin.services.report_reader import Reader, tablet_of, text_of
from skinpin.storage.records import StandingRecord
from skinpin.storage.shelf import Kept

COVERED = ("survey", "looked_at", "blocked", "method", "paint")


def coverage_of(reader: Reader, parts: set[tuple[str, str]]) -> list[dict[str, Any]]:
    """Return what is said of cells of structures and hands, in no survey of another airframe."""
    found, others = [], _surveys_of_others(reader)
    for one in reader.of_kind("coverage"):
        cell = last_value(one.standing, "cell")
        if last_value(one.standing, "survey") in others:
            continue
        if isinstance(cell, dict) and (cell.get("structure"), cell.get("hand")) in parts:
            reader.rests_on.add(one.record)
            said = {word: last_value(one.standing, word) for word in COVERED}
            found.append({"record": one.record, "cell": cell} | said)
    return found


def _surveys_of_others(reader: Reader) -> set[str]:
    own = (None, reader.airframe.record)
    surveys = reader.of_kind("survey")
    return {one.record for one in surveys if last_value(one.standing, "airframe") not in own}


def outside_surveys(reader: Reader, coverage: Iterable[dict[str, Any]]) -> list[dict[str, str]]:
    """Return who looked on which day with no survey chosen, as surveys without a title.

    What they looked at is given to them, so that it is listed with them.
    """
    loose = {str(one["record"]): one for one in coverage if not one["survey"]}
    kept = reader.kept_of(reader.find(loose).values(), "cell")
    day = reader.day_of(kept)
    made: dict[str, dict[str, str]] = {}
    for each in sorted(kept, key=lambda one: one.entry.id):
        look = loose[each.entry.record]
        words = {
            "title": "Without a survey",
            "date": day(each.entry),
            "method": ", ".join(_how(look)),
            "by": reader.person_name(each.entry.by),
            "tablet": tablet_of(each),
        }
        name = " ".join(words.values())
        made[name] = {"record": name} | words
        look["survey"] = name
    return list(made.values())


def _how(look: dict[str, Any]) -> list[str]:
    """Return the method of a look and the paint it was made through."""
    paint = f"paint {look['paint']}" if look["paint"] else ""
    return [str(each) for each in (look["method"], paint) if each]


def surveys_of(reader: Reader, coverage: list[dict[str, Any]]) -> list[dict[str, str]]:
    """Return the surveys that covered the zone, and looks outside any, the first one first."""
    found = reader.find({str(one["survey"]) for one in coverage if one["survey"]}).values()
    kept = {one.entry.record: one for one in reader.kept_of(found, "title")}
    surveys = [_survey(reader, one, kept.get(one.record)) for one in found]
    surveys += outside_surveys(reader, coverage)
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
