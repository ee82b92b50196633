"""Figures of a record, sighting beside sighting."""

from skinpin.reports.figures import figures, limits_of, section
from skinpin.reports.words import found_words

from tests.reports.ready import figures as plain
from tests.reports.ready import inches, ready, record


def taken(value, by="Inspector 1", date="2025-03-08"):
    return {"value": value, "by": by, "tablet": "A", "date": date}


def test_two_sightings_are_two_columns_with_their_losses():
    first, second = record("A/0002"), record("B/0015", plain("0.012"))
    told = figures([first, second], ready())
    assert [one["number"] for one in told["columns"]] == ["A/0002", "B/0015"]
    rows = {row["label"]: [cell["typed"] for cell in row["cells"]] for row in told["rows"]}
    assert rows["depth"] == ["0.011 in", "0.012 in"]
    # 0.011 and 0.012 of 0.064 by hand: 17.19 and 18.75 in the hundred.
    assert rows["loss"] == ["17.2 %", "18.8 %"]
    assert "two sightings of one defect, judged on the worse" in told["notes"]


def test_a_dent_has_no_loss():
    one = record("A/0013")
    one["row"] |= {"kind": "dent"}
    assert "loss" not in {row["label"] for row in figures([one], ready())["rows"]}


def test_values_that_differ_are_named_with_who_wrote_them():
    one = record("A/0002", measured={"depth": [taken(inches("0.011")), taken(inches("0.013"))]})
    [two] = figures([one], ready())["two"]
    assert two["label"] == "depth"
    assert [value["words"] for value in two["values"]] == ["0.011 in", "0.013 in"]
    assert two["values"][0]["who"] == "Inspector 1, tablet A, 2025-03-08"


def test_an_instrument_out_of_date_when_used_is_said_under_the_figures():
    late = inches("3", method="pressure", instrument="PG-07")
    one = record("A/0002", measured={"length": [taken(late, date="2025-10-18")]})
    assert "OUT OF DATE when used 2025-10-18" in figures([one], ready())["notes"]


def test_a_figure_is_printed_with_its_doubt_and_whose_it_is():
    own, lent = inches("0.02"), inches("0.001") | {"of": "DG-1"}
    length, depth = inches("0.38", uncertainty=own), inches("0.011", uncertainty=lent)
    values = plain() | {"length": [length], "depth": [depth]}
    measured = {"length": [taken(length)], "depth": [taken(depth)]}
    told = figures([record("A/0002", values, measured=measured)], ready())
    rows = {row["label"]: [cell["typed"] for cell in row["cells"]] for row in told["rows"]}
    assert (rows["length"], rows["depth"]) == (["0.38 ± 0.02 in"], ["0.011 ± 0.001 in"])
    assert "± 0.001 in is the accuracy of DG-1" in told["notes"]
    assert "any other ± is twice the standard uncertainty (k = 2)" in told["notes"]
    alone = figures([record("A/0002", measured={"depth": [taken(depth)]})], ready())
    assert not any("k = 2" in note for note in alone["notes"])


def test_a_figure_from_a_photograph_says_so_and_one_whose_scale_was_struck_is_withdrawn():
    doubt = inches("0.03")
    length = inches("0.81", method="photograph", measurement="m1", uncertainty=doubt)
    width = inches("0.40", method="photograph", measurement="m2", scale_withdrawn=True)
    values = plain() | {"length": [length], "width": [width]}
    measured = {"length": [taken(length)], "width": [taken(width)]}
    told = figures([record("D/0002", values, measured=measured)], ready())
    rows = {row["label"]: [cell["typed"] for cell in row["cells"]] for row in told["rows"]}
    assert (rows["length"], rows["width"]) == (["0.81 ± 0.03 in"], ["scale withdrawn"])
    notes = told["notes"].replace("\u200b", "")
    assert "length measured from the photograph: sorting aid" in notes
    assert "width 0.40 in scale withdrawn" in notes


def test_a_copied_figure_is_not_measured_and_says_whose_it_is():
    length = inches("5", copied_from="D/0001")
    depth = inches("0.012", method="as D/0001, not measured here")
    values = plain() | {"length": [length], "depth": [depth]}
    measured = {"length": [taken(length)], "depth": [taken(depth)]}
    one = record("D/0002", values, measured=measured)
    told = figures([one], ready())
    rows = {row["label"]: [cell["typed"] for cell in row["cells"]] for row in told["rows"]}
    assert (rows["length"], rows["depth"]) == (["not measured"], ["not measured"])
    assert "loss" not in rows
    said = "length 5 in, depth 0.012 in copied from D/0001, not measured here"
    assert said in told["notes"].replace("\u200b", "")
    assert "by as" not in told["notes"]
    assert found_words(one["row"], values) == "Pitting"


def test_a_section_is_drawn_only_where_metal_is_lost_and_its_depth_was_asked():
    one, standard = record("A/0002"), ready()["standard"]
    assert section(one["row"], one["values"], standard) is not None
    for row, values in (
        ({"kind": "crack"}, plain()),
        ({}, plain() | {"fastener": [True]}),
        ({}, {"thickness": [inches("0.064")]}),
        ({}, plain() | {"thickness": [inches("0")]}),
    ):
        assert section(one["row"] | row, values, standard) is None


def test_the_limits_are_those_of_the_standard_in_the_unit_of_the_plate():
    found = dict(limits_of(ready()["standard"], "pitting", "AL", inches("0.064")))
    assert set(found) == {"0.010 in", "10 % 0.0064", "50 % 0.0320"}
    assert found["10 % 0.0064"] == 0.0064 * 254_000_000


def test_what_a_crack_was_asked_stands_among_the_figures_yes_or_no():
    values = plain() | {"reaches_edge": [True], "joins_holes": [False], "perforated": [False]}
    told = figures([record("D/0003", values), record("D/0004")], ready())
    rows = {row["label"]: [cell["typed"] for cell in row["cells"]] for row in told["rows"]}
    assert rows["reaches an edge"] == ["yes", ""]
    assert rows["joins two holes"] == ["no", ""]
    # What was looked for and not there is said only where the grade of a crack hangs on it.
    assert "perforated" not in rows
    told = figures([record("D/0003", plain() | {"perforated": [True, False]})], ready())
    assert "yes | no" in [cell["typed"] for row in told["rows"] for cell in row["cells"]]
