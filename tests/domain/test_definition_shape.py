"""The published schema and our reading of it find the same definitions right."""

import copy
import json
import random

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skinpin.domain.definition_shape import SCHEMA, shape_troubles

from tests.benches import DEFINITION
from tests.domain.definitions import MARRAM, SECOND, smallest

VIEW = {
    "name": "sheet 4",
    "title": "SHELL, FROM A SCAN",
    "structure": "Fuselage",
    "sheet": "4",
    "issue": "B",
    "picture": {"sha256": "ab" * 32, "media_type": "image/png", "width_px": 800, "height_px": 600},
    "second": "water line",
    "calibration": {
        "method": "affine",
        "to_picture": ["0.5", "0", "10", "0", "-0.5", "300", "0", "0", "1"],
        "points": [{"px": [1, 2.5], "at": ["0", "10"]}, {"px": [3, 4], "at": ["5", "6"]}],
        "check": {"px": [5, 6], "at": ["7", "8"]},
        "rms": "0.1",
        "check_error": "0.2",
        "span": "100",
        "by": "Lead",
        "date": "2025-11-03",
    },
}
RIGHT = {
    "the demo": MARRAM,
    "in mm": SECOND,
    "with a picture": SECOND | {"views": [VIEW], "replaces": "0" * 64},
    "what the tests set up": DEFINITION,
    "the smallest": smallest(),
}


def cut_short(value, most=2):
    """Return a value with no list longer than a few, so that thousands are judged in seconds."""
    if isinstance(value, list):
        return [cut_short(one) for one in value[:most]]
    return {key: cut_short(one) for key, one in value.items()} if isinstance(value, dict) else value


SHORT = {name: cut_short(right) for name, right in RIGHT.items()}
REFERENCE = jsonschema.Draft202012Validator(SCHEMA)
ODD = ["", " F1", "F1 + 2", "F1 · 2", "x" * 300, "1,5", "-", "0", "0.0", "-1.5", ".5", "1e3", 0, -1,
       1.5, 2.0, True, False, None, [], {}, [1, 2], ["0", None], "in", "P", "047", "1000", "321",
       "half frame", "f" * 64]  # fmt: skip


def paths(value, path=()):
    yield path
    if isinstance(value, dict | list):
        keys = value if isinstance(value, dict) else range(len(value))
        for key in keys:
            yield from paths(value[key], (*path, key))


def spoilt(value, path, put):
    made = copy.deepcopy(value)
    if not path:
        return put
    at = made
    for key in path[:-1]:
        at = at[key]
    if put is DROPPED:
        del at[path[-1]]
    else:
        at[path[-1]] = put
    return made


DROPPED = object()


def agree(definition):
    ours = {one.at for one in shape_troubles(definition)}
    theirs = {"/".join(map(str, one.absolute_path)) for one in REFERENCE.iter_errors(definition)}
    assert bool(ours) == bool(theirs), (ours, theirs)
    if len(ours) < 200:
        # Of a list that is too long or too short we say that alone, not each of its items too.
        assert ours <= theirs
        assert all(any(is_at_or_below(one, at) for at in ours) for one in theirs), (ours, theirs)


def is_at_or_below(path, top):
    return path == top or path.startswith(f"{top}/" if top else "")


def test_the_schema_is_one():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", RIGHT)
def test_what_is_right_is_so_by_the_published_schema_and_by_ours(name):
    assert shape_troubles(RIGHT[name]) == []
    assert list(REFERENCE.iter_errors(RIGHT[name])) == []


@pytest.mark.parametrize("name", SHORT)
def test_a_definition_with_anything_left_out_is_judged_alike(name):
    for path in paths(SHORT[name]):
        if path:
            agree(spoilt(SHORT[name], path, DROPPED))


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(sorted(SHORT)), st.integers(0, 2**32), st.sampled_from(ODD))
def test_a_definition_with_anything_put_in_is_judged_alike(name, seed, put):
    right = SHORT[name]
    agree(spoilt(right, random.Random(seed).choice(list(paths(right))), put))


@settings(deadline=None)
@given(
    st.recursive(
        st.none() | st.booleans() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
        lambda some: st.lists(some) | st.dictionaries(st.sampled_from(sorted(MARRAM)), some),
    )
)
def test_whatever_else_is_judged_alike(value):
    agree(value)


@pytest.mark.parametrize(
    ("path", "put", "message"),
    [
        (("structures", 0, "members", 3, "station"), "71,5",
         "“structures/0/members/3/station” is \"71,5\"; a decimal figure as text, such as \"71.5\""
         " is expected."),
        (("unit",), "ft", "“unit” is \"ft\"; \"in\" or \"mm\" is expected."),
        (("zones", 0, "zone"), "047",
         "“zones/0/zone” is \"047\"; a zone number of three digits, 100 to 999 is expected."),
        (("structures", 1, "faces"), DROPPED,
         "“structures/1” has no “faces”: a list of names is expected."),
        ((), [], "The definition is a list of 0; an object that describes one airframe: structures"
         " with their members, zones, views is expected."),
    ],
)  # fmt: skip
def test_a_trouble_is_a_sentence_with_its_path(path, put, message):
    assert [one.message for one in shape_troubles(spoilt(SECOND, path, put))] == [message]


def test_figures_that_end_in_a_line_feed_and_numbers_without_end_are_none():
    for path, put in [
        (("structures", 0, "members", 0, "station"), "8\n"),
        (("zones", 0, "zone"), "111\n"),
    ]:
        assert shape_troubles(spoilt(SECOND, path, put))
    view = json.loads(json.dumps(VIEW))
    view["picture"]["width_px"] = float("inf")
    assert shape_troubles(SECOND | {"views": [view]})
