"""When two values that stand are one."""

import pytest
from skinpin.domain.values import (
    copied_in,
    differing,
    natural,
    settled_value,
    standing_of,
    two_values,
)


@pytest.mark.parametrize(
    ("field", "one", "two"),
    [
        ("depth", {"value": "0.0625", "unit": "in"}, {"value": "1.5875", "unit": "mm"}),
        ("depth", {"value": "0.010", "unit": "in"}, {"value": "0.01", "unit": "in"}),
        ("strength_percent", "62", "62.0"),
        ("state", {"move": "start", "to": "In work"}, {"move": "reject", "to": "In work"}),
        ("place", {"member": "F6", "strakes": ["K"]}, {"strakes": ["K"], "member": "F6"}),
    ],
)
def test_values_typed_differently_are_one(field, one, two):
    assert len(differing("defect", {"e1": {field: one}, "e2": {field: two}}, field)) == 1


@pytest.mark.parametrize(
    ("field", "one", "two"),
    [
        ("depth", {"value": "0.011", "unit": "in"}, {"value": "0.011", "unit": "mm"}),
        ("depth", {"value": "0.011", "unit": "in"}, "not measured"),
        ("depth", {"value": "0.011", "unit": "in"}, None),
        ("run", 1, True),
        ("run", 1, "1"),
        ("strength_percent", "6", "60"),
        ("place", {"strakes": ["K", "B1"]}, {"strakes": ["B1", "K"]}),
    ],
)
def test_values_that_say_other_things_are_two(field, one, two):
    values = {"e1": {field: one}, "e2": {field: two}}
    assert differing("defect", values, field) == [one, two]
    assert two_values("defect", values) == [field]
    assert settled_value("defect", values, field) is None


def test_values_come_in_the_order_of_their_entries_and_null_is_none():
    values = {"e3": {"part": "c"}, "e1": {"part": None}, "e2": {"part": "b"}, "e4": {"tag": "t"}}
    assert standing_of(values, "part") == ["b", "c"]
    assert settled_value("defect", values, "tag") == "t"


COPIED = {"value": "0.011", "unit": "in", "copied_from": "D/0001"}


@pytest.mark.parametrize("measured", [{"value": "0.011", "unit": "in"}, "not measured", None])
def test_a_copied_figure_is_none_beside_another_value(measured):
    values = {"e1": {"depth": COPIED}, "e2": {"depth": measured}}
    assert differing("defect", values, "depth") == [measured]
    assert settled_value("defect", values, "depth") == measured
    assert (two_values("defect", values), copied_in("defect", values)) == ([], [])


def test_a_copied_figure_that_stands_alone_is_told_as_copied():
    values = {"e1": {"depth": COPIED, "width": COPIED}, "e2": {"run": 2, "width": COPIED}}
    assert settled_value("defect", values, "depth") == COPIED
    assert copied_in("defect", values) == ["depth", "width"]


def test_stages_come_in_the_order_of_their_figures():
    stages = ["Stage 10", "Stage 2", "Stage 02b", "Roll out", "2", "9" * 5000]
    assert sorted(stages, key=natural) == [
        *("2", "9" * 5000, "Roll out"),
        *("Stage 2", "Stage 02b", "Stage 10"),
    ]
