"""The verbs report and export of the installed command."""

import hashlib
import re
import shutil

import pytest
from pypdf import PdfReader
from skinpin.cli import main

from tests.ready_book import ready_book


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo") / "book"
    shutil.copytree(ready_book(), folder)
    return str(folder)


def test_report_writes_a_pdf_and_says_so(book, tmp_path, capsys):
    out = tmp_path / "zone.pdf"
    main(["report", "--data", book, "--zone", "112", "--out", str(out)])
    assert out.read_bytes()[:5] == b"%PDF-"
    assert f"{out}: written\nRecord hash " in capsys.readouterr().out


def test_the_entries_written_have_the_record_hash_that_the_report_prints(book, tmp_path, capsys):
    out, entries = tmp_path / "zone.pdf", tmp_path / "entries.jsonl"
    words = ["--zone", "112", "--out", str(out), "--entries", str(entries)]
    main(["report", "--data", book, *words])
    found = hashlib.sha256(entries.read_bytes()).hexdigest()
    count = entries.read_bytes().count(b"\n")
    assert f"Record hash {found}, of {count} entries" in capsys.readouterr().out
    text = "".join(page.extract_text() for page in PdfReader(out).pages)
    assert found in re.sub(r"\s|\u200b", "", text)


def test_a_report_without_a_file_is_refused(book, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["report", "--data", book, "--zone", "112"])
    assert ended.value.code == 1
    assert "Nothing is to be written" in capsys.readouterr().err


def test_export_writes_the_csv_as_utf_8(book, tmp_path):
    out = tmp_path / "defects.csv"
    main(["export", "--data", book, "--out", str(out)])
    text = out.read_bytes().decode("utf-8")
    assert text.count("\r\n") == 46
    assert "B1–B2" in text


@pytest.mark.parametrize(("ending", "begin"), [("xlsx", b"PK"), ("jsonl", b"{"), ("CSV", b"num")])
def test_the_ending_of_the_file_says_which_kind(book, tmp_path, capsys, ending, begin):
    out = tmp_path / f"defects.{ending}"
    main(["export", "--data", book, "--zone", "111", "--out", str(out)])
    assert out.read_bytes().startswith(begin)
    found = hashlib.sha256(out.read_bytes()).hexdigest()
    assert f"3 records, SHA-256 {found}" in capsys.readouterr().out


def test_a_file_of_another_ending_is_refused(book, tmp_path, capsys):
    with pytest.raises(SystemExit):
        main(["export", "--data", book, "--out", str(tmp_path / "defects.docx")])
    assert "A file may end in .csv, .xlsx, .jsonl." in capsys.readouterr().err


def test_a_zone_that_is_not_there_is_refused_in_a_sentence_with_exit_1(book, tmp_path, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["report", "--data", book, "--zone", "999", "--out", str(tmp_path / "no.pdf")])
    assert ended.value.code == 1
    assert "no zone 999" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_can_not_be_written_is_refused(book, tmp_path, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["export", "--data", book, "--out", str(tmp_path / "gone" / "defects.csv")])
    assert ended.value.code == 1
    assert "can't be written" in capsys.readouterr().err


def test_photographs_are_exported_as_copies_and_a_card_as_pdf(book, tmp_path, capsys):
    folder, card = tmp_path / "copies", tmp_path / "card.pdf"
    main(["export", "--data", book, "--zone", "111", "--photographs", str(folder)])
    count = len(list(folder.glob("*.jpg")))
    assert f"{folder}: {count} copies, 0 of them coded anew" in capsys.readouterr().out
    main(["scale-card", "--data", book, "--out", str(card), "--card", "SC-2"])
    assert card.read_bytes().startswith(b"%PDF-")


def test_an_export_of_nothing_is_refused(book, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["export", "--data", book])
    assert ended.value.code == 1
    assert "Nothing is to be written" in capsys.readouterr().err
