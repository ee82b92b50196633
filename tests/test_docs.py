"""DEVELOPERS.md says what the code has, and the code has what DEVELOPERS.md says."""

from pathlib import Path

import pytest

from tests.rules import documents
from tests.rules.rooms import PYTHON_ROOMS, TYPESCRIPT_ROOMS

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
README = (ROOT / "README.md").read_text("utf-8")
SAFETY = (
    "Workshop record and sorting aid. Not approved repair data. Grades and strength shares do not "
    "release any part or aircraft for flight."
)


def assert_same(code: set[str], told: set[str]) -> None:
    found = documents.differences(code, told)
    assert not found, "\n".join(found)


def test_every_setting_is_documented_and_every_documented_setting_is_read() -> None:
    assert_same(documents.settings_used(ROOT), documents.settings_told(TEXT))


def test_every_error_code_is_documented_and_every_documented_code_is_used() -> None:
    used, told = documents.codes_used(ROOT), documents.codes_told(TEXT)
    assert_same(used, told & used)
    assert documents.only_in_words(told, documents.source_text(ROOT)) == []


def test_every_route_is_documented_and_every_documented_route_is_served() -> None:
    assert_same(documents.routes_served(ROOT), documents.routes_told(TEXT))


def test_every_verb_of_run_py_is_documented() -> None:
    told = documents.verbs_told(TEXT, "python3 run.py ")
    assert_same(documents.verbs_offered(ROOT, "run.py"), told)


def test_every_verb_of_the_installed_command_is_documented() -> None:
    told = documents.verbs_told(TEXT, "skinpin ")
    assert_same(documents.verbs_offered(ROOT, "-m", "skinpin.cli"), told)


def test_every_word_of_the_glossary_is_used() -> None:
    words = documents.glossary(TEXT)
    assert len(words) > 30
    assert documents.unused_words(words, documents.source_text(ROOT)) == []


def test_every_twin_function_of_the_table_exists_in_both_languages() -> None:
    told = documents.twins_told(TEXT)
    assert len(told) > 5
    missing = documents.missing_twins(ROOT, told)
    assert not missing, "\n".join(missing)


def test_every_address_of_a_screen_is_one_that_the_app_knows() -> None:
    routes = (ROOT / "frontend/src/routes.ts").read_text("utf-8")
    told = documents.addresses_told(TEXT)
    assert len(told) > 5
    assert [address for address in told if f"'{address}" not in routes] == []


def test_every_room_of_the_map_exists() -> None:
    table = documents.rows(documents.section(TEXT, "Map of the rooms"))
    names = [name.strip().strip("`") for row in table for name in row[0].split(",")]
    places = ["", "backend/skinpin/"]
    missing = [name for name in names if not any((ROOT / p / name).exists() for p in places)]
    assert len(names) > 12
    assert missing == []


@pytest.mark.parametrize("rooms", [PYTHON_ROOMS, TYPESCRIPT_ROOMS], ids=["python", "typescript"])
def test_the_import_table_says_what_the_import_test_enforces(rooms: dict) -> None:  # type: ignore[type-arg]
    told = documents.import_table(TEXT)
    checked = [name for name in rooms if name in told]
    assert len(checked) >= 7
    for name in checked:
        enforced = rooms[name].may_import & set(rooms) - {"tables"}
        assert enforced == told[name] & set(rooms), name


def test_readme_carries_the_safety_wording_in_full() -> None:
    assert SAFETY in " ".join(README.split()).replace("> ", "")


def test_a_planted_setting_code_and_route_are_found(tmp_path: Path) -> None:
    web = tmp_path / "backend/skinpin/web"
    web.mkdir(parents=True)
    (web / "x.py").write_text(
        "import os\nos.environ['SKINPIN_PLANTED']\nraise Refused('planted_code', 'x')\n"
        "@router.put('/api/planted/{name:path}')\ndef put(): ...\n"
    )
    assert documents.settings_used(tmp_path) == {"SKINPIN_PLANTED"}
    assert documents.codes_used(tmp_path) == {"planted_code"}
    assert documents.routes_served(tmp_path) == {"PUT /api/planted/{}"}


def test_a_word_that_nobody_uses_is_found_in_every_spelling_but_its_own() -> None:
    words = ["standing value", "strake", "zone"]
    assert documents.unused_words(words, "standing_values StandingValue strakes") == ["zone"]
    assert documents.unused_words(words, "outstanding values, ozone") == words


def test_a_twin_that_one_language_lacks_is_found(tmp_path: Path) -> None:
    for folder, name, text in (
        ("backend/skinpin/domain", "x.py", "def to_words(a): ...\ndef step_bay(): ...\n"),
        ("frontend/src/domain", "x.ts", "export function toWords(a: string) {}\n"),
    ):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / name).write_text(text)
    told = {"domain/x": ["to_words", "step_bay"]}
    assert documents.missing_twins(tmp_path, told) == ["frontend/src/domain/x.ts: stepBay"]
