"""What is missing is installed, or named to somebody who may not install it."""

import pytest

from runs import programs
from runs.refusal import Refused

HERE = ("chromium", "firefox-esr", "WebKitWebDriver", "Xvfb")


def test_missing_programs_are_named_to_somebody_who_may_not_install_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(programs, "is_here", lambda name: name in HERE)
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    named = (
        "missing: python3-gi, gir1.2-webkit2-4.1, poppler-utils, libimage-exiftool-perl, postgresql"
    )
    with pytest.raises(Refused, match=named):
        programs.install_programs()


def test_missing_programs_alone_are_installed_by_root(monkeypatch: pytest.MonkeyPatch) -> None:
    commands: list[tuple[str, ...]] = []
    monkeypatch.setattr(programs, "is_here", lambda name: name != "WebKitWebDriver")
    monkeypatch.setattr("os.geteuid", lambda: 0)
    monkeypatch.setattr("shutil.which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(programs, "must_run", lambda what, *words: commands.append(words))
    programs.install_programs()
    assert commands[0][:2] == ("apt-get", "update")
    assert commands[1][-2:] == ("-y", "webkit2gtk-driver")


def test_what_is_not_on_the_path_is_found_by_its_file() -> None:
    assert programs.is_here("/usr/bin/env*")
    assert not programs.is_here("/usr/bin/no-such-program-*")
    assert programs.is_here("env")
    assert not programs.is_here("no-such-program")
