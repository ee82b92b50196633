"""Roles given and withdrawn: what the server held stays good, what comes later waits."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.people import add_person, find_person
from skinpin.services.roles import change_role
from skinpin.storage.log import open_ends
from skinpin_sync.chain import Draft
from skinpin_sync.clock import new_clock
from sqlalchemy import text

RAISED = {
    "place": {"structure": "Hull", "hand": "P", "member": "F3", "precision": "bay only"},
    "kind": "pitting",
    "no_photograph": "dark",
}


def refusal(call, *args):
    with pytest.raises(Refused) as refused:
        call(*args)
    return refused.value


def person(bench, one):
    with bench.workshop.reading() as connection:
        return find_person(connection, one, "2025-11-03")


def inspector_on(bench, writer="tableta1"):
    """Return a tablet used by an inspector."""
    one = add_person(bench.workshop, bench.new.lead, "Inspector Two", "inspector", "12", "222222")
    tablet = bench.tablet(writer)
    tablet.by, tablet.role_entry = one, person(bench, one).role_entry
    return tablet


def raise_one(tablet, record, number):
    new = {"number": number, "state": {"move": "new", "to": "Draft"}}
    [first] = tablet.write(Draft(record, "defect", new, relies=[tablet.role_entry]))
    moved = {**RAISED, "state": {"move": "raise", "to": "Raised"}}
    seen = {"state": [first[0].id]}
    draft = Draft(record, "defect", moved, seen, relies=[tablet.role_entry])
    return [first, *tablet.write(draft)]


def verdict(bench, id):
    with bench.workshop.reading() as connection:
        asked = text("SELECT code FROM entry WHERE id = :id")
        return connection.execute(asked, {"id": id}).scalar_one()


def test_moves_held_before_a_withdrawal_count_and_later_ones_wait_for_a_lead(bench):
    tablet = inspector_on(bench)
    before = raise_one(tablet, "d1", "A/0001")
    bench.push(before)
    change_role(bench.workshop, bench.new.lead, tablet.by, None, "left the workshop")
    after = raise_one(tablet, "d2", "A/0002")
    bench.push(after)
    assert [verdict(bench, entry.id) for entry, _ in before] == ["", ""]
    assert [verdict(bench, entry.id) for entry, _ in after] == ["leaver", "leaver"]


def test_a_change_of_role_leaves_the_old_role_to_what_came_before(bench):
    tablet = inspector_on(bench)
    bench.push(raise_one(tablet, "d1", "A/0001"))
    changed = change_role(bench.workshop, bench.new.lead, tablet.by, "clerk", "records room")
    assert (changed.role, person(bench, tablet.by).role) == ("clerk", "clerk")
    late = raise_one(tablet, "d2", "A/0002")
    bench.push(late)
    assert verdict(bench, late[1][0].id) == "leaver"


def test_a_role_given_again_is_a_new_one(bench):
    tablet = inspector_on(bench)
    old = tablet.role_entry
    change_role(bench.workshop, bench.new.lead, tablet.by, None, "left")
    again = change_role(bench.workshop, bench.new.lead, tablet.by, "inspector", "came back")
    assert again.role == "inspector"
    assert again.role_entry != old
    tablet.role_entry = again.role_entry
    written = raise_one(tablet, "d1", "A/0001")
    bench.push(written)
    assert [verdict(bench, entry.id) for entry, _ in written] == ["", ""]


def test_a_withdrawal_names_the_end_of_every_chain_the_server_holds(bench):
    one, two = inspector_on(bench), bench.tablet("tabletb1")
    mine = raise_one(one, "d1", "A/0001")
    bench.push(mine)
    gap = [two.defect(f"d{at}", number=f"B/000{at}")[0] for at in (2, 3, 4)]
    bench.push([gap[0], gap[2]])
    with bench.workshop.reading() as connection:
        ends = open_ends(connection)
        last = connection.execute(text("SELECT max(id) FROM entry WHERE device = 'server'"))
        server = last.scalar_one()
    expected = {mine[-1][0].id, gap[0][0].id, gap[2][0].id, server}
    assert set(ends) == expected


def test_an_end_that_a_later_writer_goes_on_from_is_none(bench):
    tablet = bench.tablet()
    bench.push(tablet.defect("d1", number="A/0001"))
    before = tablet.chain
    with bench.workshop.reading() as connection:
        old = open_ends(connection)
    tablet.chain = before._replace(clock=new_clock("tabletz9"), n=0)
    later = tablet.defect("d2", number="A/0002")
    bench.push(later)
    with bench.workshop.reading() as connection:
        now = open_ends(connection)
    assert later[0][0].id in now
    assert not {id for id in old if id.endswith("tableta1")} & set(now)


def test_what_a_device_wrote_before_it_was_enrolled_again_stays_good_too(bench):
    tablet = inspector_on(bench)
    first = raise_one(tablet, "d1", "A/0001")
    tablet.name, tablet.chain = "B", tablet.chain._replace(clock=new_clock("tabletz9"), n=0)
    second = raise_one(tablet, "d2", "B/0001")
    bench.push([*first, *second])
    change_role(bench.workshop, bench.new.lead, tablet.by, None, "left the workshop")
    assert {verdict(bench, entry.id) for entry, _ in (*first, *second)} == {""}


def test_the_last_lead_can_not_be_lost(bench):
    workshop, lead = bench.workshop, bench.new.lead
    assert refusal(change_role, workshop, lead, lead, None, "retired").code == "last_lead"
    assert refusal(change_role, workshop, lead, lead, "clerk", "retired").code == "last_lead"
    other = add_person(workshop, lead, "Lead Two", "lead", "", "222222")
    assert change_role(workshop, lead, lead, "clerk", "retired").role == "clerk"
    assert refusal(change_role, workshop, lead, other, None, "x").code == "not_allowed"
    assert person(bench, other).role == "lead"


@pytest.mark.parametrize(
    ("role", "reason", "code"),
    [("king", "x", "wrong_shape"), ("clerk", " ", "no_reason"), ("inspector", "x", "not_open")],
)
def test_a_change_that_makes_no_sense_is_refused(bench, role, reason, code):
    by = inspector_on(bench).by
    lead = bench.new.lead
    assert refusal(change_role, bench.workshop, lead, by, role, reason).code == code
    assert refusal(change_role, bench.workshop, lead, "nobody", role or "clerk", reason or "x")
