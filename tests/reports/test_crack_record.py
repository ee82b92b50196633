"""A crack's record: figures of the demo's A/0009, checked against its scenario."""

from skinpin.reports.crack_record import crack_record

from tests.reports.ready import inches

BY = "photograph with rule"


def seen(date, value, sure="0.03", method=BY):
    doubt = {"uncertainty": {"value": sure, "unit": "in"}} if sure else {}
    return {"date": date, "length": inches(value, **doubt), "method": method}


SERIES = [
    seen("2025-03-08", "0.62"),
    seen("2025-06-21", "0.66"),
    seen("2025-09-06", "0.79"),
    seen("2025-10-11", "0.81"),
]


def test_the_demo_crack_grows_where_its_scenario_says():
    told = crack_record(SERIES, inches("1.60"), "in")
    assert told["title"] == "Crack record: 4 observations, growth is shown"
    assert [row[3:] for row in told["rows"]] == [
        ["–", "–"],
        ["+0.04, not shown", "+0.04, not shown"],
        ["+0.13, shown", "+0.17, shown"],
        ["+0.02, not shown", "+0.19, shown"],
    ]
    assert told["facts"][:2] == [
        "To next hole: 1.60 − 0.81 = 0.79 ± 0.03 in",
        "Rate over the last series: 0.028 in per 30 days, standard error 0.006, 4 points.",
    ]
    assert any("No life is foretold" in words for words in told["facts"])


def test_lengths_from_photographs_say_once_what_stood_beside_them():
    beside = {"warnings": ["Not corrected for tilt.", "Zoomed."]}
    told = crack_record([SERIES[0] | beside, SERIES[1], SERIES[2] | beside], inches("1.60"), "in")
    [fact] = [words for words in told["facts"] if "sorting aid" in words]
    assert fact == (
        "2025-03-08, 2025-09-06: measured from the photograph: sorting aid. "
        "Not corrected for tilt. Zoomed."
    )
    assert not any("sorting aid" in words for words in crack_record(SERIES, None, "in")["facts"])


def test_one_observation_is_no_record_unless_a_limit_is_known():
    assert crack_record(SERIES[:1], None, "in") is None
    assert crack_record(SERIES[:1], inches("1.60"), "in")["title"].startswith("Crack record: 1 obs")
    assert crack_record([], None, "in") is None


def test_without_uncertainty_growth_is_not_judged():
    told = crack_record([seen("2025-03-08", "0.62", ""), seen("2025-06-21", "0.9", "")], None, "in")
    assert told["rows"][1][3] == "+0.28, can't be judged"
    assert "no growth is shown" in told["title"]


def test_what_cannot_be_read_says_so_and_draws_nothing():
    told = crack_record([seen("the day before", "0.62"), SERIES[1]], None, "in")
    assert (told["rows"], told["plot"]) == ([], None)
    assert "is no date" in told["facts"][0]


def test_the_plot_keeps_in_its_room_and_names_first_and_last_day():
    plot = crack_record(SERIES, inches("1.60"), "in")["plot"]
    words = [item["words"] for item in plot["items"] if item["what"] == "text"]
    assert {"2025-03-08", "2025-10-11", "next hole or edge", "LENGTH, in"} <= set(words)
    for item in plot["items"]:
        points = item.get("points") or [[item["x"], item["y"]]]
        assert all(0 <= x <= plot["width"] and 0 <= y <= plot["height"] for x, y in points)


def test_the_plot_is_in_the_unit_of_the_structure_whatever_a_length_was_typed_in():
    in_mm = {"value": "45.5", "unit": "mm", "uncertainty": {"value": "0.4", "unit": "mm"}}
    series = [{"date": "2025-03-08", "length": in_mm}, seen("2025-06-21", "1.9")]
    plot = crack_record(series, None, "mm")["plot"]
    words = [item["words"] for item in plot["items"] if item["what"] == "text"]
    assert "LENGTH, mm" in words
    assert [each for each in words if each.isdigit()] == ["0", "10", "20", "30", "40", "50"]
    assert "next hole or edge" not in words
