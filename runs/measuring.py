"""The verb trials: measurements beside a peer, one JSON object a line."""

from __future__ import annotations

from pathlib import Path

from runs.environment import (
    PYTHON,
    ROOT,
    build_page,
    install_node,
    install_python,
    is_fresh,
    must_run,
    run,
    write_stamp,
)

PEERS = ROOT / "tests/trials/peers"


def trials(names: list[str]) -> int:
    """Run the named trials, or all."""
    install_python(for_development=True)
    install_node()
    build_page()
    install_peers()
    return run(PYTHON, "-m", "tests.trials", *names)


def install_peers() -> None:
    """Install the peers, which are no part of Skinpin, into their own folder."""
    inputs = [PEERS / "package.json", PEERS / "package-lock.json"]
    stamp = PEERS / "node_modules" / ".skinpin-stamp"
    if is_fresh(stamp, inputs):
        return
    npm: list[str | Path] = ["npm", "ci", "--ignore-scripts", "--no-progress", "--prefix", PEERS]
    must_run("Installing the peers", *npm)
    write_stamp(stamp, inputs)
