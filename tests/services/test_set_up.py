"""Setting up: a book is created once, whole, and its first entries count."""

import copy
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
    picture = {"sha256": sha256, "media_type": "image/png", "width_px": 420, "height_px": 300}
    whole = [3, 0, 0, 0, -3, 300, 0, 0, 1]
    points = [{"px": [3 * x, 300 - 3 * y], "at": [x, y]} for x, y in ((0, 0), (100, 0), (100, 30))]
    fit = {"method": "affine", "to_picture": whole, "points": points}
    view = {"name": "frame 6", "title": "Frame 6", "structure": "Hull", "picture": picture}
    return DEFINITION | {"views": [view | {"second": "water line", "calibration": fit}]}


def with_members(*stations, **zones):
    """Return a definition whose hull has members at stations, in this order, and zones so."""
    made = copy.deepcopy(DEFINITION)
    made["structures"][0]["members"] = [
        {"name": f"F{at}", "kind": "frame", "station": station}
        for at, station in enumerate(stations, 1)
    ]
    made["zones"] = [zone | zones for zone in made["zones"]]
    return made


TWO_NAMES = with_members("24", "48", "72")
TWO_NAMES["structures"][0]["members"][2]["name"] = "f2"
TROUBLES = {
    "two frames at one station": (
        with_members("24", "48", "48.0"),
        "F2 and F3 both stand at Sta 48.0 in.",
    ),
    "a name twice": (TWO_NAMES, "Hull has two members called F2."),
    "a zone on no structure": (
        with_members("24", "48", structure="Fin"),
        "Zone 111 is on Fin, and there is no such structure.",
    ),
    "a zone of strakes that are not there": (
        with_members("24", "48", strakes=[0, 9]),
        "Strakes 0 to 9 are none: Hull has 5 strakes.",
    ),
    "a figure that is finer than is kept": (
        with_members("24", "48.000000001"),
        "48.000000001 in is finer than 0.000001 in",
    ),
    "metal in no zone": (
        with_members("24", "48", "72", along=["30", None]),
        "Hull, port, F1 to Sta 30: no zone.",
    ),
    "metal in two zones": (
        with_members("24", "48", hand=None),
        "Hull, port, F1 to F2: in zones 111 and 112 and 110.",
    ),
    "no member at all": (with_members(), "“structures/0/members” is a list of 0"),
    "no zones": ({**DEFINITION, "zones": None}, "“zones” is "),
    "a drawing that is not here": (
        drawn("0" * 64),
        "The picture of “Frame 6” is not on this server.",
    ),
}


@pytest.mark.parametrize(("wrong", "told"), TROUBLES.values(), ids=TROUBLES)
def test_an_airframe_that_the_lead_s_screen_would_refuse_is_named_and_nothing_is_set_up(
    workshop, wrong, told
):
    with pytest.raises(Refused) as refused:
        set_up(workshop, definition=json.dumps(wrong).encode())
    assert told in refused.value.message
    assert (refused.value.code, is_empty(workshop)) == ("bad_definition", True)
    assert files_below(workshop.folder.root) == []


def test_of_many_troubles_three_are_named_and_the_rest_are_counted(workshop):
    wrong = with_members("24", "24", "24", "24", "24", "24")
    with pytest.raises(Refused) as refused:
        set_up(workshop, definition=json.dumps(wrong).encode())
    assert refused.value.message.endswith("F1 and F4 both stand at Sta 24 in. And 2 more.")


def test_members_out_of_order_are_taken_and_said(workshop):
    bench = set_up(workshop, definition=json.dumps(with_members("48", "24", "72")).encode())
    assert bench.new.said == ("Hull is not typed in order of station: F2.",)
    assert not is_empty(workshop)


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
