"""A throw-away PostgreSQL cluster, never run as root, never open to another machine."""

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

OWNER = "postgres"
MISSING = (
    "PostgreSQL's initdb and pg_ctl were not found: install the Debian package 'postgresql' "
    "(apt-get install postgresql)."
)


def programs() -> Path:
    """Return the folder of initdb and pg_ctl, or fail with the name of the package to install."""
    on_path = shutil.which("initdb")
    folders = [Path(on_path).parent] if on_path else []
    folders += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    for folder in folders:
        if (folder / "initdb").exists() and (folder / "pg_ctl").exists():
            return folder
    raise RuntimeError(MISSING)


@contextmanager
def cluster() -> Iterator[str]:
    """Run a cluster and hand over its SQLAlchemy address without a database name."""
    folder, port = Path(tempfile.mkdtemp(prefix="skinpin-pg-")), free_port()
    folder.chmod(0o700)
    if os.geteuid() == 0:
        shutil.chown(folder, OWNER, OWNER)
    bin_folder, data = programs(), folder / "data"
    try:
        run(bin_folder / "initdb", "-D", data, "-U", OWNER, "-A", "trust", "-E", "UTF8",
            "--locale", "C.UTF-8", "--no-sync")  # fmt: skip
        options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c fsync=off"
        run(bin_folder / "pg_ctl", "-D", data, "-l", folder / "log", "-w", "-o", options, "start")
        try:
            yield f"postgresql+psycopg://{OWNER}@127.0.0.1:{port}"
        finally:
            run(bin_folder / "pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def run(*words: object) -> None:
    """Run one of PostgreSQL's programs as its own user, and tell what it said if it fails."""
    command = [str(word) for word in words]
    if os.geteuid() == 0:
        command = ["runuser", "-u", OWNER, "--", *command]
    done = subprocess.run(command, cwd="/", stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          stdin=subprocess.DEVNULL, text=True, timeout=60)  # fmt: skip
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(command)} failed:\n{done.stdout}")


def free_port() -> int:
    """Return a port that is free now."""
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port: int = probe.getsockname()[1]
        return port
