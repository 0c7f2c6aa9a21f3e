"""A process that waits becomes the kernel of the next lesson: an ordinary one, in its folder, with its variables."""

from __future__ import annotations

import ast
import asyncio
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from jupyter_client.kernelspec import KernelSpec
from jupyter_client.manager import AsyncKernelManager

from lessons.jupyter import spare_kernel
from lessons.jupyter.lesson_page import LAB_SETTINGS
from tests.kernels import copy_kernels

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no spare process is kept on Windows")
SEEN = "__import__('os').getcwd(), __import__('os').environ['JPY_SESSION_NAME'], sorted({'lessons.notebook.calls', 'debugpy.server'} & loaded)"


@pytest.fixture
def factory() -> Iterator[spare_kernel.SpareFactory]:
    spare_kernel.keep_spare()
    made = spare_kernel.SpareFactory.instance()
    yield made
    made.spare.end()
    spare_kernel.SpareFactory.clear_instance()
    copy_kernels()


async def kernel_says(folder: Path) -> tuple[int | None, str]:
    """Start a kernel, ask it where it is and whether it has loaded what lessons use, and end it."""
    manager = AsyncKernelManager(kernel_name="python3")
    manager._kernel_spec = KernelSpec.from_resource_dir(str(LAB_SETTINGS / "kernels/python3"))  # as lessons have it
    await manager.start_kernel(cwd=str(folder), env={**os.environ, "JPY_SESSION_NAME": "my lesson.ipynb"})
    client = manager.client()
    client.start_channels()
    try:
        await client.wait_for_ready(timeout=60)
        assert manager.provisioner
        pid = manager.provisioner.pid
        reply = await client.execute_interactive(
            "loaded = set(__import__('sys').modules)", user_expressions={"seen": SEEN}, timeout=60
        )
        return pid, reply["content"]["user_expressions"]["seen"]["data"]["text/plain"]
    finally:
        client.stop_channels()
        await manager.shutdown_kernel(now=True)


def test_the_waiting_process_becomes_the_kernel(factory: spare_kernel.SpareFactory, tmp_path: Path) -> None:
    waiting = factory.spare.pid
    pid, seen = asyncio.run(kernel_says(tmp_path))
    assert pid == waiting
    assert ast.literal_eval(seen) == (str(tmp_path), "my lesson.ipynb", ["lessons.notebook.calls"])


def test_without_one_a_kernel_starts_as_always(factory: spare_kernel.SpareFactory, tmp_path: Path) -> None:
    waiting = factory.spare.pid
    factory.spare.end()
    pid, seen = asyncio.run(kernel_says(tmp_path))
    assert pid != waiting
    assert ast.literal_eval(seen) == (str(tmp_path), "my lesson.ipynb", [])  # and no debugger, which takes 7 MB
