"""Which record names which, as standing values say."""

from collections.abc import Collection, Iterable, Mapping

from skinpin_sync.entry import NAME
from skinpin_sync.standing import field_values
from sqlalchemy import Connection, select

from skinpin.storage.many import delete_where, insert_new_rows, rows_among
from skinpin.storage.records import StandingRecord
from skinpin.storage.tables import link

# What the row of a defect is made from lies in records that name it; the airframe is a column.
NAMING = {
    "photograph": ("defect",),
    "mark": ("photograph",),
    "scale": ("photograph",),
    "measurement": ("photograph",),
    "stamp": ("defect",),
    "rivet_line": ("defect",),
    "defect": ("same_as",),
}


def keep_links(
    connection: Connection, now: Iterable[StandingRecord], before: Mapping[str, StandingRecord]
) -> set[str]:
    """Keep the links of changed records and return the records named now or before."""
    named = {one.record: _links(one) for one in now}
    links_before = {name: _links(one) for name, one in before.items() if name in named}
    old = [name for name, links in links_before.items() if links != named[name]]
    delete_where(connection, link, link.c.record, old)
    rows = [(name, field, to) for name, links in named.items() for field, to in links]
    insert_new_rows(connection, link, rows)
    both = (*named.values(), *links_before.values())
    return {to for links in both for _, to in links}


_LINKED = select(link.c.to_record, link.c.record, link.c.field)


def linked_to(
    connection: Connection, records: Collection[str], fields: Collection[str]
) -> dict[str, set[str]]:
    """Return for each record those that name it in one of the fields."""
    found: dict[str, set[str]] = {}
    for to, name, field in rows_among(connection, _LINKED, link.c.to_record, records):
        if field in fields:
            found.setdefault(to, set()).add(name)
    return found


def _links(one: StandingRecord) -> set[tuple[str, str]]:
    fields = NAMING.get(one.kind, ())
    if not any(field in values for field in fields for values in one.standing.values.values()):
        return set()
    return {
        (field, to)
        for field in fields
        for to in field_values(one.standing, field).values()
        if isinstance(to, str) and NAME.fullmatch(to)
    }
