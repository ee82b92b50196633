"""Whatever values devices send, they are stored and shown; nothing breaks the book."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from skinpin.domain.fields import FIELDS
from skinpin.services.defects import list_defects
from skinpin.services.people import people_here
from skinpin.storage.engine import writing
from skinpin.storage.rebuild import rebuild
from skinpin_sync.chain import Draft

from tests.benches import derived
from tests.storage.test_derive import empty_book
from tests.storage.writers import Writer
from tests.storage.zeros import assert_zeros_are_kept

TEXTS = st.sampled_from(
    ["", "a", "X", "\0", "=1+1", "<b>", "A/0001", "2025-13-45", "9" * 30, "ab" * 32, "P", "Hull",
     "pitting", "AL", "in", "Cleared", "raise", "lead", "1741400000001-0000-writerx1"]
)  # fmt: skip
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | TEXTS,
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(
        st.sampled_from(["value", "unit", "to", "move", "role", "from", "upto", "sha256", "member",
                         "structure", "hand", "strakes", "grade", "undoes", "list", "count"]),
        inner,
        max_size=4,
    ),
    max_leaves=6,
)  # fmt: skip
KINDS = st.sampled_from([*FIELDS, "a_kind_of_later"])


@st.composite
def drafts(draw):
    kind = draw(KINDS)
    fields = [*FIELDS.get(kind, {}), "a_field_of_later"]
    values = draw(st.dictionaries(st.sampled_from(fields), VALUES, min_size=1, max_size=5))
    record = draw(st.sampled_from(["X", "Y", "book", "P", "AF"]))
    return record, kind, values, draw(st.booleans())


@settings(deadline=None, max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(drafts(), min_size=1, max_size=12))
def test_values_of_any_shape_are_stored_and_the_book_goes_on(some):
    with TemporaryDirectory() as folder:
        workshop = empty_book(Path(folder))
        writer = Writer(workshop, "book")
        try:
            for record, kind, values, sees in some:
                seen = writer.seen(record, values) if sees else {}
                answer = writer.push(Draft(record, kind, values, seen, writer.last_ids()))
                assert [one["result"] for one in answer["results"]] == ["stored"]
            rows = list_defects(workshop, {})
            people_here(workshop, with_unlock=True)
            before = derived(workshop)
            with writing(workshop.engine) as connection:
                rebuild(connection, workshop.files)
            assert derived(workshop) == before
            assert list_defects(workshop, {}) == rows
        finally:
            workshop.close()


def test_a_zero_character_is_kept_wherever_it_stands(tmp_path):
    workshop = empty_book(tmp_path)
    try:
        assert_zeros_are_kept(workshop)
    finally:
        workshop.close()
