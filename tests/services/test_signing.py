"""Signing in: wrong tries are slowed down, never locked out for good."""

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.passcodes import FREE_TRIES, LONGEST_WAIT_S
from skinpin.services.people import add_person, people_here, set_passcode
from skinpin.services.roles import change_role
from skinpin.services.signing import SESSION_MS, sign_in, sign_out, who_is
from skinpin_sync.chain import Draft
from sqlalchemy import text

from tests.benches import PASSCODE


def refusal(call, *args):
    with pytest.raises(Refused) as refused:
        call(*args)
    return refused.value


def test_the_right_passcode_opens_a_session_that_ends_on_signing_out(bench):
    signed = sign_in(bench.workshop, bench.new.lead, PASSCODE)
    assert signed.person.role == "lead"
    assert who_is(bench.workshop, signed.token) == signed.person
    sign_out(bench.workshop, signed.token)
    assert who_is(bench.workshop, signed.token) is None


def test_a_session_ends_by_itself(bench):
    signed = sign_in(bench.workshop, bench.new.lead, PASSCODE)
    bench.workshop.now_ms.now_ms += SESSION_MS
    assert who_is(bench.workshop, signed.token) is None


def test_a_token_lies_hashed_and_a_passcode_lies_nowhere(bench):
    token = sign_in(bench.workshop, bench.new.lead, PASSCODE).token
    bench.workshop.engine.dispose()
    content = b"".join(
        file.read_bytes() for file in bench.workshop.folder.root.parent.glob("book.sqlite*")
    )
    assert bench.new.lead.encode() in content
    assert token.encode() not in content
    assert PASSCODE.encode() not in content


def test_wrong_tries_wait_longer_and_longer_and_the_right_passcode_still_opens(bench):
    workshop, lead = bench.workshop, bench.new.lead
    for _ in range(FREE_TRIES):
        assert refusal(sign_in, workshop, lead, "000000").code == "wrong_passcode"
    assert refusal(sign_in, workshop, lead, PASSCODE).code == "wait"
    workshop.now_ms.now_ms += 1000
    assert refusal(sign_in, workshop, lead, "000000").code == "wrong_passcode"
    workshop.now_ms.now_ms += 1000
    assert refusal(sign_in, workshop, lead, PASSCODE).code == "wait"
    workshop.now_ms.now_ms += 1000
    assert sign_in(workshop, lead, PASSCODE).person.person == lead
    assert refusal(sign_in, workshop, lead, "000000").code == "wrong_passcode"


def test_after_a_thousand_wrong_tries_one_minute_is_the_longest_wait(bench):
    workshop, lead = bench.workshop, bench.new.lead
    with workshop.writing() as connection:
        connection.execute(text("UPDATE person_secret SET failures = 1000"))
    refusal(sign_in, workshop, lead, "000000")
    workshop.now_ms.now_ms += LONGEST_WAIT_S * 1000
    assert sign_in(workshop, lead, PASSCODE).person.person == lead


def test_a_clock_set_back_years_keeps_nobody_out(bench):
    workshop, lead = bench.workshop, bench.new.lead
    for _ in range(FREE_TRIES):
        refusal(sign_in, workshop, lead, "000000")
    workshop.now_ms.now_ms -= 10**11
    assert sign_in(workshop, lead, PASSCODE).person.person == lead


def test_somebody_unknown_is_refused_like_a_wrong_passcode(bench):
    assert refusal(sign_in, bench.workshop, "nobody", PASSCODE).code == "wrong_passcode"


def test_a_new_passcode_ends_the_sessions_opened_by_the_old_one(bench):
    workshop, lead = bench.workshop, bench.new.lead
    token = sign_in(workshop, lead, PASSCODE).token
    set_passcode(workshop, lead, lead, "a longer phrase")
    assert who_is(workshop, token) is None
    assert refusal(sign_in, workshop, lead, PASSCODE).code == "wrong_passcode"
    assert sign_in(workshop, lead, "a longer phrase").person.person == lead


def test_only_a_lead_sets_the_passcode_of_another(bench):
    workshop, lead = bench.workshop, bench.new.lead
    fitter = add_person(workshop, lead, "Fitter Two", "fitter", "", "222222")
    assert refusal(set_passcode, workshop, fitter, lead, "333333").code == "not_allowed"
    assert refusal(add_person, workshop, fitter, "X", "fitter", "", "123456").code == "not_allowed"
    set_passcode(workshop, fitter, fitter, "444444")
    set_passcode(workshop, lead, fitter, "555555")
    assert sign_in(workshop, fitter, "555555").person.role == "fitter"


def test_somebody_whose_role_is_withdrawn_is_out_at_once_and_can_not_sign_in(bench):
    workshop, lead = bench.workshop, bench.new.lead
    fitter = add_person(workshop, lead, "Fitter Two", "fitter", "", "222222")
    token = sign_in(workshop, fitter, "222222").token
    change_role(workshop, lead, fitter, None, "left the workshop")
    assert who_is(workshop, token) is None
    assert refusal(sign_in, workshop, fitter, "222222").code == "no_role"
    assert refusal(sign_in, workshop, fitter, "000000").code == "wrong_passcode"
    unlocks = {one["person"]: one["unlock"] for one in people_here(workshop, with_unlock=True)}
    assert unlocks[fitter] is None
    assert unlocks[lead] is not None
    change_role(workshop, lead, fitter, "bench_fitter", "came back")
    assert sign_in(workshop, fitter, "222222").person.role == "bench_fitter"
    assert who_is(workshop, token) is None


def test_a_session_of_somebody_whose_role_was_withdrawn_on_a_tablet_is_nobodys(bench):
    workshop, lead = bench.workshop, bench.new.lead
    fitter = add_person(workshop, lead, "Fitter Two", "fitter", "", "222222")
    signed = sign_in(workshop, fitter, "222222")
    gone = {"role": {"role": None, "from": "2025-11-03", "upto": []}}
    seen = {"role": [signed.person.role_entry]}
    tablet = bench.tablet()
    bench.push(tablet.write(Draft(fitter, "person", gone, seen, relies=[bench.role_entry])))
    assert who_is(workshop, signed.token) is None


def test_a_clock_set_back_years_leaves_everybody_their_role(bench):
    workshop, lead = bench.workshop, bench.new.lead
    workshop.now_ms.now_ms -= 10**11
    assert sign_in(workshop, lead, PASSCODE).person.role == "lead"


@pytest.mark.parametrize("passcode", ["", "12345", "9" * 129])
def test_a_passcode_of_an_unfit_length_is_refused(bench, passcode):
    lead = bench.new.lead
    assert refusal(set_passcode, bench.workshop, lead, lead, passcode).code == "weak_passcode"


def test_a_passcode_holds_however_a_keyboard_spells_it(bench):
    workshop, lead = bench.workshop, bench.new.lead
    set_passcode(workshop, lead, lead, "cafe\u0301 \uff11\uff12\uff13")
    for typed in ("caf\u00e9 123", "cafe\u0301 123", "caf\u00e9 \uff11\uff12\uff13"):
        assert sign_in(workshop, lead, typed).person.person == lead
    assert refusal(sign_in, workshop, lead, "cafe 123").code == "wrong_passcode"


def test_tablets_check_a_passcode_by_pbkdf2_of_600_000_rounds(bench):
    import base64
    import hashlib

    [one] = people_here(bench.workshop, with_unlock=True)
    unlock = one["unlock"]
    salt = base64.urlsafe_b64decode(unlock["salt"] + "==")
    derived = hashlib.pbkdf2_hmac("sha256", PASSCODE.encode(), salt, unlock["iterations"])
    assert unlock["iterations"] == 600_000
    assert base64.urlsafe_b64decode(unlock["check"] + "=") == derived
    assert "unlock" not in people_here(bench.workshop, with_unlock=False)[0]
