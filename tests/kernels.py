"""Kernels for tests, copied from one process that has loaded what lessons use: loading takes longer than a lesson runs.

A plugin of pytest, that also holds each cell of a lesson to more than that it runs. The kernels are like
any other, in a process of their own, with their own folder, variables and connection file. How one starts without a
process that waits, `test_spare_kernel` sees.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jupyter_client.provisioning.factory import KernelProvisionerFactory
from jupyter_client.provisioning.local_provisioner import LocalProvisioner
from jupyter_client.provisioning.provisioner_base import KernelProvisionerBase
from nbval.plugin import IPyNbCell

ROOT = str(Path(__file__).parent.parent)


class Copy:
    """A kernel's process, seen as `subprocess.Popen` shows one; it is a child of the process it was copied from."""

    stdin = stdout = stderr = None
    returncode: int | None = None

    def __init__(self, pid: int) -> None:
        self.pid = pid

    def poll(self) -> int | None:
        """Return 0 if it has ended; how it ended, only its parent knows."""
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.pid, 0)
            return None
        self.returncode = 0
        return 0

    def wait(self) -> int:
        """Return at once: whoever waits has polled until it ended."""
        return 0

    def send_signal(self, number: int) -> None:
        """Send it a signal."""
        os.kill(self.pid, number)

    def kill(self) -> None:
        """End it at once."""
        self.send_signal(signal.SIGKILL)

    def terminate(self) -> None:
        """Ask it to end."""
        self.send_signal(signal.SIGTERM)


class Copied(LocalProvisioner):
    """Starts a kernel as usual, but as a copy."""

    async def launch_kernel(self, cmd: list[str], **kwargs: Any) -> Any:
        """Launch a kernel; see `LocalProvisioner`."""
        if cmd[:3] != [sys.executable, "-m", "ipykernel_launcher"]:
            return await super().launch_kernel(cmd, **kwargs)
        cwd, env = str(kwargs.get("cwd") or Path.cwd()), dict(kwargs.get("env") or os.environ)
        self.pid = self.pgid = copy({"arguments": cmd[3:], "cwd": cwd, "env": env})
        self.process, self.cwd = Copy(self.pid), cwd
        return self.connection_info


class CopyingFactory(KernelProvisionerFactory):
    """Gives every kernel of this Python a process that is a copy."""

    def create_provisioner_instance(self, kernel_id: str, kernel_spec: Any, parent: Any) -> KernelProvisionerBase:
        """Return what starts a kernel; see `KernelProvisionerFactory`."""
        usual = super().create_provisioner_instance(kernel_id, kernel_spec, parent)
        if type(usual) is not LocalProvisioner:
            return usual
        return Copied(kernel_id=kernel_id, kernel_spec=kernel_spec, parent=parent)


def copy_kernels() -> None:
    """Have the kernels of this process be copies from now on, where processes can be copied."""
    if hasattr(os, "fork"):
        for factory in (CopyingFactory, KernelProvisionerFactory):  # each class keeps the one it was asked for
            factory.clear_instance()
        CopyingFactory.instance()


def pytest_configure() -> None:
    """Begin before the first kernel starts."""
    copy_kernels()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Iterator[None]:
    """Run a cell of a lesson: no word on stderr, and nothing said to a blank answer."""
    yield
    if isinstance(item, IPyNbCell):
        said = [str(out) for out in item.test_outputs if out.output_type in ("error", "stream")]
        assert "LESSONS_MARKER" not in os.environ
        assert not said, f"said beside what it shows: {said}"
        blank = item.cell.source.startswith("%%answer")
        assert not (blank and item.test_outputs), f"said to a blank answer: {item.test_outputs}"


def pytest_unconfigure() -> None:
    """Let the process that waits end."""
    if _original.cache_info().currsize:
        process = _original()
        assert process.stdin
        process.stdin.close()
        process.wait()


def copy(told: dict[str, Any]) -> int:
    """Copy the process that waits, tell the copy which kernel to become, and return its number."""
    process = _original()
    assert process.stdin
    assert process.stdout
    process.stdin.write(json.dumps(told).encode() + b"\n")
    process.stdin.flush()
    return int(process.stdout.readline())


@cache
def _original() -> subprocess.Popen[bytes]:
    """Start the process that waits; it ends when its input does, that is, with this process."""
    command = [sys.executable, "-m", "tests.kernels"]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT)


def main() -> None:
    """Load what lessons use, then copy this process for each line that comes."""
    from lessons.jupyter import spare_process  # here, where nobody waits for it but the copies

    os.environ["JPY_PARENT_PID"] = str(os.getpid())  # read when the kernel's module is loaded: with me they end
    spare_process.get_ready()
    signal.signal(signal.SIGCHLD, _see_off)
    for line in sys.stdin:
        pid = os.fork()
        if not pid:
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            os.setsid()
            os.dup2(2, 1)  # what it says is not for the one that counts copies
            spare_process.become({**json.loads(line), "started_in": ROOT})
            os._exit(0)
        print(pid, flush=True)


def _see_off(*_: object) -> None:
    with contextlib.suppress(ChildProcessError):
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass


if __name__ == "__main__":
    main()
