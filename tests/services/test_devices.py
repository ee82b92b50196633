"""Devices: a lead sees and ends them; a good token is refused from then on, and nothing is lost."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.devices import (
    LET_IN_MS,
    SEEN_EVERY_MS,
    device_of,
    end_device,
    show_devices,
)
from skinpin.services.enrolment import enrol_desk
from skinpin.services.people import add_person
from skinpin.services.photographs import keep_bytes
from skinpin.services.roles import change_role
from skinpin.storage.devices import find_device
from skinpin_sync.chain import Draft
from sqlalchemy.exc import OperationalError

from tests.benches import new_key


def refusal(call, *args):
    with pytest.raises(Refused) as refused:
        call(*args)
    return refused.value


def shown(bench):
    return {one.name: one for one in show_devices(bench.workshop, bench.new.lead)}


def test_a_made_up_token_is_refused(bench):
    assert refusal(device_of, bench.workshop, "f" * 64).code == "not_enrolled"


def test_a_lead_sees_who_enrolled_each_device_and_when_it_was_last_here(bench):
    workshop, lead = bench.workshop, bench.new.lead
    tablet = bench.tablet()
    desk = enrol_desk(workshop, lead, new_key())
    one, other = shown(bench)["A"], shown(bench)[desk.device]
    assert (one.letter, one.enrolled_by, one.last_seen, one.unsent) == ("A", lead, None, None)
    assert one.enrolled_at.startswith("2025-11-03T08:15:30")
    assert (other.letter, other.device, other.shut) == (None, desk.tablet, None)
    workshop.now_ms.now_ms += 3_600_000
    device_of(workshop, tablet.token, 7)
    assert shown(bench)["A"].last_seen.startswith("2025-11-03T09:15:30")
    assert shown(bench)["A"].unsent == 7
    device_of(workshop, tablet.token)
    assert shown(bench)["A"].unsent == 7


def test_a_device_that_asks_often_is_noted_once_a_minute_and_when_its_count_changes(bench):
    workshop, tablet = bench.workshop, bench.tablet()
    device_of(workshop, tablet.token, 3)
    first = shown(bench)["A"].last_seen
    device_of(workshop, tablet.token, 3)
    assert shown(bench)["A"].last_seen == first
    device_of(workshop, tablet.token, 0)
    assert shown(bench)["A"].unsent == 0
    workshop.now_ms.now_ms += SEEN_EVERY_MS
    device_of(workshop, tablet.token)
    assert shown(bench)["A"].last_seen > first


def test_an_ended_device_is_refused_with_its_reason_and_others_go_on(bench):
    one, two = bench.tablet(), bench.tablet("tabletb1")
    bench.push(one.defect("d1", number="A/0001"))
    end_device(bench.workshop, bench.new.lead, shown(bench)["A"].device, "left on the ferry")
    refused = refusal(device_of, bench.workshop, one.token)
    assert refused.code == "device_ended"
    assert refused.message == "Tablet A was ended by a lead: left on the ferry."
    assert "stays stored" in refused.hint
    assert shown(bench)["A"].shut == refused.message
    assert device_of(bench.workshop, two.token).letter == "B"
    assert bench.tablet("tabletc1").name == "D"


def test_what_waited_on_an_ended_device_is_taken_once_it_is_enrolled_again(bench):
    one = bench.tablet()
    waiting = one.defect("d1", number="A/0001")
    end_device(bench.workshop, bench.new.lead, shown(bench)["A"].device, "by mistake")
    again = bench.tablet("tabletb1")
    device_of(bench.workshop, again.token)
    assert [one["result"] for one in bench.push(waiting)["results"]] == ["stored"]


def test_only_a_lead_ends_a_device_and_says_why(bench):
    bench.tablet()
    workshop, lead, device = bench.workshop, bench.new.lead, shown(bench)["A"].device
    clerk = add_person(workshop, lead, "Clerk", "clerk", "", "222222")
    assert refusal(end_device, workshop, clerk, device, "why").code == "not_allowed"
    assert refusal(show_devices, workshop, clerk).code == "not_allowed"
    assert refusal(end_device, workshop, lead, device, "  ").code == "no_reason"
    assert refusal(end_device, workshop, lead, "nothing", "why").code == "no_such_device"
    assert shown(bench)["A"].shut is None


def test_a_desk_is_shut_while_the_person_who_enrolled_it_has_no_role(bench):
    workshop, lead = bench.workshop, bench.new.lead
    clerk = add_person(workshop, lead, "Clerk Two", "clerk", "", "222222")
    desk = enrol_desk(workshop, clerk, new_key())
    change_role(workshop, lead, clerk, None, "left the workshop")
    refused = refusal(device_of, workshop, desk.token)
    assert (refused.code, "Clerk Two" in refused.message) == ("device_ended", True)
    change_role(workshop, lead, clerk, "inspector", "came back")
    assert device_of(workshop, desk.token).letter is None


def test_a_tablet_stays_good_when_the_lead_who_gave_its_code_leaves(bench):
    workshop, lead, tablet = bench.workshop, bench.new.lead, bench.tablet()
    other = add_person(workshop, lead, "Lead Two", "lead", "", "222222")
    change_role(workshop, other, lead, None, "retired")
    assert device_of(workshop, tablet.token).letter == "A"


def test_a_lost_tablet_is_let_in_no_more_until_it_is_found(bench):
    one, two = bench.tablet(), bench.tablet("tabletb1")
    record = device_of(bench.workshop, one.token).record
    [lost] = two.write(Draft(record, "tablet", {"lost": True}, relies=[bench.role_entry]))
    bench.push([lost])
    assert refusal(device_of, bench.workshop, one.token).code == "device_ended"
    found = Draft(
        record, "tablet", {"lost": False}, {"lost": [lost[0].id]}, relies=[bench.role_entry]
    )
    bench.push(two.write(found))
    assert device_of(bench.workshop, one.token).letter == "A"


def test_a_note_that_can_not_be_written_lets_the_device_in_all_the_same(bench, monkeypatch):
    def fails(*given):
        raise OperationalError("update", {}, Exception("database or disk is full"))

    tablet = bench.tablet()
    monkeypatch.setattr("skinpin.services.devices.note_seen", fails)
    assert device_of(bench.workshop, tablet.token, 1).letter == "A"
    assert shown(bench)["A"].last_seen is None


@pytest.fixture
def looks(monkeypatch):
    """The tokens that were looked up in the database."""
    found = []

    def looked(connection, token):
        found.append(token)
        return find_device(connection, token)

    monkeypatch.setattr("skinpin.services.devices.find_device", looked)
    return found


def test_who_sends_one_file_after_the_other_is_looked_up_once_a_second(bench, looks):
    workshop, tablet = bench.workshop, bench.tablet()
    for content in (b"one", b"two", b"three"):
        assert device_of(workshop, tablet.token).letter == "A"
        keep_bytes(workshop, content)
    assert len(looks) == 1
    workshop.now_ms.now_ms += LET_IN_MS
    device_of(workshop, tablet.token)
    workshop.now_ms.now_ms -= 2 * LET_IN_MS
    device_of(workshop, tablet.token)
    assert len(looks) == 3


def test_whoever_was_let_in_is_refused_at_once_when_its_rights_end(bench, looks):
    workshop, tablet = bench.workshop, bench.tablet()
    device_of(workshop, tablet.token)
    end_device(workshop, bench.new.lead, shown(bench)["A"].device, "lost at the slip")
    assert refusal(device_of, workshop, tablet.token).code == "device_ended"
    assert refusal(device_of, workshop, tablet.token).code == "device_ended"
    assert len(looks) == 3
