"""Definitions over the wire: out and in again byte for byte, checked, refused with a sentence."""

import copy
import json

from tests.benches import DEFINITION
from tests.domain.definitions import MARRAM, SECOND


def asked(site, method, path, **more):
    return site.ask(method, path, session=site.session_of("lead"), **more)


def test_a_definition_goes_out_and_comes_in_again_without_loss(site, empty_site):
    made = asked(site, "POST", "/api/airframes", json={"definition": SECOND})
    assert made.status_code == 201
    path = f"/api/airframes/{made.json()['record']}/definition.json"
    out = asked(site, "GET", path)
    assert out.headers["content-type"] == "application/json"
    assert json.loads(out.content) == SECOND
    # A browser reads the file and sends what it read: the next issue, and another book.
    again = json.loads(out.content) | {"issue": "B"}
    issue = f"/api/airframes/{made.json()['record']}/definition"
    issued = asked(site, "POST", issue, json={"definition": again, "reason": "as drawn"})
    assert issued.status_code == 200
    back = asked(site, "GET", path).content
    assert json.loads(back) == again | {"replaces": made.json()["definition"]["sha256"]}
    pages = {"workshop": "Other", "time_zone": "UTC", "unit": "mm", "lead_name": "L",
             "passcode": "471108", "definition": json.loads(back)}  # fmt: skip
    new = empty_site.ask("POST", "/api/setup", json=pages)
    session = new.cookies.get("skinpin_session")
    other = f"/api/airframes/{new.json()['airframe']}/definition.json"
    assert empty_site.ask("GET", other, session=session).content == back


def test_the_definition_of_the_demo_goes_out_and_comes_in_again(site):
    made = asked(site, "POST", "/api/airframes", json={"definition": MARRAM | {"constructor": "9"}})
    path = f"/api/airframes/{made.json()['record']}/definition.json"
    assert json.loads(asked(site, "GET", path).content) == MARRAM | {"constructor": "9"}


def test_a_check_tells_everything_and_stores_nothing(site):
    wrong = copy.deepcopy(DEFINITION) | {"issue": "2"}
    wrong["zones"][0]["along"] = ["24", "100"]
    body = {"definition": wrong, "airframe": site.bench.new.airframe}
    told = asked(site, "POST", "/api/definitions/check", json=body).json()
    assert told["zones"] == {"gaps": ["Hull, port, Sta 100 to F8: no zone"], "overlaps": []}
    assert told["cells"] == 7 * 4 * 2
    assert told["moved"] == []
    [trouble] = told["troubles"]
    assert set(trouble) == {"at", "code", "message", "hint", "weight"}
    path = f"/api/airframes/{site.bench.new.airframe}/definition"
    answer = asked(site, "POST", path, json={"definition": wrong, "reason": "R"})
    assert (answer.status_code, answer.json()["code"]) == (422, "bad_definition")
    assert asked(site, "GET", "/api/airframes").json()[0]["definition"]["issue"] == "1"


def test_a_definition_of_another_shape_is_told_so_and_never_fails(site):
    odd_name = copy.deepcopy(SECOND)
    odd_name["structures"][0]["members"][0]["name"] = "F\u0007"
    for odd in (
        {},
        {"structures": []},
        {"structures": [{"members": None}], "zones": {}},
        odd_name,
    ):
        body = {"definition": odd, "airframe": site.bench.new.airframe}
        told = asked(site, "POST", "/api/definitions/check", json=body)
        assert told.status_code == 200, told.text
        assert told.json()["troubles"]
        answer = asked(site, "POST", "/api/airframes", json={"definition": odd})
        assert (answer.status_code, answer.json()["code"]) == (422, "bad_definition")


def test_members_are_read_line_by_line(site):
    body = {"structure": "Hull", "unit": "in", "text": "F1 8\nF2 x"}
    told = asked(site, "POST", "/api/definitions/members", json=body).json()
    assert told == {
        "members": [{"name": "F1", "kind": "frame", "station": "8"}],
        "troubles": [{"line": 2, "column": "station", "message": "F2 has no station."}],
    }


def test_the_schema_is_published(site):
    schema = asked(site, "GET", "/api/definitions/schema.json").json()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_an_airframe_that_is_not_there_is_not_found(site):
    body = {"definition": DEFINITION, "airframe": "none"}
    assert asked(site, "POST", "/api/definitions/check", json=body).status_code == 404
    assert asked(site, "GET", "/api/airframes/none/definition.json").status_code == 404
