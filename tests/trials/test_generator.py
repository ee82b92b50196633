"""The generated books are what the trials say they are."""

from skinpin_sync.entry import from_line

from tests.trials.generator import Writer, defects, document, raised


def test_the_same_seed_gives_the_same_bytes_and_another_seed_others() -> None:
    first, again, other = ([written.line for written in defects(30, seed)] for seed in (7, 7, 8))
    assert first == again
    assert not set(first) & set(other)


def test_every_line_is_an_entry_of_twelve_fields_in_one_chain() -> None:
    entries = [from_line(written.line) for written in defects(30, 7)]
    assert {len(entry.set) for entry in entries} == {12}
    assert [entry.n for entry in entries] == list(range(1, 31))
    assert len({entry.record for entry in entries}) == 30
    assert [entry.id for entry in entries] == sorted(entry.id for entry in entries)


def test_two_writers_give_other_entries() -> None:
    one, two = (
        {from_line(written.line).id for written in defects(5, 7, by)}
        for by in (Writer(), Writer(writer="trial001", device="other"))
    )
    assert not one & two


def test_a_document_holds_the_same_fields() -> None:
    written = next(defects(1, 7))
    told = document(written)
    assert told["_id"] == written.record
    assert {name: told[name] for name in written.fields} == written.fields


def test_a_raised_defect_is_two_entries_the_second_of_which_saw_the_first() -> None:
    pin = {"name": "QS-7", "issue": "1", "sha256": "7" * 64}
    made = list(raised(20, 7, Writer(), "airframe", "1757150400000-0000-server00", pin))
    pairs = [tuple(from_line(line) for line in lines) for lines in made]
    assert all(begun.record == raising.record for begun, raising in pairs)
    assert all(raising.seen["state"] == [begun.id] for begun, raising in pairs)
    assert {begun.set["state"]["to"] for begun, _ in pairs} == {"Draft"}
    assert {raising.set["state"]["to"] for _, raising in pairs} == {"Raised"}
    assert [entry.n for pair in pairs for entry in pair] == list(range(1, 41))
