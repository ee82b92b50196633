"""What devices tell, over the wire."""

import pytest

TOLD = {"version": "0.1.0", "epoch": "e", "entries": 1, "files": 0, "refused": 0,
        "oldest_ms": 5000, "offset_ms": -20, "last_number": "A/0017", "battery_percent": 62,
        "room_photographs": 1840}  # fmt: skip


def test_a_device_tells_and_a_clerk_reads_it(site):
    token = site.bench.tablet().token
    answer = site.ask("POST", "/api/devices/told", token=token, json=TOLD)
    assert answer.json() == {"clock_off_ms": -20}
    [row] = site.ask("GET", "/api/tablets", session=site.session_of("clerk")).json()
    assert row["told"]["battery_percent"] == 62
    assert row["numbers"]["told_last"] == "A/0017"
    [words] = row["numbers"]["words"]
    assert words == {"why": "not yet in", "first": "A/0001", "last": "A/0017"}


@pytest.mark.parametrize(
    "change",
    [
        {"entries": -1},
        {"entries": "1"},
        {"offset_ms": 1e300},
        {"last_number": "A17"},
        {"last_number": "A/9999999"},
        {"battery_percent": 101},
        {"version": "x" * 100},
        {"more": 1},
        {"oldest_ms": True},
    ],
)
def test_what_is_not_of_its_form_is_refused_and_changes_nothing(site, change):
    token = site.bench.tablet().token
    answer = site.ask("POST", "/api/devices/told", token=token, json=TOLD | change)
    assert (answer.status_code, answer.json()["code"]) == (422, "wrong_shape")
    [row] = site.ask("GET", "/api/tablets", session=site.session_of("lead")).json()
    assert row["told"] is None


def test_a_number_whose_letter_is_never_given_says_nothing_of_numbers(site):
    token = site.bench.tablet().token
    answer = site.ask(
        "POST", "/api/devices/told", token=token, json=TOLD | {"last_number": "O/0001"}
    )
    assert answer.status_code == 200
    [row] = site.ask("GET", "/api/tablets", session=site.session_of("lead")).json()
    assert row["numbers"]["told_last"] is None
