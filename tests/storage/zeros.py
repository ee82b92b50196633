"""Values with a zero character in every place that ends up in a column or a question."""

from skinpin.services.defects import defects_numbered, list_defects
from skinpin.services.people import people_here
from skinpin.storage.engine import writing
from skinpin.storage.rebuild import rebuild
from skinpin_sync.chain import Draft

from tests.benches import derived
from tests.storage.writers import Writer

ZERO = "a\0b"
SHA256 = "\0" + "f" * 63
PIN = {"name": "QS-7", "issue": "1", "sha256": SHA256}
PLACE = {"structure": ZERO, "hand": ZERO, "member": ZERO, "strakes": [ZERO], "face": ZERO}
DEFECT = {"number": ZERO, "airframe": ZERO, "place": PLACE, "kind": ZERO, "stage": ZERO}
DRAFTS = [
    Draft("D1", "defect", {**DEFECT, "standard": PIN}),
    Draft("D2", "defect", {"state": {"move": "undo", "to": "Draft", "undoes": ZERO}}),
    Draft("D3", "defect", {"state": {"move": ZERO, "to": ZERO}, "same_as": ZERO, "standard": PIN}),
    Draft("D4", "defect", {"disposition": ZERO, "deferral": {"to_stage": ZERO}, "standard": PIN}),
    Draft("P", "person", {"role": {"role": ZERO, "from": ZERO, "upto": [ZERO]}, "name": ZERO}),
    Draft("Q", "person", {"confirms": [ZERO], "stamp_number": {"number": ZERO, "from": ZERO}}),
    Draft("AF", "airframe", {"definition": PIN, "type": ZERO}),
    Draft("D5", "defect", {"number": "A/0001", "airframe": "AF", "note": ZERO}),
    Draft("F1", "photograph", {"defect": ZERO, "sha256": SHA256}),
    Draft("S1", "stamp", {"defect": "D1", "list": {"count": 1, "sha256": SHA256}, "act": ZERO}),
    Draft("T1", "tablet", {"letter": ZERO, "public_key": ZERO, "lost": ZERO}),
    Draft("book", "book", {"time_zone": ZERO, "workshop": ZERO}),
]


def assert_zeros_are_kept(workshop):
    """Push all of it, look at the book, and make it anew."""
    writer = Writer(workshop, "book")
    for draft in DRAFTS:
        answer = writer.push(draft._replace(relies=writer.last_ids()))
        assert [one["result"] for one in answer["results"]] == ["stored"], draft
    before = derived(workshop)
    with writing(workshop.engine) as connection:
        rebuild(connection, workshop.files)
    assert derived(workshop) == before
    people_here(workshop, with_unlock=True)
    rows = {row["record"]: row for row in list_defects(workshop, {})}
    assert (rows["D1"]["number"], rows["D1"]["place"], rows["D5"]["note"]) == (ZERO, PLACE, ZERO)
    for name in ("airframe", "zone", "state", "stage", "kind"):
        list_defects(workshop, {name: ZERO})
    assert defects_numbered(workshop, "A0001") == [rows["D5"]]
