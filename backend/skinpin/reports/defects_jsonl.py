"""The defect book as JSON lines: one record a line, values exactly as they were typed."""

from collections.abc import Iterable, Mapping
from typing import Any

import orjson

from skinpin.domain.stamp_words import overtaken_words

ROW_MEMBERS = (
    "number",
    "also_numbers",
    "state",
    "states",
    "grade",
    "grade_known",
    "grade_words",
    "overruled",
    "deciding",
    "fired",
    "missing",
    "copied",
    "zone",
    "zones",
    "structure",
    "hand",
    "member",
    "strakes",
    "station",
    "place_words",
    "place",
    "kind",
    "material",
    "part",
    "stage",
    "disposition",
    "deferral",
    "raised_on",
    "raised_by",
    "cleared_on",
    "same_as_number",
    "two_values",
    "stamps",
    "stamps_hold",
    "photographs",
    "record",
)
"""Members taken from the row of a defect, under the same names."""
MEMBERS = {
    "station_unit": "the unit of `station`, which is decimal text",
    "values": "by field every value that stands, as it was typed: two where nobody has chosen; "
    "one with `copied_from` was copied from that record and not measured here; one with "
    "`scale_withdrawn` true came from a photograph whose scale, measurement or picture was struck "
    "or withheld since, and is no measurement; `uncertainty` is its ±, `measurement` what it "
    "rests on",
    "overtaken": "why a record that was cleared by a stamp is not, and what to do; empty where its "
    "stamps hold. Of each of `stamps`, `overtaken` is the word for it, null where it holds",
    "wording": "what these records are, and are not",
}


def defects_jsonl(records: Iterable[Mapping[str, Any]]) -> bytes:
    """Return the defect book as JSON lines.

    Parameters
    ----------
    records
        As `defects_csv` takes them.
    """
    return b"".join(_line(record) for record in records)


def _line(record: Mapping[str, Any]) -> bytes:
    row = record["row"]
    told = {name: row.get(name) for name in ROW_MEMBERS}
    told["station_unit"] = record.get("unit")
    told["values"] = record["values"]
    told["overtaken"] = overtaken_words(row)
    told["wording"] = record.get("wording", "")
    return orjson.dumps(told) + b"\n"
