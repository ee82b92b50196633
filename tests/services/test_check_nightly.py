"""The light check of each night finds what is missing, reads all in time, and tells the lead."""

import random

import pytest
from skinpin.services.backup import back_up
from skinpin.services.check_nightly import (
    PHOTOGRAPHS_A_NIGHT,
    check_lightly,
    check_of_night,
    first_of_night,
    note_whole_check,
)
from skinpin.services.photographs import keep_bytes
from skinpin.services.rehearse import keeping
from skinpin.storage.engine import writing
from sqlalchemy import text


@pytest.fixture
def filled(bench, tmp_path):
    tablet = bench.tablet("tabletax")
    for n in range(4):
        bench.push(tablet.defect(f"d{n}", number=f"A/000{n + 1}"))
    chance = random.Random(20251103)
    files = [keep_bytes(bench.workshop, chance.randbytes(700 + n)) for n in range(3)]
    back_up(bench.workshop, tmp_path / "backups")
    return bench.workshop, sorted(str(file) for file in files), tmp_path / "backups"


def change(workshop, words, **given):
    with writing(workshop.engine) as connection:
        connection.execute(text(words), given)


def test_a_whole_book_has_no_fault_and_the_day_is_told(filled):
    workshop, _, backups = filled
    assert keeping(workshop, backups)["check_days"] is None
    assert check_of_night(workshop, backups) == []
    told = keeping(workshop, backups)
    assert (told["check_days"], told["check_faults"], told["check_fault"]) == (0, 0, None)


def test_an_entry_that_is_gone_or_changed_is_found(filled):
    workshop, _, backups = filled
    with workshop.reading() as connection:
        ids = [id for (id,) in connection.execute(text("SELECT id FROM entry ORDER BY seq"))]
    change(workshop, "UPDATE entry SET line = line || ' ' WHERE id = :id", id=ids[-2])
    change(workshop, "DELETE FROM entry WHERE id = :id", id=ids[-1])
    assert check_of_night(workshop, backups) == [
        f"Of {len(ids)} entries in the order of arrival {len(ids) - 1} are here.",
        f"The entry {ids[-2]} is not as it came.",
    ]
    told = keeping(workshop, backups)
    assert told["check_faults"] == 2
    assert told["check_fault"].startswith("Of ")


def test_a_photograph_that_is_gone_is_found_any_night_and_one_that_changed_in_its_turn(
    filled, monkeypatch
):
    workshop, files, _ = filled
    monkeypatch.setattr("skinpin.services.check_nightly.PHOTOGRAPHS_A_NIGHT", 1)
    workshop.folder.path(files[0]).unlink()
    changed = workshop.folder.path(files[2])
    changed.chmod(0o644)
    changed.write_bytes(b"other bytes")
    missing = f"The photograph {files[0]} is missing."
    found = [check_lightly(workshop, night) for night in range(3)]
    assert all(missing in one for one in found)
    said = [f"The photograph {files[2]} is not as it came." in one for one in found]
    assert said == [False, False, True]


def test_what_a_whole_check_found_stands_until_one_finds_it_no_more(filled):
    workshop, _, backups = filled
    note_whole_check(workshop, backups, ["The photograph 00ff is not as it came."])
    assert check_of_night(workshop, backups) == []
    assert keeping(workshop, backups)["check_fault"] == "The photograph 00ff is not as it came."
    note_whole_check(workshop, backups, [])
    assert keeping(workshop, backups)["check_faults"] == 0


def test_where_no_backup_was_made_nothing_is_kept_and_nothing_made(filled, tmp_path):
    note_whole_check(filled[0], tmp_path / "elsewhere", ["The photograph 00ff is missing."])
    assert not (tmp_path / "elsewhere").exists()


@pytest.mark.parametrize("count", [1, 199, 200, 201, 1234])
def test_in_time_every_photograph_is_read(count):
    nights = -(-count // PHOTOGRAPHS_A_NIGHT)
    read = set()
    for night in range(20_400, 20_400 + nights):
        begin = first_of_night(count, PHOTOGRAPHS_A_NIGHT, night)
        read |= set(range(begin, min(count, begin + PHOTOGRAPHS_A_NIGHT)))
    assert read == set(range(count))
