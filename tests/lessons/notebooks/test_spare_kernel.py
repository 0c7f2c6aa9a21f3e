"""A process that waits becomes the kernel of the next lesson: an ordinary one, in its folder, with its variables."""

from __future__ import annotations

import ast
import asyncio
import os
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import psutil
import pytest
from jupyter_client.kernelspec import KernelSpec
from jupyter_client.manager import AsyncKernelManager

from lessons.jupyter import spare_kernel
from lessons.jupyter.lesson_page import LAB_SETTINGS
from lessons.jupyter.spare_process import COPIES
from tests.kernels import copy_kernels

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no spare process is kept on Windows")
SEEN = "__import__('os').getcwd(), __import__('os').environ['JPY_SESSION_NAME'], sorted({'lessons.notebook.calls', 'debugpy.server'} & loaded)"


@pytest.fixture
def factory() -> Iterator[spare_kernel.SpareFactory]:
    spare_kernel.SpareFactory.clear_instance()  # that of all other tests
    spare_kernel.keep_spare()
    made = spare_kernel.SpareFactory.instance()
    yield made
    made.spare.end()
    spare_kernel.SpareFactory.clear_instance()
    copy_kernels()


def wait_for(true: Callable[[], bool]) -> None:
    for _ in range(300):
        if true():
            return
        time.sleep(0.1)
    raise AssertionError("waited in vain")


async def kernel_says(folder: Path) -> tuple[int | None, str]:
    """Start a kernel, ask it where it is and whether it has loaded what lessons use, and end it; and whose copy it is."""
    manager = AsyncKernelManager(kernel_name="python3")
    manager._kernel_spec = KernelSpec.from_resource_dir(str(LAB_SETTINGS / "kernels/python3"))  # as lessons have it
    await manager.start_kernel(cwd=str(folder), env={**os.environ, "JPY_SESSION_NAME": "my lesson.ipynb"})
    client = manager.client()
    client.start_channels()
    try:
        await client.wait_for_ready(timeout=60)
        assert manager.provisioner
        pid = manager.provisioner.pid
        first = psutil.Process(pid).ppid() if COPIES else pid
        reply = await client.execute_interactive(
            "loaded = set(__import__('sys').modules)", user_expressions={"seen": SEEN}, timeout=60
        )
        return first, reply["content"]["user_expressions"]["seen"]["data"]["text/plain"]
    finally:
        client.stop_channels()
        await manager.shutdown_kernel(now=True)


def test_the_waiting_process_becomes_the_kernel(factory: spare_kernel.SpareFactory, tmp_path: Path) -> None:
    waiting = factory.spare.pid
    first, seen = asyncio.run(kernel_says(tmp_path))
    assert first == waiting
    assert ast.literal_eval(seen) == (str(tmp_path), "my lesson.ipynb", ["lessons.notebook.calls"])


@pytest.mark.skipif(not COPIES, reason="the process itself becomes the kernel")
def test_one_waiting_process_serves_every_lesson_and_none_outlives_it(
    factory: spare_kernel.SpareFactory, tmp_path: Path
) -> None:
    waiting = factory.spare.pid
    files = [tmp_path / "one.json", tmp_path / "other.json"]
    kernels = [factory.spare.become(["-f", str(file)], str(tmp_path), dict(os.environ)) for file in files]
    wait_for(lambda: all(file.exists() for file in files))  # each writes down how it is reached
    assert all(each and each.poll() is None for each in kernels)
    assert factory.spare.pid == waiting
    one, other = [psutil.Process(each.pid) for each in kernels if each]
    assert [one.ppid(), other.ppid()] == [waiting, waiting]
    assert os.getpgid(one.pid) == one.pid  # a signal for one is for no other
    assert kernels[0]
    kernels[0].kill()
    gone, _ = psutil.wait_procs([one], timeout=20)
    assert gone == [one]
    assert kernels[0].poll() == 0  # it does not stay behind as a process that has ended
    factory.spare.end()
    gone, _ = psutil.wait_procs([other], timeout=20)
    assert gone == [other], "when the server ends, so does the kernel"


def test_without_one_a_kernel_starts_as_always(factory: spare_kernel.SpareFactory, tmp_path: Path) -> None:
    waiting = factory.spare.pid
    factory.spare.end()
    first, seen = asyncio.run(kernel_says(tmp_path))
    assert first != waiting
    assert ast.literal_eval(seen) == (str(tmp_path), "my lesson.ipynb", [])  # and no debugger, which takes 7 MB
