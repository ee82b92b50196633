"""A drawing's picture is a file of the book like a photograph: kept, backed up, carried over."""

import pytest
from skinpin.domain.calibration import Asked, Touched
from skinpin.domain.errors import Refused
from skinpin.services.backup import back_up
from skinpin.services.check_book import check_book
from skinpin.services.drawings import fit_drawing, keep_drawing
from skinpin.services.people import add_person
from skinpin.services.photographs import find_file, find_rendition, missing
from skinpin.services.restore import restore
from skinpin.services.transfer import transfer

from tests.benches import open_bench
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
