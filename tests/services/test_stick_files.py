"""Files of memory sticks: what is taken in once, and what is refused without a trace."""

import io
import random
import struct
import zipfile

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from skinpin.domain.errors import Refused
from skinpin.services.devices import end_device
from skinpin.services.people import add_person
from skinpin.services.photographs import missing
from skinpin.services.stick_files import take_in
from skinpin.storage.records import find_records
from skinpin_sync.chain import Draft
from skinpin_sync.standing import field_values
from sqlalchemy import text

from tests.bags import BASE, manifest, stick_tablet, zipped
from tests.benches import derived

SEED = 20251103
PHOTOGRAPHS = [random.Random(SEED + n).randbytes(9000) for n in range(2)]


@pytest.fixture
def stick(bench):
    """A tablet that was never in reach, and what it wrote."""
    return stick_tablet(bench)


def lines_of(stick, count=3):
    return [line for n in range(count)
            for _, line in stick.tablet.defect(f"d{n}", number=f"A/000{n + 1}")]  # fmt: skip


def kept(folder, content):
    path = folder / "file.zip"
    path.write_bytes(content)
    return path


def log_of(bench):
    with bench.workshop.reading() as connection:
        asked = text("SELECT id, line FROM entry ORDER BY seq")
        return [tuple(row) for row in connection.execute(asked)]


def state_of(bench):
    photographs = sorted(path.name for path in bench.workshop.folder.root.glob("?/?/*"))
    arriving = list((bench.workshop.folder.root / "arriving").iterdir())
    return log_of(bench), derived(bench.workshop), photographs, arriving


def refusal(bench, path, by=None, reason=""):
    """Return how a file is refused; nothing may have changed."""
    before = state_of(bench)
    with pytest.raises(Refused) as refused:
        take_in(bench.workshop, by or bench.new.lead, path, reason)
    assert state_of(bench) == before
    assert refused.value.args[0].rstrip().endswith((".", "?", "!"))
    return refused.value.code


def test_a_file_is_taken_in_once_and_the_same_again_is_all_duplicates(bench, stick, tmp_path):
    lines = lines_of(stick)
    path = kept(tmp_path, zipped(stick.files(lines, PHOTOGRAPHS)))
    told = []
    first = take_in(bench.workshop, bench.new.lead, path, progress=lambda *step: told.append(step))
    assert (first.letter, first.entries, first.stored) == ("A", 3, 3)
    assert (first.photographs, first.photographs_stored, first.turned) == (2, 2, [])
    assert told[-1] == ("parts of the entries", 1, 1)
    assert [line for _, line in log_of(bench)][-3:] == [line.decode() for line in lines]
    after = state_of(bench)
    again = take_in(bench.workshop, bench.new.lead, path)
    assert (again.entries, again.stored, again.photographs_stored) == (3, 0, 0)
    assert state_of(bench) == after


def test_the_tablet_finds_its_entries_and_photographs_there_when_it_comes(bench, stick, tmp_path):
    lines = lines_of(stick)
    files = stick.files(lines, PHOTOGRAPHS)
    take_in(bench.workshop, bench.new.lead, kept(tmp_path, zipped(files)))
    answer = bench.push([(None, line) for line in lines])
    assert [one["result"] for one in answer["results"]] == ["duplicate"] * 3
    names = [name[17:81] for name in files if name.startswith("data/photographs/")]
    assert missing(bench.workshop, names) == []


def test_who_took_a_file_in_and_what_was_new_stands_in_the_book(bench, stick, tmp_path):
    taken = take_in(
        bench.workshop, bench.new.lead, kept(tmp_path, zipped(stick.files(lines_of(stick))))
    )
    id, line = log_of(bench)[-4]
    assert f'"taken_in":{{"entries":3,"file":"{taken.sha256}","photographs":0}}' in line
    assert f'"by":"{bench.new.lead}"' in line
    with bench.workshop.reading() as connection:
        standing = find_records(connection, [stick.record])[stick.record].standing
    assert list(field_values(standing, "taken_in")) == [id]


def test_a_file_that_was_unpacked_and_packed_again_is_the_same_file(bench, stick, tmp_path):
    files = dict(reversed(stick.files(lines_of(stick), PHOTOGRAPHS).items()))
    content = zipped(files, base="renamed by hand".replace(" ", "-"), how=zipfile.ZIP_DEFLATED)
    assert take_in(bench.workshop, bench.new.lead, kept(tmp_path, content)).stored == 3


def test_a_desk_writes_a_file_too(bench, tmp_path):
    desk = stick_tablet(bench, desk=True)
    taken = take_in(
        bench.workshop, bench.new.lead, kept(tmp_path, zipped(desk.files(lines_of(desk))))
    )
    assert (taken.letter, taken.stored) == (None, 3)


def test_a_clerk_takes_in_and_an_inspector_does_not(bench, stick, tmp_path):
    path = kept(tmp_path, zipped(stick.files(lines_of(stick))))
    people = {role: add_person(bench.workshop, bench.new.lead, f"The {role}", role, "", "222222")
              for role in ("inspector", "clerk")}  # fmt: skip
    assert refusal(bench, path, people["inspector"]) == "not_allowed"
    assert take_in(bench.workshop, people["clerk"], path).stored == 3


def test_a_line_that_the_door_refuses_holds_nothing_else_up(bench, stick, tmp_path):
    lines = lines_of(stick)
    bench.push([(None, lines[0])])
    bad = lines[0].replace(b"A/0001", b"A/0009")  # the same id with other bytes
    taken = take_in(bench.workshop, bench.new.lead,
                    kept(tmp_path, zipped(stick.files([bad, *lines[1:]]))))  # fmt: skip
    assert (taken.entries, taken.stored, len(taken.turned)) == (3, 2, 1)


def mark_lost(bench, stick):
    bench.push(stick_tablet(bench, "tabletb1").tablet.write(
        Draft(stick.record, "tablet", {"lost": True}, relies=[bench.role_entry])))  # fmt: skip


@pytest.mark.parametrize("how", ["lost", "ended"])
def test_the_file_of_a_lost_or_ended_tablet_needs_a_lead_and_a_reason(bench, stick, tmp_path, how):
    path = kept(tmp_path, zipped(stick.files(lines_of(stick))))
    if how == "lost":
        mark_lost(bench, stick)
    else:
        end_device(bench.workshop, bench.new.lead, stick.record, "left on the ferry")
    clerk = add_person(bench.workshop, bench.new.lead, "The clerk", "clerk", "", "222222")
    assert refusal(bench, path) == "lost_tablet"
    assert refusal(bench, path, reason="   ") == "lost_tablet"
    assert refusal(bench, path, clerk, "found again") == "not_allowed"
    assert take_in(bench.workshop, bench.new.lead, path, "found behind the seat").stored == 3
    assert '"why":"found behind the seat"' in log_of(bench)[-4][1]


def test_a_file_of_another_book_or_of_no_tablet_here_is_refused(bench, stick, tmp_path):
    lines = lines_of(stick)
    for code, info in (
        ("another_book", {"Skinpin_Book": "0" * 26}),
        ("another_book", {"Skinpin_Book": ""}),
        ("no_such_device", {"Skinpin_Tablet": "0" * 26}),
        ("no_such_device", {"Skinpin_Tablet": bench.new.lead}),
        ("not_a_bag", {"Skinpin_Letter": "B"}),
        ("not_a_bag", {"Skinpin_Entries": "4"}),
        ("not_a_bag", {"Payload_Oxum": "1.1"}),
    ):
        path = kept(tmp_path, zipped(stick.files(lines, **info)))
        assert refusal(bench, path) == code, info


def test_a_file_signed_by_another_tablet_or_not_at_all_is_refused(bench, stick, tmp_path):
    lines, other = lines_of(stick), stick_tablet(bench, "tabletb1")
    other.record = stick.record  # it says it is the first tablet, with its own key
    other.letter = stick.letter
    assert refusal(bench, kept(tmp_path, zipped(other.files(lines)))) == "wrong_signature"
    for signature in (b"", b"A" * 86, b"\xff" * 10, b"=" * 86):
        files = stick.files(lines) | {"signature.txt": signature}
        assert refusal(bench, kept(tmp_path, zipped(files))) == "wrong_signature"


HOSTILE = [
    {"../escaped.txt": b"x"},
    {"data/../../escaped.txt": b"x"},
    {"data/photographs/../../../../etc/passwd": b"x"},
    {"/etc/passwd": b"x"},
    {"data\\photographs\\x.jpg": b"x"},
    {"data/photographs/" + "ab" * 32 + ".jpg/x": b"x"},
    {"data/photographs/CON.jpg": b"x"},
    {"fetch.txt": b"http://example.test/ - data/entries-0002.jsonl\n"},
    {"manifest-md5.txt": b""},
    {"data/entries-0002.jsonl/": b"x"},
]


@pytest.mark.parametrize("more", HOSTILE, ids=lambda more: ascii(next(iter(more)))[:40])
def test_a_name_that_does_not_belong_there_is_refused(bench, stick, tmp_path, more):
    files = stick.files(lines_of(stick))
    data = {name: content for name, content in files.items() if name.startswith("data/")}
    signed = stick.signed(data | more, files["bag-info.txt"])
    assert refusal(bench, kept(tmp_path, zipped(signed))) == "not_a_bag"
    assert not list(tmp_path.rglob("escaped.txt"))


def test_a_name_that_ends_early_for_some_readers_is_refused(bench, stick, tmp_path):
    files = stick.files(lines_of(stick))
    data = {name: content for name, content in files.items() if name.startswith("data/")}
    more = {"data/entries-0002.jsonl?.txt": b"x"}
    content = zipped(stick.signed(data | more, files["bag-info.txt"]))
    early = content.replace(b"jsonl?.txt", b"jsonl\0.txt")
    assert early != content
    assert refusal(bench, kept(tmp_path, early)) == "not_a_bag"


def packed(pairs, how=zipfile.ZIP_STORED):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", how) as zip_:
        for name, content in pairs:
            zip_.writestr(name, content)
    return out.getvalue()


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_names_that_come_twice_or_lie_in_two_folders_are_refused(bench, stick, tmp_path):
    pairs = [(f"{BASE}/{name}", content) for name, content in stick.files(lines_of(stick)).items()]
    for wrong in (
        [*pairs, pairs[0]],
        [*pairs, ("other/bagit.txt", b"x")],
        [*pairs, ("loose.txt", b"x")],
        [(name.replace(BASE, ".."), content) for name, content in pairs],
        [],
    ):
        assert refusal(bench, kept(tmp_path, packed(wrong))) == "not_a_bag"


def test_what_would_burst_is_refused_before_it_is_unpacked(bench, stick, tmp_path, monkeypatch):
    bomb = b"\0" * (40 * 1024 * 1024)
    files = stick.files(lines_of(stick), [bomb])
    path = kept(tmp_path, zipped(files, how=zipfile.ZIP_DEFLATED))
    assert path.stat().st_size < 200_000
    read = []
    monkeypatch.setattr(zipfile.ZipFile, "open", lambda *given, **more: read.append(given))
    assert refusal(bench, path) == "not_a_bag"
    assert read == []


def test_a_size_that_is_not_true_is_refused(bench, stick, tmp_path):
    content = bytearray(zipped(stick.files(lines_of(stick), [b"\0" * 50_000]), how=8))
    for at in range(len(content) - 4):  # the list says that every file has 100 bytes
        if content[at : at + 4] == b"PK\x01\x02":
            content[at + 24 : at + 28] = struct.pack("<L", 100)
    assert refusal(bench, kept(tmp_path, bytes(content))) == "not_a_bag"


def test_too_many_files_are_refused_by_the_end_of_the_file_alone(bench, tmp_path):
    pairs = [(f"{BASE}/{n}", b"") for n in range(20_001)]
    assert refusal(bench, kept(tmp_path, packed(pairs))) == "not_a_bag"


def test_a_second_list_behind_the_first_is_refused_before_it_is_read(
    bench, stick, tmp_path, monkeypatch
):
    content = zipped(stick.files(lines_of(stick)))
    end = len(content) - 22
    locator = struct.pack("<4sLQL", b"PK\x06\x07", 0, 0, 1)
    at = int.from_bytes(content[end + 16 : end + 20], "little")
    size = struct.pack("<L", end - at + len(locator))
    path = kept(
        tmp_path, content[:end] + locator + content[end : end + 12] + size + content[end + 16 :]
    )
    opened = []
    monkeypatch.setattr(zipfile, "ZipFile", lambda *given: opened.append(given))
    assert refusal(bench, path) == "not_a_bag"
    assert opened == []


def test_files_that_are_no_zip_are_refused(bench, tmp_path):
    for content in (b"", b"PK", b"%PDF-1.7\n" * 100, b"PK\x05\x06" + b"\0" * 18):
        assert refusal(bench, kept(tmp_path, content)) == "not_a_bag"


def test_manifests_that_do_not_hold_are_refused(bench, stick, tmp_path):
    files = stick.files(lines_of(stick), PHOTOGRAPHS)
    data = {name: content for name, content in files.items() if name.startswith("data/")}
    photograph = next(name for name in data if name.endswith(".jpg"))
    hollow = manifest({name: content for name, content in data.items() if name != photograph})
    entries, info = files["data/entries-0001.jsonl"], files["bag-info.txt"]
    wrong = {
        "a byte of a photograph": files | {photograph: b"x" + files[photograph][1:]},
        "a byte of an entry": files
        | {"data/entries-0001.jsonl": entries.replace(b"A/0001", b"A/0007")},
        "a photograph is missing": {k: v for k, v in files.items() if k != photograph},
        "a photograph is not listed": files | {"manifest-sha256.txt": hollow},
        "a tag file is missing": {k: v for k, v in files.items() if k != "bag-info.txt"},
        "the book was changed by hand": files
        | {"bag-info.txt": info.replace(b"Letter: A", b"Letter: B")},
        "another version": files | {"bagit.txt": b"BagIt-Version: 9.9\n"},
    }  # fmt: skip
    for what, changed in wrong.items():
        code = refusal(bench, kept(tmp_path, zipped(changed)))
        assert code in ("not_a_bag", "wrong_sha256"), what


def test_a_photograph_named_by_another_hash_is_refused(bench, stick, tmp_path):
    files = stick.files(lines_of(stick))
    name = f"data/photographs/{'ab' * 32}.jpg"
    data = {"data/entries-0001.jsonl": files["data/entries-0001.jsonl"], name: b"x"}
    size = sum(map(len, data.values()))
    info = files["bag-info.txt"].decode().splitlines(keepends=True)
    told = "".join(f"Payload-Oxum: {size}.2\n" if "Oxum" in line else line for line in info)
    assert refusal(bench, kept(tmp_path, zipped(stick.signed(data, told.encode())))) == "not_a_bag"


def test_an_entries_file_cut_short_is_refused(bench, stick, tmp_path):
    files = stick.files(lines_of(stick))
    data = {"data/entries-0001.jsonl": files["data/entries-0001.jsonl"][:-1]}
    info = files["bag-info.txt"].replace(
        f"{len(files['data/entries-0001.jsonl'])}.1".encode(),
        f"{len(data['data/entries-0001.jsonl'])}.1".encode(),
    )
    assert refusal(bench, kept(tmp_path, zipped(stick.signed(data, info)))) == "not_a_bag"


@settings(deadline=None, max_examples=150,
          suppress_health_check=[HealthCheck.function_scoped_fixture])  # fmt: skip
@example(cut=22, changes=[])
@example(cut=0, changes=[(-1, 1)])
@given(
    cut=st.integers(0, 9000),
    changes=st.lists(st.tuples(st.integers(-6000, 6000), st.integers(1, 255)), max_size=4),
)
def test_whatever_bytes_of_a_good_file_are_changed_it_is_whole_or_refused(
    bench, stick, tmp_path, cut, changes
):
    """Mutations of a good file: cut at the end, bytes changed anywhere."""
    good = zipped(stick.files([], [b"\xff\xd8\xff" + b"p" * 400]))
    content = bytearray(good[: len(good) - cut] if cut < len(good) else b"")
    for at, change in changes:
        if content:
            content[at % len(content)] ^= change
    path = kept(tmp_path, bytes(content))
    before = state_of(bench)
    code = None
    try:
        taken = take_in(bench.workshop, bench.new.lead, path)
    except Refused as refused:
        code = refused.code
    if code is None:
        # Times, attributes and the name of the folder are no part of what is signed.
        assert taken.photographs == 1
    else:
        assert code in REFUSALS
        assert state_of(bench) == before


REFUSALS = ("not_a_bag", "wrong_sha256", "wrong_signature", "another_book", "no_such_device")


def test_a_stop_half_way_is_made_good_by_the_same_file(bench, stick, tmp_path, monkeypatch):
    path = kept(tmp_path, zipped(stick.files(lines_of(stick), PHOTOGRAPHS)))

    def stop(words, done, of):
        if (words, done) == ("photographs", 1):
            raise KeyboardInterrupt

    before = log_of(bench)
    with pytest.raises(KeyboardInterrupt):
        take_in(bench.workshop, bench.new.lead, path, progress=stop)
    *first, (_, noted) = log_of(bench)
    assert first == before
    assert '"taken_in"' in noted
    taken = take_in(bench.workshop, bench.new.lead, path)
    assert (taken.stored, taken.photographs_stored) == (3, 1)
