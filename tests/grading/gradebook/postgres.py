"""A PostgreSQL server of a test's own (Debian's package), on loopback, gone at the end."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.ports import free_port

PROGRAMS = max(Path("/usr/lib/postgresql").glob("*/bin"), default=Path("/nowhere"))


def skip_without_postgres() -> None:
    pytest.importorskip("psycopg", reason="the driver psycopg is not installed", exc_type=ImportError)
    if not (PROGRAMS / "initdb").exists():
        pytest.skip("Debian's package postgresql is not installed")


@contextlib.contextmanager
def running_postgres(password: str = "") -> Iterator[str]:
    """Start a server and give its URL; without a password it lets everybody on this machine in."""
    folder, port = Path("/tmp") / f"pg-{os.getpid()}", free_port()  # noqa: S108 - a socket's path must be short
    folder.mkdir(mode=0o700)
    (folder / "password").write_text(password)
    as_user = ["runuser", "-u", "postgres", "--"] if os.getuid() == 0 else []
    if as_user:
        shutil.chown(folder, "postgres")
        shutil.chown(folder / "password", "postgres")
    quiet: dict[str, Any] = {"check": True, "stdout": subprocess.DEVNULL, "cwd": "/"}
    asked = ["-A", "scram-sha-256", "--pwfile", f"{folder}/password"] if password else ["-A", "trust"]
    try:
        make = [str(PROGRAMS / "initdb"), "-D", f"{folder}/data", *asked, "-U", "teacher", "--no-sync"]
        subprocess.run([*as_user, *make], **quiet)
        control = [*as_user, str(PROGRAMS / "pg_ctl"), "-D", f"{folder}/data", "-w"]
        options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1"
        subprocess.run([*control, "-l", f"{folder}/log", "-o", options, "start"], **quiet)
        try:
            who = f"teacher:{password}" if password else "teacher"
            yield f"postgresql+psycopg://{who}@127.0.0.1:{port}/postgres"
        finally:
            # It may be gone already: the benchmark of the hub kills it.
            subprocess.run([*control, "-m", "immediate", "stop"], **{**quiet, "check": False})
    finally:
        shutil.rmtree(folder)
