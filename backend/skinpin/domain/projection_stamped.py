"""The stamps in the row of a defect, and what they are made over."""

from collections.abc import Collection, Iterable
from typing import Any

from skinpin.domain.projection_related import ON_PICTURES, Related
from skinpin.domain.stamps import Stamp, holding, overtaken, stamp_list, stamp_of, stamped_ids
from skinpin.domain.values import Values
from skinpin.domain.verdicts import act_of

Row = dict[str, Any]
AFTER_RELEASE_1 = frozenset({"light", "zoom"})
"""Fields of a photograph that are stamped and that release 1 does not know."""


def stamps_on(record: str, related: Related) -> list[Stamp]:
    """Return the stamps that stand on a record."""
    made = [entry for entry, _ in related.stamps]
    good = (
        entry
        for entry, verdict in related.stamps
        if verdict.counts and entry.kind == "stamp" and entry.set.get("defect") == record
    )
    return [stamp_of(entry, made) for entry in good if act_of(entry) not in related.withdrawn]


def ids_to_stamp(values: Values, related: Related) -> set[str]:
    """Return the ids a stamp on the record is made over."""
    ids = stamped_ids("defect", values)
    for kind, records in (
        ("photograph", related.photographs),
        *((kind, getattr(related, name)) for kind, name in ON_PICTURES.items()),
        ("rivet_line", related.lines),
    ):
        for one in records.values():
            ids |= stamped_ids(kind, one)
    return ids


def ids_on_pictures(related: Related) -> set[str]:
    """Return those of them that a stamp of release 1 is not made over.

    Scales and lengths, and what says of a photograph no more than lamp and zoom.
    """
    ids: set[str] = set()
    for kind in ("scale", "measurement"):
        for one in getattr(related, ON_PICTURES[kind]).values():
            ids |= stamped_ids(kind, one)
    for one in related.photographs.values():
        ids |= {id for id, fields in one.items() if fields and fields.keys() <= AFTER_RELEASE_1}
    return ids


def stamp_keys(
    stamps: Iterable[Stamp],
    ids: tuple[Collection[str], Collection[str]],
    independent: bool,
) -> Row:
    """Return the stamps, those by which a clearance holds first, each with why it does not."""
    all_stamps = sorted(stamps)
    lead = holding(all_stamps, stamp_list(ids[0]), independent)
    rest = [one for one in all_stamps if one not in lead]
    shown = [
        {
            "entry": one.id,
            "act": one.act,
            "number": one.number,
            "person": one.person,
            "date": one.date,
            "overtaken": (why := overtaken(one, *ids)),
            "holds": why is None,
        }
        for one in [*lead, *rest]
    ]
    return {"stamps": shown}
