"""The child that typesets: one file out, nothing half made, and limits on what it takes."""

import resource
import subprocess
import sys

from skinpin.reports.typesetter import CPU_S, MADE, MEMORY_BYTES


def typeset(folder):
    words = [sys.executable, "-m", "skinpin.reports.typesetter", str(folder)]
    return subprocess.run(words, capture_output=True, text=True, timeout=120)


def test_a_template_gives_one_file_the_same_every_time(tmp_path):
    (tmp_path / "zone.typ").write_text("#set document(date: none)\nZone 111")
    contents = []
    for _ in range(2):
        assert typeset(tmp_path).returncode == 0
        contents.append((tmp_path / MADE).read_bytes())
    assert contents[0] == contents[1]
    assert contents[0].startswith(b"%PDF")
    assert sorted(path.name for path in tmp_path.iterdir()) == [MADE, "zone.typ"]


def test_a_template_that_fails_leaves_no_report(tmp_path):
    (tmp_path / "zone.typ").write_text("#panic()")
    done = typeset(tmp_path)
    assert done.returncode != 0
    assert not (tmp_path / MADE).exists()


def test_no_package_is_fetched(tmp_path):
    (tmp_path / "zone.typ").write_text('#import "@preview/anything:1.0.0": *')
    assert typeset(tmp_path).returncode != 0


def test_memory_and_time_of_the_child_are_limited(tmp_path):
    told = (
        "import resource, sys\n"
        "from pathlib import Path\n"
        "from skinpin.reports import typesetter\n"
        "typesetter.main(Path(sys.argv[1]))\n"
        "for limit in (resource.RLIMIT_AS, resource.RLIMIT_CPU):\n"
        "    print(resource.getrlimit(limit)[0])"
    )
    (tmp_path / "zone.typ").write_text("Zone 111")
    words = [sys.executable, "-c", told, str(tmp_path)]
    done = subprocess.run(words, capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout.split() == [str(MEMORY_BYTES), str(CPU_S)]
    assert resource.getrlimit(resource.RLIMIT_AS)[0] != MEMORY_BYTES
