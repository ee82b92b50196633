"""The records of a report, each with its history, figures, pictures and stamps."""

import hashlib
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from skinpin_sync.standing import Standing

from skinpin.domain.days import Day
from skinpin.domain.history import history
from skinpin.domain.kinds import MATERIALS
from skinpin.domain.place import entered_words, is_off, place_words
from skinpin.domain.place_stations import structure_of
from skinpin.domain.projection_first import said
from skinpin.domain.scale_struck import fallen_in, without_fallen
from skinpin.domain.verdicts import act_of, state_of
from skinpin.services.airframes import Row, last_value
from skinpin.services.export import values_by_field
from skinpin.services.report_measures import measured_of, observations_of, rivet_lines_of
from skinpin.services.report_photo_figures import measurement_of
from skinpin.services.report_pictures import photographs_of
from skinpin.services.report_reader import Reader
from skinpin.storage.records import write_standing
from skinpin.storage.shelf import Kept


class Gathered:
    """What records are put together from, read for all of them at once."""

    def __init__(self, reader: Reader, rows: Sequence[Row]) -> None:
        wanted = [row["record"] for row in rows]
        self.reader = reader
        self.standing = reader.find(wanted)
        self.entries: dict[str, list[Kept]] = {}
        for one in reader.shelf.of_records(wanted):
            self.entries.setdefault(one.entry.record, []).append(one)
        self.pictures = photographs_of(reader, wanted, self._used())
        self.rivet_lines = rivet_lines_of(reader, {row["record"]: row for row in rows})
        stamps = reader.shelf.by_id([stamp["entry"] for row in rows for stamp in row["stamps"]])
        reader.rests_on |= {one.entry.record for one in stamps}
        self.signed = {one.entry.id: one.entry.sig is not None for one in stamps}
        self.act_of = {one.entry.id: act_of(one.entry) for one in stamps}

    def _used(self) -> set[str]:
        """Return the measurements on photographs that figures which stand rest on."""
        told = [fields for one in self.standing.values() for fields in one.standing.values.values()]
        return {name for fields in told for one in fields.values() if (name := measurement_of(one))}


def records_of(reader: Reader, here: Sequence[Row], rows: Sequence[Row]) -> list[dict[str, Any]]:
    """Return the records of rows, the sightings of one defect with the one that leads."""
    names = {row["record"] for row in here}
    sightings = [row for row in rows if row["same_as"] in names and row["record"] not in names]
    every = (*here, *sightings)
    gathered = Gathered(reader, every)
    made = {row["record"]: _record(gathered, row) for row in every}
    for row in every:
        if row["state"] == "Same as" and row["same_as"] in made:
            _join(made[row["same_as"]], made[row["record"]])
    return [made[row["record"]] for row in here]


def _record(gathered: Gathered, row: Row) -> dict[str, Any]:
    reader, record, place = gathered.reader, row["record"], row["place"]
    now, mine = gathered.standing[record].standing, gathered.entries[record]
    sound = without_fallen(now.values, fallen_in(row))
    return {
        "row": row,
        "place": place,
        "place_short": _place_short(reader, place) if place else row["place_words"] or "",
        "place_long": _place_long(row, said(entered_words, reader.airframe.definition, place)),
        "material_words": str(MATERIALS.get(row["material"] or "", {}).get("label", "")),
        "values": values_by_field(sound),
        "measured": measured_of(reader, sound, mine),
        "overruled": _decided(reader, now, mine, "overrule"),
        "deferred": _decided(reader, now, mine, "deferral"),
        "observations": observations_of(reader, mine) if row["kind"] == "crack" else [],
        "rivet_lines": gathered.rivet_lines.get(record, []),
        "standard": reader.workshop.files.pinned(last_value(now, "standard")),
        "photographs": gathered.pictures.get(record, []),
        "history": _history(reader, mine),
        "stamps": [_stamp(gathered, one, _overruling(mine)) for one in row["stamps"]],
        "found_by": _found_by(reader, mine),
        "found_on": row["raised_on"] or "",
        "cleared_on": _cleared_on(now, mine, reader.day_of(mine)),
        "sha256": hashlib.sha256(write_standing(now).encode()).hexdigest(),
        "same": [],
    }


def _decided(reader: Reader, now: Standing, kept: Sequence[Kept], field: str) -> dict[str, str]:
    """Return day and reason of the decision that stands in a field, nothing where none does."""
    day = reader.day_of(kept)
    standing = {id for id, fields in now.values.items() if fields.get(field)}
    last = max((one for one in kept if one.entry.id in standing), key=_id_of, default=None)
    return {} if last is None else {"date": day(last.entry), "why": last.entry.why or ""}


def _id_of(kept: Kept) -> str:
    return kept.entry.id


def _place_short(reader: Reader, place: Mapping[str, Any]) -> str:
    if is_off(place):
        return place_words(reader.airframe.definition, place)
    plain = {**place, "face": None}
    words = place_words(reader.airframe.definition, plain)
    structure = structure_of(reader.airframe.definition, place)
    words = words.replace(f" {structure['positive']}", "")
    return words.partition(" · ")[2] if len(structure["hands"]) > 1 else words


def _place_long(row: Row, entered: str | None) -> str:
    others = ", ".join(one for one in row["zones"] if one != row["zone"])
    reaches = f", reaches {others}" if others else ""
    zone = f"zone {row['zone']}{reaches}" if row["zone"] else ""
    as_entered = f"entered as {entered}" if entered else ""
    words = (row["place_words"], row["station_text"], zone, as_entered)
    return " · ".join(word for word in words if word)


def _history(reader: Reader, kept: Sequence[Kept]) -> list[dict[str, Any]]:
    """Return the history from raising on; how a record was begun stands in its figures."""
    pairs = [(one.entry, one.verdict) for one in kept]
    withdrawn = {act_of(one.entry) for one in kept if one.withdrawn}
    told = history(pairs, reader.names_in(kept), reader.moment_of(kept), withdrawn)
    since = min((one.entry.id for one in kept if _begins(one)), default="")
    return [line for line in told if line["entry"] >= since or not line["counts"]]


def _begins(kept: Kept) -> bool:
    """Say whether an entry made a draft a record."""
    return state_of(kept.entry).get("move") in ("raise", "nil") and kept.verdict.counts


def _stamp(
    gathered: Gathered, stamp: Mapping[str, Any], overruling: Collection[tuple[str, str]]
) -> dict[str, Any]:
    entry, person = stamp["entry"], gathered.reader.people.get(stamp["person"])
    role = (person.role or "").replace("_", " ") if person else ""
    overrules = gathered.act_of.get(entry) in overruling
    return {
        **stamp,
        "role": role,
        "signed": gathered.signed.get(entry, False),
        "overrules": overrules,
    }


def _overruling(kept: Iterable[Kept]) -> set[tuple[str, str]]:
    """Return the acts that overrule a grade and give no disposition: their stamp is for that."""
    return {
        act_of(one.entry)
        for one in kept
        if one.entry.set.get("overrule") and "disposition" not in one.entry.set
    }


def _found_by(reader: Reader, kept: Sequence[Kept]) -> dict[str, str]:
    """Return who wrote a record first and who raised it, each with the day; nothing if one did."""
    counting = sorted((one for one in kept if one.entry.kind == "defect"), key=_id_of)
    first = next(iter(counting), None)
    raised = next((one for one in counting if _begins(one) and not one.withdrawn), None)
    if first is None or raised is None or first.entry.by == raised.entry.by:
        return {}
    day = reader.day_of(kept)
    return {
        "found_by": reader.person_name(first.entry.by),
        "found_on": day(first.entry),
        "raised_by": reader.person_name(raised.entry.by),
        "raised_on": day(raised.entry),
    }


def _join(head: dict[str, Any], same: dict[str, Any]) -> None:
    """Show a sighting of the same defect beside the record that leads."""
    head["same"].append(same)
    number = same["row"]["number"]
    told = [_with_number(one, str(number)) for one in same["history"]]
    head["history"] = sorted([*head["history"], *told], key=lambda one: (one["date"], one["time"]))


def _with_number(line: Mapping[str, Any], number: str) -> dict[str, Any]:
    told = {**line, "sentence": f"{number}: {line['sentence']}"}
    return told | ({"parts": [[f"{number}: ", False], *line["parts"]]} if "parts" in line else {})


def _cleared_on(now: Standing, kept: Iterable[Kept], day: Day) -> str:
    """Return the day of the move that cleared a record, if that stands."""
    ids = {
        id
        for id, fields in now.values.items()
        if isinstance(fields.get("state"), dict) and fields["state"].get("to") == "Cleared"
    }
    return max((day(one.entry) for one in kept if one.entry.id in ids), default="")
