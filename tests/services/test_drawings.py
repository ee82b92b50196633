"""A drawing's picture is a file of the book like a photograph: kept, backed up, carried over."""

import copy
import hashlib

import pytest
from skinpin.domain.calibration import Asked, Touched
from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.definitions import (
    check_definition,
    definition_bytes,
    new_airframe,
    new_issue,
)
from skinpin.services.drawings import fit_drawing, keep_drawing
from skinpin.services.people import add_person
from skinpin.services.photographs import find_file, find_rendition, keep_bytes, missing
from skinpin.services.push import write_act_here
from skinpin.services.restore import restore
from skinpin.services.transfer import transfer
from skinpin_sync.chain import Draft

from tests.benches import DEFINITION, open_bench
from tests.imaging.pictures import picture
from tests.imaging.sheets import svg

SHEET = picture((420, 300), "PNG")


def count_files(workshop):
    return len(list(workshop.folder.root.rglob("*")))


def test_a_drawing_is_kept_by_the_hash_of_its_picture(bench):
    kept = keep_drawing(bench.workshop, bench.new.lead, SHEET, 1)
    assert (kept.media_type, kept.width_px, kept.height_px, kept.pages) == (
        "image/png",
        420,
        300,
        1,
    )
    assert find_file(bench.workshop, kept.sha256).media_type == "image/png"
    assert find_file(bench.workshop, kept.sha256).path.stat().st_size == kept.size_bytes
    assert find_rendition(bench.workshop, kept.sha256, 320).media_type == "image/jpeg"
    assert missing(bench.workshop, [kept.sha256]) == []
    assert keep_drawing(bench.workshop, bench.new.lead, SHEET, 1).sha256 == kept.sha256


def test_of_a_file_that_is_refused_nothing_is_kept(bench):
    before = count_files(bench.workshop)
    for content, page in ((b"none", 1), (svg('<image href="/etc/passwd"/>'), 1), (SHEET, 2)):
        with pytest.raises(Refused):
            keep_drawing(bench.workshop, bench.new.lead, content, page)
    assert count_files(bench.workshop) == before


def test_only_a_lead_adds_and_fits_drawings(bench):
    clerk = add_person(bench.workshop, bench.new.lead, "A clerk", "clerk", "", "222222")
    before = count_files(bench.workshop)
    for act in (
        lambda: keep_drawing(bench.workshop, clerk, SHEET, 1),
        lambda: fit_drawing(bench.workshop, clerk, Asked([], None, "strake")),
    ):
        with pytest.raises(Refused) as refused:
            act()
        assert refused.value.code == "not_allowed"
    assert count_files(bench.workshop) == before


def test_points_are_fitted(bench):
    points = [Touched((x, 300 - y), (x / 3, y / 3)) for x, y in ((0, 0), (300, 0), (300, 90))]
    fitted = fit_drawing(bench.workshop, bench.new.lead, Asked(points, None, "water line"))
    assert fitted.to_picture == pytest.approx((3, 0, 0, 0, -3, 300, 0, 0, 1), abs=1e-9)


def test_a_backup_a_restore_and_a_transfer_carry_a_drawing_and_check_book_misses_it(
    bench, tmp_path
):
    kept = keep_drawing(bench.workshop, bench.new.lead, SHEET, 1)
    assert back_up(bench.workshop, tmp_path / "backups").lacking == []
    restored, copied = open_bench(tmp_path / "restored"), open_bench(tmp_path / "copied")
    restore(restored, tmp_path / "backups")
    assert all(one.agrees for one in transfer(bench.workshop, copied))
    for one in (restored, copied):
        assert one.folder.is_whole(kept.sha256)
        assert check_book(one) == []
        one.folder.path(kept.sha256).unlink()
        assert check_book(one) == [f"The photograph {kept.sha256} is missing."]
        one.close()


def _drawn(sha256):
    """Return the second issue of the bench's airframe, with a picture of this hash."""
    points = [{"px": [3 * x, 300 - 3 * y], "at": [x, y]} for x, y in ((0, 0), (100, 0), (100, 30))]
    view = {
        "name": "sheet",
        "title": "SHEET 12",
        "structure": "Hull",
        "hand": "P",
        "picture": {
            **{"sha256": sha256, "media_type": "image/png"},
            **{"width_px": 420, "height_px": 300},
        },
        "second": "water line",
        "calibration": {
            **{"method": "affine", "to_picture": [3, 0, 0, 0, -3, 300, 0, 0, 1]},
            **{"points": points, "check": {"px": [150, 240], "at": [50, 20]}},
        },
    }
    return copy.deepcopy(DEFINITION) | {"issue": "2", "views": [view]}


def test_a_picture_that_is_not_on_this_server_stands_in_the_way_of_an_issue(bench):
    new, made = bench.new, _drawn(hashlib.sha256(SHEET).hexdigest())
    told = check_definition(bench.workshop, new.lead, made, new.airframe)["troubles"]
    assert [(one["at"], one["code"]) for one in told] == [("views/0/picture", "no_picture_file")]
    for act in (
        lambda: new_issue(bench.workshop, new.lead, new.airframe, made, "drawn"),
        lambda: new_airframe(bench.workshop, new.lead, made | {"constructor": "77"}),
    ):
        with pytest.raises(Refused) as refused:
            act()
        assert refused.value.message == "The picture of “SHEET 12” is not on this server."
        assert refused.value.hint == "Add the file again."
    kept = keep_drawing(bench.workshop, new.lead, SHEET, 1)
    new_issue(bench.workshop, new.lead, new.airframe, _drawn(kept.sha256), "drawn")
    assert check_book(bench.workshop) == []


def test_check_book_names_a_drawing_that_never_came(bench):
    lost = definition_bytes(_drawn("ab" * 32))
    pin = {"name": "Made", "issue": "2", "sha256": keep_bytes(bench.workshop, lost)}
    change = Draft(bench.new.airframe, "airframe", {"definition": pin}, {}, [bench.role_entry])
    with bench.workshop.writing() as connection:
        write_act_here(bench.workshop, connection, bench.new.lead, [change])
    [sentence] = check_book(bench.workshop)
    told = "The picture of “SHEET 12” of airframe 2603 is not on this server: add the file again."
    assert sentence == told
