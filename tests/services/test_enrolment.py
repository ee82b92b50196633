"""Enrolling: a code works once, a letter is given once."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.devices import device_of
from skinpin.services.enrolment import CODE_MS, enrol, enrol_desk, give_code
from skinpin.services.people import add_person
from skinpin.services.roles import change_role
from skinpin.storage.records import find_records
from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values

from tests.benches import new_key


def refusal(call, *args):
    with pytest.raises(Refused) as refused:
        call(*args)
    return refused.value


def standing(bench, record):
    with bench.workshop.reading() as connection:
        return find_records(connection, [record])[record].standing


def test_tablets_get_letters_in_order_and_their_keys_into_the_book(bench):
    key = new_key()
    one = enrol(bench.workshop, give_code(bench.workshop, bench.new.lead), key)
    two = enrol(bench.workshop, give_code(bench.workshop, bench.new.lead), new_key())
    assert (one.letter, two.letter, one.device) == ("A", "B", "A")
    stands = standing(bench, one.tablet)
    assert list(field_values(stands, "public_key").values()) == [key]
    assert list(field_values(stands, "letter").values()) == ["A"]
    assert device_of(bench.workshop, two.token).letter == "B"


def test_a_letter_written_into_the_book_by_hand_is_not_given_again(bench):
    tablet = bench.tablet()
    bench.push(tablet.write(Draft("t9", "tablet", {"letter": "D"}, relies=[bench.role_entry])))
    assert bench.tablet("tableth1").name == "E"


def test_a_code_works_once_however_it_is_typed(bench):
    code = give_code(bench.workshop, bench.new.lead)
    assert enrol(bench.workshop, f" {code.lower().replace('-', ' ')} ", new_key()).letter == "A"
    assert refusal(enrol, bench.workshop, code, new_key()).code == "wrong_code"


def test_a_code_lapses(bench):
    code = give_code(bench.workshop, bench.new.lead)
    bench.workshop.now_ms.now_ms += CODE_MS
    assert refusal(enrol, bench.workshop, code, new_key()).code == "wrong_code"


def test_a_refused_key_leaves_the_code_good(bench):
    code = give_code(bench.workshop, bench.new.lead)
    for wrong in ({}, {**new_key(), "crv": "P-384"}, {**new_key(), "x": new_key()["x"]}, None, "k"):
        assert refusal(enrol, bench.workshop, code, wrong).code == "wrong_shape"
    assert enrol(bench.workshop, code, new_key()).letter == "A"


def test_a_private_key_sent_by_mistake_is_not_kept(bench):
    code = give_code(bench.workshop, bench.new.lead)
    done = enrol(bench.workshop, code, {**new_key(), "d": "secret"})
    assert "secret" not in str(standing(bench, done.tablet))


def test_only_a_lead_gives_codes(bench):
    inspector = add_person(bench.workshop, bench.new.lead, "I", "inspector", "", "222222")
    assert refusal(give_code, bench.workshop, inspector).code == "not_allowed"


def test_a_desk_has_no_letter_and_uses_none_up(bench):
    desk = enrol_desk(bench.workshop, bench.new.lead, new_key())
    assert (desk.letter, desk.device) == (None, desk.tablet)
    assert bench.tablet().name == "A"


def test_a_code_of_somebody_who_is_no_lead_any_more_enrols_nothing(bench):
    workshop, lead = bench.workshop, bench.new.lead
    other = add_person(workshop, lead, "Lead Two", "lead", "", "222222")
    code = give_code(workshop, other)
    change_role(workshop, lead, other, "clerk", "moved to the records room")
    assert refusal(enrol, workshop, code, new_key()).code == "wrong_code"


def test_somebody_without_a_role_enrols_no_desk(bench):
    workshop, lead = bench.workshop, bench.new.lead
    fitter = add_person(workshop, lead, "Fitter Two", "fitter", "", "222222")
    change_role(workshop, lead, fitter, None, "left the workshop")
    assert refusal(enrol_desk, workshop, fitter, new_key()).code == "no_role"
    assert refusal(enrol_desk, workshop, "nobody", new_key()).code == "no_such_person"
