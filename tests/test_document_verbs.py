"""The verbs report and export of the installed command."""

import shutil

import pytest
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
    assert capsys.readouterr().out == f"{out}: written\n"


def test_export_writes_the_csv_as_utf_8(book, tmp_path):
    out = tmp_path / "defects.csv"
    main(["export", "--data", book, "--out", str(out)])
    text = out.read_bytes().decode("utf-8")
    assert text.count("\r\n") == 46
    assert "B1–B2" in text


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
