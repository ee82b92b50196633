"""Every route × every kind of caller: who gets in."""

import pytest
from skinpin.services.devices import end_device, show_devices
from skinpin.services.enrolment import enrol_desk
from skinpin.services.people import add_person
from skinpin.services.roles import change_role
from skinpin.services.signing import sign_in

from tests.benches import new_key

SHA = "ab" * 32
ROLES = ("inspector", "lead", "clerk", "fitter", "bench_fitter", "design_authority")
OUT = ("leaver", "ended device", "leaver's desk")
CALLERS = ("nobody", "device", *ROLES, *OUT)
ANYONE, DEVICE = set(CALLERS), {"device"}
PERSON, LEAD, TAKERS = set(ROLES), {"lead"}, {"lead", "clerk"}
BEGINNERS = PERSON - {"clerk", "design_authority"}

# route: who gets in; body that is right, so that only the caller can be the reason.
ROUTES = {
    ("GET", "/api/health"): (ANYONE, {}),
    ("GET", "/api/setup"): (ANYONE, {}),
    ("POST", "/api/setup"): (ANYONE, {"json": {}}),
    ("GET", "/api/people"): (ANYONE - {"ended device", "leaver's desk"}, {}),
    ("POST", "/api/people"): (LEAD, {"json": {"name": "N", "role": "clerk", "passcode": "123456"}}),
    ("PUT", "/api/people/{person}/passcode"): (LEAD, {"json": {"passcode": "654321"}}),
    ("POST", "/api/people/{person}/role"): (LEAD, {"json": {"role": "fitter", "reason": "R"}}),
    ("GET", "/api/devices"): (LEAD, {}),
    ("GET", "/api/tablets"): ({"lead", "clerk"}, {}),
    ("POST", "/api/devices/told"): (DEVICE, {"json": {}}),
    ("POST", "/api/devices/{tablet}/end"): (LEAD, {"json": {"reason": "R"}}),
    ("POST", "/api/sign-in"): (ANYONE, {"json": {}}),
    ("POST", "/api/sign-out"): (ANYONE, {}),
    ("GET", "/api/session"): (ANYONE, {}),
    ("POST", "/api/enrolment-codes"): (LEAD, {}),
    ("POST", "/api/enrol"): (ANYONE, {"json": {}}),
    ("POST", "/api/enrol-desk"): (PERSON, {"json": {}}),
    ("POST", "/api/entries"): (DEVICE, {}),
    ("GET", "/api/entries"): (DEVICE, {}),
    ("GET", "/api/entries/digest"): (DEVICE, {}),
    ("POST", "/api/photographs/missing"): (DEVICE, {"json": {"sha256": []}}),
    ("PUT", "/api/photographs/{sha256}"): (DEVICE, {"content": b"x"}),
    ("GET", "/api/photographs/{sha256}/parts"): (DEVICE, {}),
    ("PUT", "/api/photographs/{sha256}/parts/{part}"): (DEVICE, {"content": b"x"}),
    ("GET", "/api/photographs/{sha256}"): (DEVICE | PERSON, {}),
    ("POST", "/api/photographs/{sha256}/register"): (PERSON, {"json": {"with": SHA}}),
    ("POST", "/api/photographs/{sha256}/card"): (PERSON, {"json": {}}),
    ("GET", "/api/defects"): (PERSON, {}),
    ("GET", "/api/defects/{file_number}"): (PERSON, {}),
    ("GET", "/api/reports/zone/{zone}.pdf"): (PERSON, {}),
    ("GET", "/api/reports"): (PERSON, {}),
    ("POST", "/api/reports"): (PERSON, {"json": {"zones": []}}),
    ("GET", "/api/reports/{report}.pdf"): (PERSON, {}),
    ("POST", "/api/reports/{report}/cancel"): (PERSON, {}),
    ("GET", "/api/exports/defects.{ending}"): (PERSON, {}),
    ("POST", "/api/stick-files"): (TAKERS, {"json": {"size_bytes": 1}}),
    ("PUT", "/api/stick-files/{file}"): (PERSON, {"content": b"x"}),
    ("POST", "/api/stick-files/{file}/take-in"): (PERSON, {"json": {}}),
    ("GET", "/api/stick-files/{file}"): (PERSON, {}),
    ("POST", "/api/paper"): (BEGINNERS, {"json": {"typed": {}}}),
    ("POST", "/api/paper/register"): (BEGINNERS, {"content": b"x"}),
    ("GET", "/api/paper/form.pdf"): (PERSON, {}),
    ("GET", "/api/scale-card.pdf"): (PERSON, {}),
    ("GET", "/api/figures"): (PERSON, {}),
    ("GET", "/api/keeping"): (PERSON, {}),
    ("GET", "/api/airframes"): (PERSON, {}),
    ("POST", "/api/drawings"): (LEAD, {"content": b"x"}),
    ("POST", "/api/drawings/fit"): (
        LEAD,
        {"json": {"points": [], "second": "strake"}},
    ),
    ("POST", "/api/airframes"): (LEAD, {"json": {"definition": {}}}),
    ("POST", "/api/airframes/{record}/definition"): (
        LEAD,
        {"json": {"definition": {}, "reason": "R"}},
    ),
    ("GET", "/api/airframes/{record}/definition.json"): (PERSON, {}),
    ("GET", "/api/standards"): (PERSON, {}),
    ("GET", "/api/standards/{record}.json"): (PERSON, {}),
    ("POST", "/api/standards"): (LEAD, {"json": {"standard": {}, "reason": "R"}}),
    ("POST", "/api/standards/check"): (LEAD, {"json": {"standard": {}}}),
    ("GET", "/api/definitions/schema.json"): (PERSON, {}),
    ("POST", "/api/definitions/check"): (LEAD, {"json": {"definition": {}}}),
    ("POST", "/api/definitions/members"): (LEAD, {"json": {"unit": "in", "text": "F1 8"}}),
}
KEPT_OUT = {"not_signed_in", "not_enrolled", "not_allowed", "device_ended", "no_role"}


def as_caller(site, caller):
    workshop, lead = site.bench.workshop, site.bench.new.lead
    if caller == "device":
        return {"token": site.bench.tablet().token}
    if caller == "ended device":
        token = site.bench.tablet().token
        end_device(workshop, lead, show_devices(workshop, lead)[0].device, "left behind")
        return {"token": token}
    if caller in OUT:
        person = add_person(workshop, lead, "Fitter Nine", "fitter", "", "222222")
        session, desk = sign_in(workshop, person, "222222").token, enrol_desk(workshop, person)
        change_role(workshop, lead, person, None, "left the workshop")
        return {"session": session} if caller == "leaver" else {"token": desk.token}
    return {} if caller == "nobody" else {"session": site.session_of(caller)}


def test_the_table_names_every_route(site):
    told = {(method, path) for path, ways in site.client.app.openapi()["paths"].items()
            for method in map(str.upper, ways) if path.startswith("/api/")}  # fmt: skip
    assert told == set(ROUTES)


@pytest.mark.parametrize("caller", CALLERS)
def test_each_route_lets_in_whom_the_table_says(site, caller):
    who = as_caller(site, caller)
    lead = site.bench.new.lead
    other = add_person(site.bench.workshop, lead, "Other", "clerk", "", "999999")
    path_of = {
        "{person}": other,
        "{sha256}": SHA,
        "{file_number}": "A0001",
        "{zone}": "111",
        "{report}": "none",
        "{ending}": "csv",
        "{tablet}": "none",
        "{part}": "0",
        "{file}": "none",
        "{record}": "none",
    }
    for (method, path), (allowed, more) in ROUTES.items():
        for name, value in path_of.items():
            path = path.replace(name, value)
        if path == "/api/sign-out" and caller != "nobody":
            continue
        answer = site.ask(method, path, **who, **more)
        code = answer.json().get("code", "") if answer.status_code >= 400 else ""
        assert (code not in KEPT_OUT) == (caller in allowed), (method, path, caller, answer.text)


def test_a_session_that_was_signed_out_is_nobody(site):
    session = site.session_of("lead")
    site.ask("POST", "/api/sign-out", session=session)
    assert site.ask("POST", "/api/enrolment-codes", session=session).status_code == 401
    assert site.ask("GET", "/api/session", session=session).json() == {"person": None}


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(site):
    body = {"person": site.bench.new.lead, "passcode": "471108"}
    cookie = site.ask("POST", "/api/sign-in", json=body).headers["set-cookie"]
    parts = {part.strip().lower() for part in cookie.split(";")}
    assert {"httponly", "samesite=strict", "path=/"} <= parts


def test_a_code_and_a_key_enrol_over_the_wire(site):
    session = site.session_of("lead")
    code = site.ask("POST", "/api/enrolment-codes", session=session).json()["code"]
    done = site.ask("POST", "/api/enrol", json={"code": code, "public_key": new_key()}).json()
    assert done["letter"] == "A"
    desk = site.ask("POST", "/api/enrol-desk", session=session, json={"public_key": new_key()})
    assert desk.json()["letter"] is None
    [lead] = site.ask("GET", "/api/people", token=done["token"]).json()
    assert lead["unlock"]["iterations"] == 600_000
