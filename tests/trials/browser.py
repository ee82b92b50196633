"""Runs the browser's part of a trial and hands back what it measured."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent


def browser_part(name: str, **given: str) -> Any:
    """Drive Chromium by `<name>.trial.ts`, which writes one JSON value to `TRIAL_RESULT`."""
    with TemporaryDirectory() as folder:
        result = Path(folder, "result.json")
        words = [str(ROOT / "node_modules/.bin/vitest"), "run", "--mode", "trials"]
        done = subprocess.run(
            [*words, "--config", "vitest.browser.config.ts", f"tests/trials/{name}.trial.ts"],
            cwd=ROOT,
            env={**os.environ, **given, "TRIAL_RESULT": str(result)},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if done.returncode != 0:
            raise RuntimeError(f"The browser's part failed:\n{done.stdout}{done.stderr}")
        return json.loads(result.read_text())
