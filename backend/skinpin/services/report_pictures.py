"""The photographs of a report with their marks, and their renditions made ready."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from skinpin.domain.errors import Refused
from skinpin.reports.pictured import drawing_file, drawings_shown
from skinpin.reports.running import Running
from skinpin.services.airframes import last_value
from skinpin.services.photographs import find_rendition
from skinpin.services.report_measured import measured_on
from skinpin.services.report_reader import Reader
from skinpin.services.workshop import Workshop
from skinpin.storage.links import linked_to
from skinpin.storage.records import StandingRecord

RENDITION_PX = 1000
DRAWING_PX = 1600


def renditions(
    workshop: Workshop, records: Iterable[Mapping[str, Any]], running: Running
) -> dict[str, Path]:
    """Make the pictures ready; one that is not here, or can't be read, is left out by name."""
    found = {}
    photographs = [
        one
        for record in records
        for sighting in (record, *record["same"])
        for one in sighting["photographs"]
    ]
    for done, photograph in enumerate(photographs):
        running.now("photographs", done, len(photographs))
        try:
            path = find_rendition(workshop, photograph["sha256"], RENDITION_PX).path
        except Refused:
            continue
        photograph["file"] = f"{photograph['sha256']}.jpg"
        found[photograph["file"]] = path
    return found


def drawings(
    workshop: Workshop, ready: Mapping[str, Any], pictures: dict[str, Path]
) -> dict[str, str]:
    """Make the pictures of the views ready that records lie on: files by SHA-256.

    Where one is not here the record is shown on the drawn view.
    """
    found: dict[str, str] = {}
    for record in ready["records"]:
        for view in drawings_shown(ready["definition"], record):
            sha256 = str(view["picture"]["sha256"])
            if sha256 in found:
                break
            try:
                pictures[drawing_file(sha256)] = find_rendition(workshop, sha256, DRAWING_PX).path
            except Refused:
                continue
            found[sha256] = drawing_file(sha256)
            break
    return found


def photographs_of(
    reader: Reader, defects: Sequence[str], used: Collection[str] = ()
) -> dict[str, list[dict[str, Any]]]:
    """Return the photographs of defects that are not withheld.

    Parameters
    ----------
    used
        Measurements that the figures which stand rest on.
    """
    named = linked_to(reader.connection, defects, ("defect",))
    records = reader.find({one for some in named.values() for one in some})
    photographs = {id: one for id, one in records.items() if one.kind == "photograph"}
    marks = _marks(reader, photographs, used)
    reader.names |= {id: str(last_value(one.standing, "role")) for id, one in photographs.items()}
    came = _arrivals(reader, list(photographs.values()))
    repeats = _repeats(reader, photographs)
    return {
        defect: [
            _photograph(photographs[id], marks.get(id, []), came.get(id, {}))
            | {"repeats": repeats.get(id)}
            for id in sorted(some)
            if id in photographs and not last_value(photographs[id].standing, "withheld")
        ]
        for defect, some in named.items()
    }


def _repeats(
    reader: Reader, photographs: Mapping[str, StandingRecord]
) -> dict[str, dict[str, Any]]:
    """Return by photograph whose view it repeats: number where it is another's, role, day, fit."""
    asked = {id: last_value(one.standing, "repeat_of") for id, one in photographs.items()}
    names = {one for one in asked.values() if isinstance(one, str)}
    earlier = {id: one for id, one in reader.find(names).items() if one.kind == "photograph"}
    of = {id: last_value(one.standing, "defect") for id, one in earlier.items()}
    defects = reader.find({one for one in of.values() if isinstance(one, str)})
    came = _arrivals(reader, list(earlier.values()))
    found = {}
    for id, name in asked.items():
        if not isinstance(name, str) or name not in earlier:
            continue
        is_own = of[name] == last_value(photographs[id].standing, "defect")
        other = None if is_own else defects.get(of[name])
        taken = _wall(last_value(earlier[name].standing, "taken"))
        found[id] = {
            "number": str(last_value(other.standing, "number") or "") if other else "",
            "role": str(last_value(earlier[name].standing, "role") or "wide"),
            "day": (taken or came.get(name, {}).get("received", ""))[:10],
            "fit": last_value(photographs[id].standing, "fit"),
        }
    return found


def _wall(taken: Any) -> str:
    wall = taken.get("wall") if isinstance(taken, dict) else None
    return wall if isinstance(wall, str) else ""


def _arrivals(reader: Reader, photographs: Sequence[StandingRecord]) -> dict[str, dict[str, str]]:
    """Return by photograph who handed it over, and when by the workshop's clock."""
    kept = reader.kept_of(photographs, "sha256")
    moment = reader.moment_of(kept)
    return {
        one.entry.record: {
            "by": reader.person_name(one.entry.by),
            "received": " ".join(moment(one.entry)),
        }
        for one in kept
    }


def _marks(
    reader: Reader, photographs: Mapping[str, StandingRecord], used: Collection[str]
) -> dict[str, list[dict[str, Any]]]:
    """Return by photograph its marks, then its scale and what was measured with it."""
    named = linked_to(reader.connection, list(photographs), ("photograph",))
    records = reader.find({one for some in named.values() for one in some})
    unit = str(reader.airframe.definition.get("unit") or "in")
    return {
        photograph: [
            *_shapes(records, some),
            *measured_on(photographs[photograph], [records[id] for id in sorted(some)
                                                   if id in records], unit, used),
        ]
        for photograph, some in named.items()
    }  # fmt: skip


def _shapes(records: Mapping[str, StandingRecord], some: Iterable[str]) -> list[dict[str, Any]]:
    return [
        {**shape, "record": id}
        for id in sorted(some)
        if id in records
        and not last_value(records[id].standing, "struck")
        and isinstance(shape := last_value(records[id].standing, "shape"), dict)
    ]


def _photograph(
    one: StandingRecord, marks: Sequence[Mapping[str, Any]], came: Mapping[str, str]
) -> dict[str, Any]:
    def value(field: str) -> Any:
        return last_value(one.standing, field)

    taken = value("taken")
    return {
        "file": None,
        "sha256": str(value("sha256")),
        "role": str(value("role") or "wide"),
        "taken": str(taken.get("wall", "")) if isinstance(taken, dict) else "",
        "by": came.get("by", ""),
        "received": came.get("received", ""),
        "width_px": value("width_px"),
        "height_px": value("height_px"),
        "mirrored": value("mirrored") is True,
        "marks": list(marks),
    }
