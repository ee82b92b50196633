"""Copies of the photographs of a book to give away, each with its record, place and time in it."""

import csv
import hashlib
import io
from pathlib import Path
from typing import Any, NamedTuple

from skinpin.domain.errors import Refused
from skinpin.domain.kinds import WORDING
from skinpin.imaging.copies import Copy, exported_copy
from skinpin.reports.defects_csv import defused
from skinpin.services.airframes import Row, find_airframe, last_value, rows_of
from skinpin.services.export import check_zone
from skinpin.services.outgoing import write_document
from skinpin.services.report_reader import Reader
from skinpin.services.workshop import Workshop
from skinpin.storage.links import linked_to

LIST = "photographs.csv"
ANEW = "coded anew"
HEADINGS = (
    *("file", "sha256", "original_sha256", "picture", "number", "shows", "place"),
    *("taken", "taken_offset", "received", "wording"),
)
# What no plain text of EXIF can hold, in words that it can.
PLAIN = {"·": ",", "–": "-", "±": "+/-", "°": " deg", "×": "x", "“": '"', "”": '"'}


class Asked(NamedTuple):
    """What leaves: of which zone, and whether with the camera's own place and serial numbers."""

    zone: str = ""
    airframe: str = ""
    with_place: bool = False
    with_serial: bool = False


class Copied(NamedTuple):
    """How many copies were written, how many of them coded anew, and which are not here."""

    written: int
    coded_anew: int
    lacking: list[str]


def export_photographs(workshop: Workshop, folder: Path, asked: Asked) -> Copied:
    """Write a copy of each photograph into an empty folder, and a list of them as CSV.

    The originals are read and never written. Of a JPEG the picture stays as it is coded.

    Raises
    ------
    Refused
        `no_such_zone`; `file_there`: the folder holds something; `not_written`.
    """
    if folder.exists() and any(folder.iterdir()):
        raise Refused("file_there", f"{folder} is not empty.", "Give a new or an empty folder.")
    lines: list[dict[str, str]] = []
    lacking: list[str] = []
    for one in _photographs(workshop, asked):
        copy = _copy(workshop, one, asked)
        if copy is None:
            lacking.append(one["file"])
            continue
        folder.mkdir(parents=True, exist_ok=True)
        write_document(folder / one["file"], copy.content)
        lines.append(_listed(one, copy))
    folder.mkdir(parents=True, exist_ok=True)
    write_document(folder / LIST, _csv(lines))
    return Copied(len(lines), sum(one["picture"] == ANEW for one in lines), lacking)


def _copy(workshop: Workshop, one: dict[str, Any], asked: Asked) -> Copy | None:
    """Return the copy of a photograph, none where it is not here or can't be read."""
    if not workshop.folder.exists(one["original_sha256"]):
        return None
    try:
        return exported_copy(workshop.folder.read(one["original_sha256"]), _told(one, asked))
    except Refused:
        return None


def _listed(one: dict[str, Any], copy: Copy) -> dict[str, str]:
    return {
        **{name: defused(str(one.get(name) or "")) for name in HEADINGS},
        "sha256": hashlib.sha256(copy.content).hexdigest(),
        "picture": ANEW if copy.is_coded_anew else "as coded by the camera",
        "wording": WORDING["full"],
    }


def _photographs(workshop: Workshop, asked: Asked) -> list[dict[str, Any]]:
    with workshop.reading() as connection:
        meant = find_airframe(workshop, connection, asked.airframe)
        check_zone(meant, asked.zone)
        rows = [
            row
            for row in rows_of(connection, meant)
            if not asked.zone or asked.zone in row["zones"]
        ]
        reader = Reader(workshop, connection, meant)
        named = linked_to(connection, [row["record"] for row in rows], ("defect",))
        records = reader.find({one for some in named.values() for one in some})
        kept = reader.kept_of(
            [one for one in records.values() if one.kind == "photograph"], "sha256"
        )
        moment = reader.moment_of(kept)
        came = {one.entry.record: moment(one.entry) for one in kept}
        return [
            _line(row, at, records[id].standing, came.get(id))
            for row in rows
            for at, id in enumerate(_of(named.get(row["record"], ()), records), 1)
        ]


def _of(ids: Any, records: dict[str, Any]) -> list[str]:
    return [
        id
        for id in sorted(ids)
        if id in records
        and records[id].kind == "photograph"
        and not last_value(records[id].standing, "withheld")
        and isinstance(last_value(records[id].standing, "sha256"), str)
    ]


def _line(row: Row, at: int, standing: Any, came: tuple[str, str] | None) -> dict[str, Any]:
    taken = last_value(standing, "taken")
    role = str(last_value(standing, "role") or "wide")
    number = str(row["number"] or "without number")
    plain = "".join(one for one in number if one.isascii() and one.isalnum()) or "record"
    return {
        "file": f"{plain}-{at:02d}-{_word(role)}.jpg",
        "original_sha256": str(last_value(standing, "sha256")),
        "number": number,
        "shows": role,
        "place": str(row["place_words"] or ""),
        "taken": str(taken.get("wall", "")) if isinstance(taken, dict) else "",
        "taken_offset": str(taken.get("offset", "")) if isinstance(taken, dict) else "",
        "received": "T".join(came) if came else "",
    }


def _word(role: str) -> str:
    return "-".join("".join(c if c.isalnum() and c.isascii() else " " for c in role).split())


def _told(one: dict[str, Any], asked: Asked) -> dict[str, Any]:
    words = f"{one['number']}, {one['shows']}: {one['place']}"
    for sign, plain in PLAIN.items():
        words = words.replace(f" {sign} ", f"{plain} " if plain == "," else f" {plain} ")
        words = words.replace(sign, plain)
    offset = one["taken_offset"].replace("unknown", "")
    return {
        "words": words,
        "comment": f"{one['number']} · {one['shows']} · {one['place']} · exported copy of the "
        f"original with SHA-256 {one['original_sha256']} · {WORDING['short']}",
        "sha256": one["original_sha256"],
        "taken": {"wall": one["taken"], "offset": offset} if one["taken"] else None,
        "received": {"wall": one["received"]} if one["received"] else None,
        "with_place": asked.with_place,
        "with_serial": asked.with_serial,
    }


def _csv(lines: list[dict[str, str]]) -> bytes:
    out = io.StringIO()
    writer = csv.DictWriter(out, HEADINGS)
    writer.writeheader()
    writer.writerows(lines)
    return out.getvalue().encode()
