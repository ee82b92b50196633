"""The last sheets of a zone report: deferred, instruments, photographs, standard, words, hash."""

from collections.abc import Iterable, Mapping
from typing import Any

from skinpin.reports.decided import deferral_words, is_overdue
from skinpin.reports.glossary import glossary_of
from skinpin.reports.instruments import instrument_rows
from skinpin.reports.lettering import TITLE_MM, fitting_size
from skinpin.reports.marks import mark
from skinpin.reports.words import printable

Ready = Mapping[str, Any]
Record = Mapping[str, Any]
_DRAWN = frozenset(["layout", "items", "marks"])


def back(ready: Ready, sheets: Any) -> dict[str, Any]:
    """Return the last sheets as the template reads them.

    Parameters
    ----------
    sheets
        All other sheets as the template reads them: the words in them are explained.
    """
    records = list(_with_sightings(ready["records"]))
    title = printable(f"{ready['title']}: lists and proof")
    return {
        "title": title,
        "title_size": fitting_size(title, TITLE_MM, (9.5, 8.3)),
        "deferred": [_deferred(each, ready["date"]) for each in _deferred_of(ready["records"])],
        "instruments": instrument_rows(records, ready.get("instruments", {}), ready["date"]),
        "photographs": [_photograph(*each) for each in _photographs(records)],
        "standard": [printable(each) for each in _standard(ready, records)],
        "words": glossary_of(_texts(sheets)),
        "proof": [printable(each) for each in _proof(ready)],
        "sha256": ready["rested"]["sha256"],
    }


def _with_sightings(records: Iterable[Record]) -> Iterable[Record]:
    seen = set()
    for record in records:
        for one in (record, *record.get("same", [])):
            if one["row"]["record"] not in seen:
                seen.add(one["row"]["record"])
                yield one


def _deferred_of(records: Iterable[Record]) -> list[Record]:
    found = [
        one
        for one in records
        if one["row"]["state"] == "Deferred" and isinstance(one["row"].get("deferral"), Mapping)
    ]
    return sorted(found, key=lambda one: str(one["row"]["deferral"].get("look_again_by") or "9"))


def _deferred(record: Record, today: str) -> dict[str, Any]:
    row = record["row"]
    return {
        "number": row["number"],
        "mark": mark(row),
        "grade": row["grade_words"],
        "what": printable(f"{row.get('kind_words') or row['kind']}, {record['place_short']}"),
        "words": printable(deferral_words(record, today)),
        "overdue": is_overdue(record, today),
    }


def _photographs(records: Iterable[Record]) -> list[tuple[str, Mapping[str, Any]]]:
    return [
        (record["row"]["number"], one)
        for record in sorted(records, key=lambda one: str(one["row"]["number"]))
        for one in record["photographs"]
    ]


def _photograph(number: str, one: Mapping[str, Any]) -> list[str]:
    taken = str(one["taken"] or "")[:16].replace("T", " ")
    received = f"received {one['received']}" if one.get("received") else "time not known"
    here = "" if one.get("file") else ", not on this server yet"
    sha256 = str(one.get("sha256") or "")[:16]
    by = printable(str(one["by"] or ""))
    return [number, printable(f"{one['role']}{here}"), taken or received, by, sha256]


def _standard(ready: Ready, records: Iterable[Record]) -> list[str]:
    standard = ready["standard"]
    sha256 = f", SHA-256 {standard['sha256'][:16]}" if standard.get("sha256") else ""
    lines = [f"{standard['name']} issue {standard['issue']}{sha256}."]
    others: dict[str, list[str]] = {}
    for record in records:
        own = record.get("standard")
        if own and (own["name"], own["issue"]) != (standard["name"], standard["issue"]):
            name = f"{own['name']} issue {own['issue']}"
            others.setdefault(name, []).append(record["row"]["number"])
    lines += [f"Graded by {name}: {', '.join(numbers)}." for name, numbers in others.items()]
    return [*lines, ready["limits"]] if ready.get("limits") else lines


def _texts(value: Any) -> Iterable[str]:
    """Return the words of sheets; drawings and pictures hold none that is not said elsewhere."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for name, each in value.items():
            if name not in _DRAWN:
                yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def _proof(ready: Ready) -> list[str]:
    cutoff, rested, book = ready["cutoff"], ready["rested"], str(ready["epoch"])[:8]
    return [
        f"Data up to entry {cutoff['seq']} of book {book}, which came to this server "
        f"{cutoff['at']} ({cutoff['zone']}). What tablets still hold is not in it.",
        f"The record hash is the SHA-256 of the {rested['count']} entries that this report rests "
        "on: all entries of its records, of their photographs, marks, rivet lines and stamps, of "
        "the surveys with their cells, and of the airframe, standard, instruments and people that "
        "it names. Each is taken as its line in the book, in the order of their ids, with a line "
        "feed after each. The same entries give the same hash; one more, one fewer or one altered "
        "gives another.",
        "The lines are written by: skinpin report --zone "
        f"{ready['zone']} --entries FILE, and sha256sum FILE gives the hash.",
    ]
