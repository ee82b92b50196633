"""What a report draws of a photograph's scale and of what was measured with it."""

from skinpin.services.airframes import find_airframe
from skinpin.services.defects import list_defects
from skinpin.services.report_pictures import photographs_of
from skinpin.services.report_reader import Reader
from skinpin.services.report_records import records_of
from skinpin_sync.chain import Draft

SIZE = {"width_px": 1600, "height_px": 1200}
RULE = {
    "photograph": "picture",
    "method": "two points",
    "object": "scale",
    "points": [[3000, 10000], [12000, 10000]],
    "length": {"value": "3.00", "unit": "in"},
    "tap": "0.6",
}
CRACK = {
    "photograph": "picture",
    "scale": "rule",
    "shape": "polyline",
    "points": [[6000, 6000], [7400, 5600], [8600, 5800]],
    "tap": "0.6",
}


def shapes(bench, *lying):
    return [(one["kind"], one["label"], len(one["points"])) for one in marks(bench, *lying)]


def marks(bench, *lying, used=()):
    tablet = bench.tablet()
    written = tablet.defect("defect-a", number="A/0001")
    picture = {"defect": "defect-a", "sha256": "0" * 64, **SIZE}
    records = [("picture", "photograph", picture), *lying]
    for record, kind, values in records:
        written += tablet.write(Draft(record, kind, values, relies=[tablet.role_entry]))
    bench.push(written)
    with bench.workshop.reading() as connection:
        reader = Reader(bench.workshop, connection, find_airframe(bench.workshop, connection))
        [photograph] = photographs_of(reader, ["defect-a"], used)["defect-a"]
        return photograph["marks"]


def test_the_scale_is_drawn_and_what_was_measured_with_it_carries_its_doubt(bench):
    area = {**CRACK, "shape": "area", "points": [[6200, 7000], [8000, 6900], [7900, 8200]]}
    told = shapes(
        bench, ("rule", "scale", RULE), ("crack", "measurement", CRACK), ("z", "measurement", area)
    )
    # By hand: 267.26 px at 300 px an inch; u is 0.89 px of touches and 0.25 px of the scale. By the
    # lens 0.5 px: the ends of the rule, at shares s² of 0.41 and 0.32, grow by 0.2 % more than
    # the crack near the middle, k being 0.01/√3.
    assert told == [
        ("scale", "scale 3.00 in", 2),
        ("measured", "0.8909 ± 0.0071 in along", 3),
        ("measured", "0.1294 ± 0.0023 in²", 4),
    ]


def test_beside_the_measurement_that_a_figure_rests_on_the_others_are_quiet(bench):
    lying = [
        ("rule", "scale", RULE),
        ("older", "measurement", CRACK),
        ("used", "measurement", CRACK),
    ]
    told = marks(bench, *lying, used={"used"})
    assert [(one["record"], one.get("quiet", False)) for one in told] == [
        ("rule", False),
        ("older", True),
        ("used", False),
    ]


def test_where_no_figure_rests_on_a_measurement_each_says_its_value(bench):
    lying = [("rule", "scale", RULE), ("one", "measurement", CRACK), ("two", "measurement", CRACK)]
    told = marks(bench, *lying, used={"of another picture"})
    assert not any(one.get("quiet") for one in told)


def test_a_report_knows_which_measurement_the_length_of_a_crack_rests_on(bench):
    tablet = bench.tablet()
    length = {"value": "0.89", "unit": "in", "measurement": "used", "method": "photograph"}
    written = tablet.defect("defect-a", number="A/0001")
    lying = [
        ("picture", "photograph", {"defect": "defect-a", "sha256": "0" * 64, **SIZE}),
        ("rule", "scale", RULE),
        ("older", "measurement", CRACK),
        ("used", "measurement", CRACK),
    ]
    for record, kind, values in lying:
        written += tablet.write(Draft(record, kind, values, relies=[tablet.role_entry]))
    told = {"kind": "crack", "length": length}
    written += tablet.write(Draft("defect-a", "defect", told, relies=[tablet.role_entry]))
    bench.push(written)
    with bench.workshop.reading() as connection:
        reader = Reader(bench.workshop, connection, find_airframe(bench.workshop, connection))
        rows = [one | {"kind": "crack"} for one in list_defects(bench.workshop, {})]
        [one] = records_of(reader, rows, rows)
    [photograph] = one["photographs"]
    assert [each["record"] for each in photograph["marks"] if each.get("quiet")] == ["older"]


def test_with_its_scale_struck_nothing_of_it_is_drawn(bench):
    struck = {**RULE, "struck": True}
    assert shapes(bench, ("rule", "scale", struck), ("crack", "measurement", CRACK)) == []


def test_a_measurement_that_was_struck_or_rests_on_another_scale_is_not_drawn(bench):
    told = shapes(
        bench,
        ("rule", "scale", RULE),
        ("a", "measurement", {**CRACK, "struck": True}),
        ("b", "measurement", {**CRACK, "scale": "elsewhere"}),
        ("c", "measurement", {**CRACK, "points": "unreadable"}),
        ("d", "measurement", {**CRACK, "shape": "depth"}),
    )
    assert told == [("scale", "scale 3.00 in", 2)]
