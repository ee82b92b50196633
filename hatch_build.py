"""Builds the web app into the wheel; an editable install leaves that to run.py."""

import subprocess
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BuildFrontend(BuildHookInterface):  # type: ignore[type-arg,unused-ignore]
    """Runs npm unless the built page is already there."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the page or fail with a sentence that names what is missing."""
        page = Path(self.root, "backend/skinpin/web/static/index.html")
        if version == "editable" or page.exists():
            return
        try:
            for command in (["npm", "ci", "--ignore-scripts"], ["npm", "run", "build"]):
                subprocess.run(command, cwd=self.root, check=True)
        except FileNotFoundError as error:
            raise RuntimeError("Building Skinpin needs Node 20.19 or newer with npm.") from error
