"""A valve's data sheet, in the form Ostrel Point uses, beside the plate of a valve that lies in the store."""

from __future__ import annotations

from collections.abc import Callable, Collection
from types import SimpleNamespace
from typing import NamedTuple

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, FancyBboxPatch, Rectangle

from lessons.refinery import VALVES, drive_of
from lessons.refinery.build import BUILDS
from lessons.units.quantities import Q, shown

NOMINAL = {40: "1½", 50: "2", 80: "3", 100: "4", 150: "6"}  # DN and size in inches
WITHOUT_AIR = {"open": "opens: air to close", "closed": "shuts: air to open"}
PAPER, METAL = "#FFFDF4", "#D9DDE1"


class Facts(NamedTuple):
    """What sheet and plate say of one valve, in words, with trade units of one set."""

    size: str
    metal: str
    pressure_class: str
    kv: str
    characteristic: str
    travel: str
    action: str
    bench: str
    air: str
    flow: str


# What may be wrong with a valve from the store: field -> the valve's own word -> the other one.
_OTHER_SIZE = {40: 50, 50: 80, 80: 50, 100: 80}
_OTHER_METAL = {"carbon steel": "316 stainless steel", "316 stainless steel": "carbon steel"}
_OTHER_CLASS = {"150": "300", "300": "150"}
_OTHER_KIND = {"equal percentage": "linear", "linear": "equal percentage", "quick opening": "linear"}
_SMALLER_TRIM = 0.625  # the next smaller trim of an invented maker


def _say(q: Q, units: str) -> str:
    return str(shown(q, units))


def _range(low: Q, high: Q, units: str) -> str:
    first, last = shown(low, units), shown(high, units)
    return f"{first.value:g} to {last}"


def size_of(tag: str) -> str:
    """Return the size of a valve as its plate says it.

    >>> size_of("FV-1204")
    'DN 40 (1½ in)'
    """
    return _size(round(VALVES[tag].size.value))


def _size(dn: int) -> str:
    return f"DN {dn} ({NOMINAL[dn]} in)"


def facts_of(tag: str, units: str) -> Facts:
    """Return what the sheet of a valve asks for."""
    valve, build, drive = VALVES[tag], BUILDS[tag], drive_of(tag)
    return Facts(
        size=f"{size_of(tag)}, {valve.body}",
        metal=build.material,
        pressure_class=build.pressure_class,
        kv=_say(valve.rated_kv, units),
        characteristic=valve.characteristic,
        travel=_say(drive.travel, units),
        action=WITHOUT_AIR[valve.fails],
        bench=_range(drive.bench_low, drive.bench_high, units),
        air=_say(drive.supply, units),
        flow=f"to {drive.flow_to}",
    )


def _other_bench(tag: str, units: str) -> str:
    drive = drive_of(tag)
    low = 0.2 if drive.bench_low.value > 0.3 else 0.6
    return _range(Q(low, "bar"), Q(low + 0.8, "bar"), units)


# Field -> what a plate says that does not agree with the sheet.
SWAPS: dict[str, Callable[[str, str], str]] = {
    "size": lambda tag, _: f"{_size(_OTHER_SIZE[round(VALVES[tag].size.value)])}, {VALVES[tag].body}",
    "metal": lambda tag, _: _OTHER_METAL[BUILDS[tag].material],
    "pressure_class": lambda tag, _: _OTHER_CLASS[BUILDS[tag].pressure_class],
    "kv": lambda tag, units: _say(Q(VALVES[tag].rated_kv.value * _SMALLER_TRIM, "Kv"), units),
    "characteristic": lambda tag, _: _OTHER_KIND[VALVES[tag].characteristic],
    "action": lambda tag, _: WITHOUT_AIR[{"open": "closed", "closed": "open"}[VALVES[tag].fails]],
    "bench": _other_bench,
}


def plate_of(tag: str, units: str, wrong: Collection[str]) -> Facts:
    """Return what the plate of the store's valve says, with some fields that do not agree with the sheet."""
    facts = facts_of(tag, units)
    return facts._replace(**{field: SWAPS[field](tag, units) for field in wrong})


def _sheet_rows(tag: str, units: str) -> list[tuple[str, str]]:
    valve, build, facts = VALVES[tag], BUILDS[tag], facts_of(tag, units)
    pressure, temperature = (shown(q, units) for q in build.design)
    return [
        ("tag", tag),
        ("service", valve.service),
        ("fluid", valve.fluid.name),
        ("size and body", facts.size),
        ("body metal", facts.metal),
        ("class, ends", f"{facts.pressure_class}, {build.ends}"),
        ("at most", f"{pressure} at {temperature}"),
        ("trim", f"{facts.kv}, {facts.characteristic}"),
        ("travel", facts.travel),
        ("leakage class", build.leakage_class),
        ("without air", facts.action),
        ("bench set", facts.bench),
        ("air supply", facts.air),
        ("packing, bonnet", f"{build.packing}, {build.bonnet}"),
        ("flow", facts.flow),
    ]


def sheet_and_plate(tag: str, units: str, wrong: Collection[str]) -> Figure:
    """Draw the sheet of a valve beside the plate of one from the store."""
    figure = Figure(figsize=(7.2, 4.1))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 7.2), ylim=(0, 4.1))
    axes.set_axis_off()
    _draw_sheet(axes, _sheet_rows(tag, units))
    _draw_plate(axes, plate_of(tag, units, wrong))
    return figure


def held_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw sheet and plate for a question: its tag, and what does not agree, with commas between."""
    return sheet_and_plate(n.tag, units, [field for field in n.wrong.split(", ") if field])


def _draw_sheet(axes: Axes, rows: list[tuple[str, str]]) -> None:
    left, right, top, line = 0.1, 4.35, 3.68, 0.238
    axes.add_patch(Rectangle((left, 0.06), right - left, 3.96, fc=PAPER, ec="black", lw=1.1))
    axes.text(
        (left + right) / 2, 3.85, "Ostrel Point · valve sheet", fontsize=9.5, weight="bold", ha="center", va="center"
    )
    for k, (name, value) in enumerate(rows):
        y = top - line * k
        axes.plot([left, right], [y, y], color="#888888", lw=0.6)
        axes.text(left + 0.3, y - line / 2, str(k + 1), fontsize=8, ha="right", va="center", color="#555555")
        axes.text(left + 0.42, y - line / 2, name, fontsize=8.5, va="center")
        axes.text(left + 1.55, y - line / 2, value, fontsize=8.5, va="center", weight="bold")


def _draw_plate(axes: Axes, facts: Facts) -> None:
    left, right, low, high = 4.62, 7.02, 0.5, 3.55
    axes.text((left + right) / 2, 3.85, "on the valve in the store", fontsize=9.5, ha="center", va="center")
    box = FancyBboxPatch((left, low), right - left, high - low, boxstyle="round,pad=0.04", fc=METAL, ec="black", lw=1.3)
    axes.add_patch(box)
    for x in (left + 0.08, right - 0.08):
        for y in (low + 0.08, high - 0.08):
            axes.add_patch(Circle((x, y), 0.05, fc="#888888", ec="black", lw=0.7))
    size, body = facts.size.split(", ", 1)
    rows = [
        ("SIZE", size),
        ("BODY", body),
        ("METAL", facts.metal),
        ("CLASS", facts.pressure_class),
        ("TRIM", facts.kv),
        ("", facts.characteristic),
        ("TRAVEL", facts.travel),
        ("NO AIR", facts.action),
        ("BENCH SET", facts.bench),
        ("FLOW", facts.flow),
    ]
    for k, (name, value) in enumerate(rows):
        y = high - 0.3 - 0.275 * k
        axes.text(left + 0.1, y, name, fontsize=8, va="center", color="#333333")
        axes.text(left + 0.82, y, value, fontsize=8, va="center", weight="bold", family="monospace")
