"""Setting up: a book is created once, whole, and its first entries count."""

import json

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.people import people_here
from skinpin.services.set_up import is_empty, set_up_book
from skinpin.storage.records import find_records, records_of_kind
from skinpin_sync.standing import field_values
from sqlalchemy import text

from tests.benches import DEFINITION, pages, set_up
from tests.storage.power_cuts import files_below


def drawn(sha256):
    """Return a definition with a view that shows a picture."""
    return DEFINITION | {"views": [{"title": "Frame 6", "picture": {"sha256": sha256}}]}


STANDARD = json.dumps({"name": "QS-7", "issue": "1", "rows": []}).encode()


def test_the_first_pages_make_lead_airframe_and_standard(workshop):
    bench = set_up(workshop, standard=STANDARD)
    [lead] = people_here(workshop, with_unlock=False)
    assert (lead["name"], lead["role"], lead["stamp_number"]) == ("Lead One", "lead", "01")
    with workshop.reading() as connection:
        [airframe] = records_of_kind(connection, "airframe")
        [standard] = records_of_kind(connection, "standard")
        verdicts = set(connection.scalars(text("SELECT verdict FROM entry")))
    [pin] = field_values(airframe.standing, "definition").values()
    assert airframe.record == bench.new.airframe
    assert json.loads(workshop.folder.read(pin["sha256"])) == DEFINITION
    assert list(field_values(standard.standing, "name").values()) == ["QS-7"]
    assert verdicts == {""}


def test_a_book_begins_without_an_airframe(workshop):
    bench = set_up(workshop, definition=None)
    assert bench.new.airframe is None
    assert not is_empty(workshop)
    with workshop.reading() as connection:
        assert records_of_kind(connection, "airframe") == []
        assert set(connection.scalars(text("SELECT verdict FROM entry"))) == {""}


def test_a_second_set_up_changes_nothing(bench):
    before = files_below(bench.workshop.folder.root)
    with pytest.raises(Refused) as refused:
        set_up_book(bench.workshop, pages(definition=b'{"name":"x","constructor":"1","issue":"2"}'))
    assert refused.value.code == "book_exists"
    assert files_below(bench.workshop.folder.root) == before


@pytest.mark.parametrize(
    "wrong",
    [
        {"workshop": " "},
        {"lead_name": ""},
        {"unit": "ft"},
        {"time_zone": "Quay/Shed"},
        {"time_zone": "../etc/passwd"},
        {"passcode": "123"},
        {"definition": b"not json"},
        {"definition": json.dumps(drawn("0" * 64)).encode()},
        {"definition": json.dumps(drawn("../../etc/passwd")).encode()},
        {"definition": json.dumps(drawn(None)).encode()},
        {"definition": b"[]"},
        {"definition": b'{"name": "Marram", "issue": "1"}'},
        {"standard": b'{"name": 7, "issue": "1"}'},
    ],
)
def test_pages_that_are_wrong_leave_the_book_empty(workshop, wrong):
    with pytest.raises(Refused) as refused:
        set_up_book(workshop, pages(**wrong))
    assert refused.value.message.endswith(".")
    assert is_empty(workshop)


def test_the_workshop_day_is_that_of_its_time_zone(workshop):
    workshop.now_ms.now_ms = 1_762_171_200_000  # 2025-11-03 12:00 UTC
    set_up(workshop, time_zone="Pacific/Kiritimati")
    with workshop.reading() as connection:
        book = find_records(connection, ["book"])["book"].standing
        [lead] = records_of_kind(connection, "person")
    assert list(field_values(book, "time_zone").values()) == ["Pacific/Kiritimati"]
    assert [value["from"] for value in field_values(lead.standing, "role").values()] == [
        "2025-11-04"
    ]
