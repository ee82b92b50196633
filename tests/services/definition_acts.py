"""What tests of definitions do: a second issue, a record at a member, an issue given."""

import copy

import pytest
from skinpin.domain.errors import Refused
from skinpin.services.definitions import new_issue

from tests.benches import DEFINITION

PLACE = {
    "structure": "Hull",
    "hand": "P",
    "member": "F6",
    "offset": {"value": "15.0", "unit": "in"},
    "strakes": ["K", "B1"],
}


def issue_two():
    made = copy.deepcopy(DEFINITION)
    made["issue"] = "2"
    return made


def refusal(act):
    with pytest.raises(Refused) as refused:
        act()
    assert refused.value.message.endswith(".")
    return refused.value


def record_at(bench, number="A/0001", **place):
    values = {"number": number, "airframe": bench.new.airframe, "place": PLACE | place}
    bench.push(bench.tablet(f"tableta{number[-1]}").defect(f"defect-{number}", **values))


def issue(bench, definition, reason="the frame was found"):
    return new_issue(bench.workshop, bench.new.lead, bench.new.airframe, definition, reason)
