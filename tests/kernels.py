"""Kernels for tests, copied from one process that has loaded what lessons use: loading takes longer than a lesson runs.

A plugin of pytest, that also holds each cell of a lesson to more than that it runs. The kernels are like
any other, in a process of their own, with their own folder, variables and connection file. How one starts without a
process that waits, `test_spare_kernel` sees.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from jupyter_client.provisioning.factory import KernelProvisionerFactory
from nbval.plugin import IPyNbCell


def copy_kernels() -> None:
    """Have the kernels of this process be copies from now on, where processes can be copied."""
    from lessons.jupyter.spare_kernel import COPIES, SpareFactory  # here, so that what is reached of it is counted

    if COPIES:
        for factory in (SpareFactory, KernelProvisionerFactory):  # each class keeps the one it was asked for
            factory.clear_instance()
        SpareFactory.instance().spare = _waiting()


@cache
def _waiting() -> Any:
    from lessons.jupyter.spare_kernel import Spare  # as above

    class FromTheFirst(Spare):
        """Starts with the first kernel, for many tests need none."""

        def become(self, *told: Any) -> Any:
            self.start()
            return super().become(*told)

    return FromTheFirst()


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
    """Let the process that waits end, if one does."""
    _waiting().end()
