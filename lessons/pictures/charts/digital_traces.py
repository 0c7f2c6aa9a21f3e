"""Slow strokes of a valve with a digital positioner, one fault each: travel against signal, travel against air."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from matplotlib.figure import Figure

from lessons.pictures.charts.fault_charts import air_grid
from lessons.pictures.charts.traces import share_grid
from lessons.pictures.live.drive.auto_calibration import LEFT_AS, ReportedStroke, digital_stroke
from lessons.pictures.style import BLUE, GREY, VERMILION
from lessons.units.readout import in_trade_unit

SOUND_FRICTION = 150.0  # N; even good packing rubs. Own choice, no source


def faulty_stroke(fault: str, size: float) -> ReportedStroke:
    """Return the stroke with one fault; its size is friction [N], scale [-], supply or shift of bench set [Pa]."""
    match fault:
        case "friction":
            return digital_stroke(size, 0.0, False)
        case "scale":
            return digital_stroke(SOUND_FRICTION, size, True)
        case "supply":
            return digital_stroke(SOUND_FRICTION, 0.0, False, supply=size)
    return digital_stroke(SOUND_FRICTION, 0.0, False, bench_shift=size)


def digital_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw both charts; dotted, how the valve was left last time."""
    figure = Figure(figsize=(7.2, 3.8))
    left, right = figure.add_axes((0.08, 0.14, 0.40, 0.76)), figure.add_axes((0.58, 0.14, 0.40, 0.76))
    run = faulty_stroke(n.fault, n.size)
    dotted: dict[str, Any] = {"color": GREY, "lw": 1.2, "ls": (0, (1, 1.5))}
    share_grid(left, "signal [%]", "travel reported [%]")
    left.plot(run.signal, run.reported, color=VERMILION, lw=1.4)
    left.plot([0, 1], [0, 1], **dotted)
    left.set_title("A  travel against signal", fontsize=10, loc="left")
    unit = "psi" if units == "us" else "bar"
    air_grid(right, LEFT_AS[1] * 1.25, unit, "travel reported [%]")
    right.plot(in_trade_unit(run.pressure_gauge, unit), run.reported, color=BLUE, lw=1.4)
    right.plot(in_trade_unit(LEFT_AS, unit), [0, 1], **dotted)
    right.set_title("B  travel against air", fontsize=10, loc="left")
    return figure
