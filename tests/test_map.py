"""Imports obey the table of DEVELOPERS.md; planted violations show that the test can fail."""

from pathlib import Path

import pytest

from tests.rules import python_imports, typescript_imports

ROOT = Path(__file__).resolve().parent.parent

PLANTED_PYTHON = [
    ("backend/skinpin/domain/x.py", "from skinpin.services import y", "(domain) imports"),
    ("backend/skinpin/domain/x.py", "from ..storage.books import z", "(domain) imports"),
    ("backend/skinpin/domain/x.py", "import os.path", "reaches outside"),
    ("backend/skinpin/domain/x.py", "import fastapi", "the library fastapi"),
    ("backend/skinpin/domain/x.py", "from datetime import date\ndate.today()", "calls today()"),
    ("backend/skinpin/domain/x.py", "open('a')", "calls open()"),
    ("sync/python/skinpin_sync/x.py", "from skinpin.domain import y", "(sync) imports"),
    ("sync/python/skinpin_sync/x.py", "import numpy", "the library numpy"),
    ("backend/skinpin/web/x.py", "from skinpin.storage.books import z", "(web) imports"),
    ("backend/skinpin/web/x.py", "def late():\n    from skinpin import storage", "(web) imports"),
    ("backend/skinpin/services/x.py", "import skinpin.web.routes", "(services) imports"),
    ("backend/skinpin/reports/x.py", "from skinpin.storage import books", "(reports) imports"),
    ("backend/skinpin/web/x.py", "from skinpin.app import build", "(web) imports"),
    ("backend/skinpin/drawer/x.py", "import json\nimport skinpin.domain", "in no room"),
    ("runs/x.py", "import fastapi", "the library fastapi"),
]
PLANTED_TYPESCRIPT = [
    ("frontend/src/domain/x.ts", "import { y } from '../services/y';", "(domain) imports"),
    ("frontend/src/domain/x.ts", "export * from '../storage/y';", "(domain) imports"),
    ("frontend/src/domain/x.ts", "const at = Date.now();", "uses Date.now"),
    ("frontend/src/domain/x.ts", "import { openDB } from 'idb';", "the library idb"),
    ("frontend/src/screens/book/x.tsx", "import y from '../../storage/y';", "(screens) imports"),
    ("frontend/src/screens/x.tsx", "const y = await import('../storage/y');", "(screens) imports"),
    ("frontend/src/furniture/x.tsx", "import '../services/y';", "(furniture) imports"),
    ("frontend/src/offline/x.ts", "import {\n  y,\n} from '../domain/y';", "(offline) imports"),
    ("frontend/src/services/x.ts", "import { h } from 'preact';", "the library preact"),
    ("sync/typescript/x.ts", "import { y } from '../../frontend/src/domain/y';", "(sync) imports"),
    ("sync/typescript/x.ts", "import moves from '@tables/moves.json';", "(sync) imports"),
    ("frontend/src/drawer/x.ts", "import '../domain/y';", "in no room"),
]


def plant(root: Path, name: str, text: str) -> None:
    """Write one file of a made-up tree, with modules for it to import."""
    for module in ("storage/books", "services/y", "web/routes", "domain/y", "app"):
        file = root / f"backend/skinpin/{module}.py"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("")
    (root / name).parent.mkdir(parents=True, exist_ok=True)
    (root / name).write_text(text)


def test_python_imports_obey_the_map() -> None:
    assert python_imports.find_violations(ROOT) == []


def test_typescript_imports_obey_the_map() -> None:
    assert typescript_imports.find_violations(ROOT) == []


def test_both_languages_have_files_to_check() -> None:
    assert len(list(python_imports.python_files(ROOT))) > 20
    assert len(list(typescript_imports.typescript_files(ROOT))) > 20


@pytest.mark.parametrize(("name", "text", "words"), PLANTED_PYTHON)
def test_a_planted_python_violation_is_named(
    tmp_path: Path, name: str, text: str, words: str
) -> None:
    plant(tmp_path, name, text)
    found = python_imports.find_violations(tmp_path)
    assert len(found) == 1
    assert name in found[0]
    assert words in found[0]


@pytest.mark.parametrize(("name", "text", "words"), PLANTED_TYPESCRIPT)
def test_a_planted_typescript_violation_is_named(
    tmp_path: Path, name: str, text: str, words: str
) -> None:
    plant(tmp_path, name, text)
    found = typescript_imports.find_violations(tmp_path)
    assert len(found) == 1
    assert name in found[0]
    assert words in found[0]


def test_allowed_imports_of_both_languages_pass(tmp_path: Path) -> None:
    plant(
        tmp_path,
        "backend/skinpin/services/x.py",
        "import os\nimport orjson\nfrom skinpin.storage import books\nfrom ..domain.y import z\n",
    )
    plant(
        tmp_path,
        "frontend/src/services/x.ts",
        "import { openBook } from '../storage/books';\nimport { tick } from '@sync/clock';\n"
        "import type { Row } from '../domain/rows';\n// import '../screens/y';\n",
    )
    assert python_imports.find_violations(tmp_path) == []
    assert typescript_imports.find_violations(tmp_path) == []
