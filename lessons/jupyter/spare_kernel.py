"""Keeps one process ready for JupyterLab's server, so that a lesson does not wait until its kernel has loaded.

The kernel itself is an ordinary one: it gets its folder, variables and connection file as always, and is ended and
started again as always. Where there is no spare process, one is started as if this module were not there.
"""

from __future__ import annotations

import asyncio
import functools
import json
import os
import select
import signal
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

from jupyter_client.provisioning.factory import KernelProvisionerFactory
from jupyter_client.provisioning.local_provisioner import LocalProvisioner
from jupyter_client.provisioning.provisioner_base import KernelProvisionerBase

from lessons.jupyter.lesson_page import LAB_SETTINGS
from lessons.jupyter.spare_process import COPIES

_AFTER = 10  # s; until then the processor belongs to the lesson that was opened


class Copy:
    """A kernel's process, seen as `subprocess.Popen` shows one; it is a child of the process it was copied from."""

    stdin = stdout = stderr = None
    returncode: int | None = None

    def __init__(self, pid: int) -> None:
        self.pid = pid
        self._seen_as = os.pidfd_open(pid)
        self._ended = select.poll()
        self._ended.register(self._seen_as, select.POLLIN)

    def poll(self) -> int | None:
        """Return 0 if it has ended; how it ended, only its parent knows."""
        if self.returncode is None and self._ended.poll(0):
            self.returncode = 0
            os.close(self._seen_as)
        return self.returncode

    def wait(self) -> int:
        """Return at once: whoever waits has polled until it ended."""
        return 0

    def send_signal(self, number: int) -> None:
        """Send it a signal."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """End it at once."""
        self.send_signal(signal.SIGKILL)

    def terminate(self) -> None:
        """Ask it to end."""
        self.send_signal(signal.SIGTERM)


class Spare:
    """The one process that waits, if one does."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._started_in = str(Path.cwd())
        self._one_at_a_time = threading.Lock()

    def start(self) -> None:
        """Start a process that gets ready, unless there is one."""
        if self._process is None or self._process.poll() is not None:
            command = [sys.executable, "-m", "lessons.jupyter.spare_process"]
            env = os.environ | {"JPY_PARENT_PID": str(os.getpid())}  # read when the kernel's module is loaded
            self._process = subprocess.Popen(  # noqa: S603 - our own module
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE if COPIES else None,
                cwd=self._started_in,
                env=env,
                start_new_session=True,
            )

    @property
    def pid(self) -> int | None:
        """The number of the process that waits; None if none does."""
        return self._process.pid if self._process else None

    def end(self) -> None:
        """End the process that waits: it stops when its input does."""
        process, self._process = self._process, None
        if process is not None:
            process.communicate()

    def become(self, arguments: list[str], cwd: str, env: dict[str, str]) -> subprocess.Popen[bytes] | Copy | None:
        """Make the waiting process, or a copy of it, a kernel and return it; None if none is there."""
        told = {"arguments": arguments, "cwd": cwd, "env": env, "started_in": self._started_in}
        with self._one_at_a_time:
            process = self._process
            if process is None or process.stdin is None or process.poll() is not None:
                return None
            try:
                process.stdin.write(json.dumps(told).encode() + b"\n")
                process.stdin.flush()
                if process.stdout is not None:
                    return Copy(int(process.stdout.readline()))
                process.stdin.close()
            except (OSError, ValueError):  # it has just ended
                return None
            self._process = None
            return process


class FromSpare(LocalProvisioner):
    """Starts a kernel as usual, but in the process that waits, if there is one."""

    spare: Spare

    async def launch_kernel(self, cmd: list[str], **kwargs: Any) -> Any:
        """Launch a kernel; see `LocalProvisioner`."""
        cwd, env = str(kwargs.get("cwd") or Path.cwd()), kwargs.get("env") or dict(os.environ)
        process = await asyncio.to_thread(self.spare.become, cmd[3:], cwd, env) if _is_ours(cmd) else None
        asyncio.get_running_loop().call_later(_AFTER, self.spare.start)
        if process is None:
            return await super().launch_kernel(cmd, **kwargs)
        self.process: Any = process
        self.pid, self.pgid, self.cwd = process.pid, process.pid, cwd
        return self.connection_info


class SpareFactory(KernelProvisionerFactory):
    """Gives every kernel of this Python its share in the spare process."""

    spare: Spare

    def create_provisioner_instance(self, kernel_id: str, kernel_spec: Any, parent: Any) -> KernelProvisionerBase:
        """Return what starts a kernel; see `KernelProvisionerFactory`."""
        usual = super().create_provisioner_instance(kernel_id, kernel_spec, parent)
        if type(usual) is not LocalProvisioner:
            return usual
        provisioner = FromSpare(kernel_id=kernel_id, kernel_spec=kernel_spec, parent=parent)
        provisioner.spare = self.spare
        return provisioner


def keep_spare() -> None:
    """Start the first spare process, and have the kernels of this server use one from now on."""
    if sys.platform == "win32":  # there a kernel is interrupted by a handle it has to inherit at its start
        return
    KernelProvisionerFactory.clear_instance()  # there may be one that started no kernel yet
    factory = SpareFactory.instance()  # the one that the library finds from now on
    factory.spare = Spare()
    factory.spare.start()


def _is_ours(command: list[str]) -> bool:
    return command[:1] == [sys.executable] and command[1:3] in (["-m", "ipykernel_launcher"], _kernel_of_lessons())


@functools.cache
def _kernel_of_lessons() -> list[str]:
    """Return how a kernel of lessons starts, behind the name of Python."""
    argv: list[str] = json.loads((LAB_SETTINGS / "kernels/python3/kernel.json").read_text(encoding="utf-8"))["argv"]
    return argv[1:3]
