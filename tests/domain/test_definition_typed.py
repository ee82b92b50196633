"""Members typed, pasted or from CSV, with what is wrong line by line."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.definition_typed import MOST_LINES, read_members
from skinpin.domain.errors import Refused

F1 = {"name": "F1", "kind": "frame", "station": "8"}
CANTED = {"name": "F2", "kind": "bulkhead", "station": "20.5", "main": True, "upper_station": "22"}


@pytest.mark.parametrize(
    "text",
    [
        "F1 8\nF2 bulkhead 20.5 main 22",
        "F1\t\t8\t\t\nF2\tbulkhead\t20,5\tyes\t22\n",
        "F1;frame;8\nF2;bulkhead;20,5;x;22",
        "F1,frame,8,no,\nF2,bulkhead,20.5,yes,22",
        'F1,,8\nF2,bulkhead,"20,5",main,22\n',
        "Name,Kind,Station,Main,Upper station\nF1,,8,,\nF2,bulkhead,20.5,yes,22",
        "station;frame;main;upper;kind\n8;F1\n20,5;F2;yes;22;bulkhead",
        "\ufeffFrame\tSta (in)\tKind\tMain\tUpper, in\nF1\t8 in\nF2\t+20.5\tbulkhead\tY\t22",
        "\n\n  \nF1 8\n\nF2 bulkhead 20,5 main 22\n",
    ],
)
def test_the_same_members_are_read_however_they_are_typed(text):
    assert read_members(text, "in") == ([F1, CANTED], [])


@pytest.mark.parametrize(
    ("text", "trouble"),
    [
        ("F1 8\nF2", (2, "station", "F2 has no station.")),
        ("F1 8\nF2 abc", (2, "station", "F2 has no station.")),
        ("F6 70\nF7 118O", (2, "station", "“118O” is no figure: F7 has no station that can be "
         "read.")),
        ("F7 half frame 118.O main", (1, "station", "“118.O” is no figure: F7 has no station that "
         "can be read.")),
        ("F1;8\nF2;8.0", (2, "station", "8.0 stands in line 1 already.")),
        ("F1;8\nf1;9", (2, "name", "f1 stands in line 1 already.")),
        ("F1;8\n;9", (2, "name", "The line has no name.")),
        ("F1;8\nF2 + 1;9", (2, "name", "“F2 + 1” is no name: at most 60 characters, "
         "without + and ·.")),
        ("F1;8\nF2;9 mm", (2, "station", "“9 mm” is in mm; the structure is in in.")),
        ("F1;8\nF2;9;10;11", (2, "upper_station", "“11” is one cell too many.")),
        ("name;station\nF1;8\nF2;nine", (3, "station", "“nine” is no decimal figure.")),
        ("name;station\nF1;8\nF2;9;10", (3, "", "The line has 3 columns; the headings are 2.")),
        ("name;station;colour\nF1;8", (1, "", "“colour” is no known heading: name, kind, station, "
         "main, upper_station, thickness, written, added.")),
        ("name;station;main\nF1;8;maybe", (2, "main", "“maybe” is neither yes nor no.")),
        ("F1;8\nF2;0.00000001", (2, "station", "0.00000001 in is finer than 0.000001 in, "
         "the finest step kept.")),
    ],
)  # fmt: skip
def test_a_line_that_is_wrong_is_told_with_its_column(text, trouble):
    _, troubles = read_members(text, "in")
    assert tuple(troubles[0]) == trouble


def test_a_decimal_comma_between_commas_is_asked_and_never_guessed():
    members, [trouble] = read_members("F1,frame,8,5", "mm")
    assert members == []
    assert trouble.message.startswith("“8,5” may be one figure or two stations.")


def test_a_second_figure_in_a_line_is_the_station_at_the_deck():
    members, troubles = read_members("Fr9 2500\nFr10 2600 2680", "mm")
    assert troubles == []
    assert members[1] == {
        "name": "Fr10", "kind": "frame", "station": "2600", "upper_station": "2680"
    }  # fmt: skip


def test_wrong_lines_leave_the_others():
    members, troubles = read_members("F1 8\nF2\nF3 −32.5\nF4 4x", "mm")
    assert [one["name"] for one in members] == ["F1", "F3"]
    assert members[1]["station"] == "-32.5"
    assert [one.line for one in troubles] == [2, 4]


def test_plugs_repairs_and_thicknesses_come_with_headings():
    text = "name\tstation\twritten\tthickness\tadded\n14B\t372\t340B\t0.048\tyes"
    assert read_members(text, "in")[0] == [
        {"name": "14B", "kind": "frame", "station": "372", "thickness": "0.048",
         "written": "340B", "added": "by repair"}
    ]  # fmt: skip


def test_too_many_lines_and_a_foreign_unit_are_refused():
    with pytest.raises(Refused):
        read_members("F1 8\n" * (MOST_LINES + 1), "in")
    with pytest.raises(Refused):
        read_members("F1 8", "ft")


NAMES = st.from_regex(r"[A-Z][0-9]{1,3}[A-Z]?", fullmatch=True)


@settings(deadline=None)
@given(
    st.lists(
        st.tuples(NAMES, st.integers(-99999, 99999), st.booleans(), st.booleans()),
        unique_by=(lambda row: row[0], lambda row: row[1]),
        min_size=1,
        max_size=40,
    ),
    st.sampled_from("\t;,"),
)
def test_what_a_table_writes_is_read_back(rows, by):
    out = io.StringIO()
    table = csv.writer(out, delimiter=by)
    table.writerow(["name", "kind", "station", "main", "upper station"])
    for name, tenths, main, canted in rows:
        upper = f"{tenths / 10 + 1:.1f}" if canted else ""
        table.writerow([name, "frame", f"{tenths / 10:.1f}", "yes" if main else "", upper])
    members, troubles = read_members(out.getvalue(), "mm")
    assert troubles == []
    assert [(one["name"], float(one["station"])) for one in members] == [
        (name, tenths / 10) for name, tenths, _, _ in rows
    ]
    assert [one.get("main", False) for one in members] == [main for _, _, main, _ in rows]
    assert ["upper_station" in one for one in members] == [canted for _, _, _, canted in rows]


@settings(deadline=None)
@given(st.text(max_size=200) | st.text('F1,;\t\n 0.5-"main', max_size=200))
def test_whatever_is_pasted_is_members_or_troubles(text):
    members, troubles = read_members(text, "in")
    assert all(one["name"] and one["station"] for one in members)
    assert all(one.message.endswith(".") and one.line > 0 for one in troubles)
