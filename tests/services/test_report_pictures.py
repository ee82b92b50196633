"""What a report reads of photographs of one view."""

from skinpin.services.airframes import find_airframe
from skinpin.services.report_pictures import photographs_of
from skinpin.services.report_reader import Reader
from skinpin_sync.chain import Draft

FIT = {"turn_deg": "1.20", "scale_percent": "0.80"}


def read(bench, *photographs):
    """Return by record what a report reads of the photographs of two defects, A and B."""
    tablet = bench.tablet()
    written = tablet.defect("defect-a", number="A/0001")
    written += tablet.defect("defect-b", number="A/0002")
    for record, defect, more in photographs:
        values = {"defect": defect, "sha256": record.ljust(64, "0"), **more}
        written += tablet.write(Draft(record, "photograph", values, relies=[tablet.role_entry]))
    bench.push(written)
    with bench.workshop.reading() as connection:
        airframe = find_airframe(bench.workshop, connection)
        reader = Reader(bench.workshop, connection, airframe)
        found = photographs_of(reader, ["defect-a", "defect-b"])
        all_of_both = [one for some in found.values() for one in some]
        told = {one["sha256"].rstrip("0"): one["repeats"] for one in all_of_both}
        return told, reader.rests_on


def test_the_picture_before_is_named_by_its_role_and_day(bench):
    taken = {"wall": "2025-03-08T10:42:00", "offset": "unknown"}
    told, _ = read(
        bench,
        ("first", "defect-a", {"role": "close", "taken": taken}),
        ("again", "defect-a", {"role": "close", "repeat_of": "first", "fit": FIT}),
    )
    assert told["first"] is None
    assert told["again"] == {"number": "", "role": "close", "day": "2025-03-08", "fit": FIT}


def test_one_of_another_record_is_named_by_its_number_and_the_report_rests_on_it(bench):
    told, rests_on = read(
        bench,
        ("first", "defect-b", {"role": "wide"}),
        ("again", "defect-a", {"role": "close", "repeat_of": "first"}),
    )
    assert told["again"] == {
        "number": "A/0002",
        "role": "wide",
        "day": "2025-11-03",
        "fit": None,
    }
    assert {"first", "again", "defect-b"} <= rests_on


def test_what_names_no_photograph_repeats_nothing(bench):
    told, _ = read(
        bench,
        ("first", "defect-a", {"repeat_of": "defect-b"}),
        ("other", "defect-a", {"repeat_of": "not-here"}),
        ("third", "defect-a", {"repeat_of": 7}),
    )
    assert set(told.values()) == {None}
