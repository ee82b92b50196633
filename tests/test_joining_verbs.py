"""The verb that takes in a tablet's file."""

from tests.bags import stick_tablet, zipped
from tests.benches import open_bench, set_up
from tests.services.books import lines_in_order
from tests.services.test_paper import LINE, register
from tests.test_cli import run


def a_book(folder):
    bench = set_up(open_bench(folder))
    stick = stick_tablet(bench)
    lines = [stick.tablet.defect(f"d{n}", number=f"A/000{n}")[0][1] for n in (1, 2)]
    file = folder / "stick.zip"
    file.write_bytes(zipped(stick.files(lines, [b"\xff\xd8\xffp"])))
    run("people", "--data", folder)  # opened once, so that its rules are those of now
    return bench, file


def test_take_in_stores_a_file_once_and_says_what_was_new(tmp_path):
    bench, file = a_book(tmp_path)
    before = len(lines_in_order(bench))
    done = run("take-in", "--data", tmp_path, file)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == (
        "Tablet A: entries 2 new, 0 here already; photographs 1 new, 0 here already\n"
    )
    again = run("take-in", "--data", tmp_path, file)
    assert again.stdout == (
        "Tablet A: entries 0 new, 2 here already; photographs 0 new, 1 here already\n"
    )
    assert len(lines_in_order(bench)) == before + 3  # two, and who took them in


def test_take_in_refuses_with_one_sentence(tmp_path):
    bench, file = a_book(tmp_path)
    before = lines_in_order(bench)
    file.write_bytes(file.read_bytes()[:-1])
    for words in ((file,), (tmp_path / "none.zip",), (file, "--lead", "Nobody")):
        done = run("take-in", "--data", tmp_path, *words)
        assert (done.returncode, done.stdout) == (1, "")
        assert done.stderr.count("\n") == 1
    assert run("take-in", "--data", tmp_path).returncode == 2
    assert lines_in_order(bench) == before


def test_import_reads_a_register_in_once_and_tells_line_and_column(tmp_path):
    bench, _ = a_book(tmp_path)
    file = tmp_path / "register.csv"
    file.write_bytes(register(LINE))
    done = run("import", "--data", tmp_path, file)
    assert (done.returncode, done.stdout) == (0, "1 lines: 1 new, 0 here already\n")
    assert run("import", "--data", tmp_path, file).stdout == "1 lines: 0 new, 1 here already\n"
    before = lines_in_order(bench)
    file.write_bytes(register(LINE | {"paper_number": "18"}, LINE | {"depth": "deep"}))
    done = run("import", "--data", tmp_path, file)
    assert (done.returncode, done.stdout) == (1, "")
    assert "line 3, depth: “deep” is no figure." in done.stderr
    assert "nothing was stored" in done.stderr
    assert lines_in_order(bench) == before


def test_paper_form_writes_a_pdf(tmp_path):
    a_book(tmp_path)
    done = run("paper-form", "--data", tmp_path, "--out", tmp_path / "form.pdf")
    assert done.returncode == 0
    assert (tmp_path / "form.pdf").read_bytes().startswith(b"%PDF-")
