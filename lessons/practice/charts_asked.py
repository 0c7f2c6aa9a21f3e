"""The charts of questions, named here and loaded only when one is drawn: questions are read without matplotlib."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from types import SimpleNamespace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def chart_of(name: str) -> Callable[[SimpleNamespace, str], Figure]:
    """Return what draws a chart of `lessons/pictures/charts` from a variant's numbers: "module.function"."""
    module, _, function = name.partition(".")

    def figure(n: SimpleNamespace, units: str) -> Figure:
        drawn: Figure = getattr(import_module(f"lessons.pictures.charts.{module}"), function)(n, units)
        return drawn

    return figure
