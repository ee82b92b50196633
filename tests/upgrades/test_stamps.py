"""What a page of an earlier release stamped: it holds over what that page knew, and no more."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from skinpin.domain.stamp_words import overtaken_words
from skinpin.services.defects import list_defects
from skinpin.services.push import need_book, push
from skinpin.services.workshop import Workshop
from skinpin.storage.records import records_of_kind
from skinpin_sync.chain import Draft

from tests.benches import Tablet, body_of
from tests.upgrades.releases import RELEASES, Release, database_of, workshop_in

pytestmark = pytest.mark.parametrize("release", RELEASES[:1], ids=lambda one: one.folder.name)
NUMBER = "A/0001"
DAY_MS = 86_400_000
SCALE = {
    "method": "two points",
    "points": [[100, 100], [900, 100]],
    "length": {"value": "2", "unit": "in"},
    "tap": "0.6",
}


@pytest.fixture
def book(release: Release, folder: Path) -> Iterator[Workshop]:
    """The book of release 1 as its server left it, read by the rules of today."""
    file = database_of(release, folder / "book")
    with workshop_in(file.parent, release, f"sqlite:///{file}") as workshop:
        yield workshop


def row_of(workshop: Workshop) -> dict[str, Any]:
    [row] = [one for one in list_defects(workshop, {}) if one["number"] == NUMBER]
    return row


def late(workshop: Workshop, after_ms: int) -> Tablet:
    """Return another tablet whose clock stands so long after the stamp of the record."""
    [stamp] = row_of(workshop)["stamps"]
    with workshop.reading() as connection:
        book = need_book(connection).id
    now_ms = int(stamp["entry"].partition("-")[0]) + after_ms
    return Tablet("Q", "", book, stamp["person"], "", "tabletq1", now_ms=now_ms)


def lay_a_scale(workshop: Workshop, after_ms: int) -> dict[str, Any]:
    """Write a scale and a length on a photograph of the record as a page of today does."""
    tablet, row = late(workshop, after_ms), row_of(workshop)
    with workshop.reading() as connection:
        shown = records_of_kind(connection, "photograph")
    photograph = next(
        one.record
        for one in shown
        if row["record"] in {fields.get("defect") for fields in one.standing.values.values()}
    )
    lying = {"photograph": photograph}
    length = {"scale": "scale-1", "shape": "length", "points": [[0, 0], [400, 0]], "tap": "0.6"}
    written = tablet.write(
        Draft("scale-1", "scale", {**lying, **SCALE}),
        Draft("length-1", "measurement", {**lying, **length}),
    )
    push(workshop, tablet.book, body_of(line for _, line in written))
    return row_of(workshop)


def test_its_stamp_holds_over_a_record_without_scales(book: Workshop) -> None:
    row = row_of(book)
    assert (row["state"], row["stamps_hold"]) == ("Cleared", True)
    assert [one["overtaken"] for one in row["stamps"]] == [None]
    assert overtaken_words(row) == ""


@pytest.mark.parametrize(
    ("after_ms", "why", "said"),
    [
        (-DAY_MS // 24, "lengths", "it was made without the scales, lengths or lamps"),
        (DAY_MS, "measured", "a scale, a length or the lamp of a photograph was written"),
    ],
    ids=["written before it, unknown to that page", "written after it"],
)
def test_over_a_scale_and_a_length_it_does_not_hold_and_that_is_said(
    book: Workshop, after_ms: int, why: str, said: str
) -> None:
    row = lay_a_scale(book, after_ms)
    assert row["state"] != "Cleared"
    assert row["stamps_hold"] is False
    [stamp] = row["stamps"]
    assert (stamp["holds"], stamp["overtaken"]) == (False, why)
    words = overtaken_words(row)
    assert words.startswith(f"INSPECTED stamp {stamp['number']} of {stamp['date']} does not hold")
    assert said in words
    assert f"Inspect and stamp again. Until then the record counts as {row['state']}" in words
