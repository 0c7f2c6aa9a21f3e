"""Stroke and step tests: the signal to test with, and a simulated valve, sound or faulty, that answers it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.actuator import Actuator, spring_actuator
from valvecalc.checks import Floats, in_range, numbers, positive
from valvecalc.force_balance import free_travel
from valvecalc.stiction import CREEP, Stem, backlash, stem_step


class Faults(NamedTuple):
    """What is wrong with a valve; by default nothing. Arrays stand for many valves.

    `friction` [N] is that at rest and `sliding_ratio` [-] the part of it left in motion; `backlash_gap` [-]
    is play between the stem, which the positioner sees, and the plug, which is recorded; the signal is as
    `zero_error` + (1 + `span_error`) signal [-]; `air_leak` [-] is the leak over what the supply can pass;
    `seat_travel` [-] is where the plug meets the seat, below 0 worn, above 0 dirt on it; `seat_softness` [-]
    how far a damaged seat lets it on, over what a free stem would make. A wrong bench set goes into the
    actuator.
    """

    friction: ArrayLike = 0.0
    sliding_ratio: ArrayLike = 1.0
    backlash_gap: ArrayLike = 0.0
    zero_error: ArrayLike = 0.0
    span_error: ArrayLike = 0.0
    air_leak: ArrayLike = 0.0
    seat_travel: ArrayLike = 0.0
    seat_softness: ArrayLike = 0.0


class StrokeTrace(NamedTuple):
    """A recorded test: time [s], signal [-], actuator pressure [Pa gauge], travel [-]; time goes last."""

    time: Floats
    signal: Floats
    pressure_gauge: Floats
    travel: Floats


SOUND = Faults()
_LIMITS = {
    "friction": (0.0, np.inf, "N"),
    "sliding_ratio": (0.0, 1.0, "-"),
    "backlash_gap": (0.0, 1.0, "-"),
    "zero_error": (-1.0, 1.0, "-"),
    "span_error": (-0.9, 9.0, "-"),
    "air_leak": (0.0, np.inf, "-"),
    "seat_travel": (-0.5, 0.5, "-"),
    "seat_softness": (0.0, 1.0, "-"),
    "positioner_gain": (1.0, np.inf, "-"),
    "signal_low": (0.0, np.inf, "Pa gauge"),
}


def ramp_signal(duration: float, interval: float, low: float = 0.0, high: float = 1.0) -> tuple[Floats, Floats]:
    """Signal of a stroke test: up at a steady rate and down again.

    Parameters
    ----------
    duration : float
        Time for up and down together [s].
    interval : float
        Time between samples [s].
    low, high : float
        Ends of the signal [-]; a little outside 0 and 1 presses the plug on its stops.

    Returns
    -------
    tuple of numpy.ndarray
        Time [s] and signal [-].

    Raises
    ------
    ValueError
        If duration or interval is not above zero, or high is not above low.

    Notes
    -----
    Equation: triangle.
    Source: none needed.

    Examples
    --------
    >>> ramp_signal(4, 1)[1].tolist()
    [0.0, 0.5, 1.0, 0.5, 0.0]
    """
    total = float(positive("duration", duration, "s"))
    step = float(positive("sampling interval", interval, "s"))
    top = float(in_range("high end of the signal", high, low, np.inf, "-", above=True))
    time: Floats = np.arange(round(total / step) + 1, dtype=np.float64) * step
    share: Floats = 1 - np.abs(2 * time / total - 1)
    return time, low + (top - low) * share.clip(0.0, 1.0)


def simulate_stroke(
    time: ArrayLike,
    signal: ArrayLike,
    actuator: Actuator,
    signal_low_gauge: ArrayLike,
    signal_high_gauge: ArrayLike,
    faults: Faults = SOUND,
    *,
    supply_gauge: ArrayLike = 240e3,
    fluid_closed: ArrayLike = 0.0,
    fluid_open: ArrayLike | None = None,
    positioner_gain: ArrayLike = 1.0,
    fill_time: ArrayLike = 0.5,
    dead_time: float = 0.0,
    noise: float = 0.0,
    rng: np.random.Generator | None = None,
) -> StrokeTrace:
    """Stroke a valve and record it.

    Parameters
    ----------
    time, signal : array_like
        Sampling times [s] and signal [-], 0 for no air and 1 for full air, one axis each.
    actuator : Actuator
        From `spring_actuator`, as it is and not as it should be [SI].
    signal_low_gauge, signal_high_gauge : array_like
        Actuator pressures that the signal 0 and 1 stand for [Pa gauge].
    faults : Faults
        What is wrong with the valve [SI].
    supply_gauge : array_like
        Air supply [Pa gauge].
    fluid_closed, fluid_open : array_like
        Fluid force on the plug when closed and when open, positive towards open [N].
    positioner_gain : array_like
        Gain of a proportional positioner on the travel error [-]; 1 for no positioner.
    fill_time, dead_time : array_like, float
        Time constant of filling the actuator and delay of the signal [s].
    noise : float
        Standard deviation of the recorded travel and, as part of the signal range, of the pressure [-].
    rng : numpy.random.Generator, optional
        Where the noise comes from; seed it to get the same test again [no unit].

    Returns
    -------
    StrokeTrace
        One valve for each element of the parameters, time [s] on the last axis.

    Raises
    ------
    ValueError
        If times do not rise, noise is asked for without `rng`, or a parameter is out of its range.

    Notes
    -----
    Equation: the stem rests while within F / K of the travel the air gives; the air has a first-order lag.
    Source: worked by hand, Coulomb friction and `free_travel`. The other faults are in the simplest form that shows.

    Examples
    --------
    >>> from valvecalc.actuator import actuator_from_bench_set
    >>> valve = actuator_from_bench_set("reverse", 0.05, 20e3, 100e3, 0.04)
    >>> round(float(simulate_stroke([0, 5, 10], [0, 0.5, 0.5], valve, 20e3, 100e3).travel[-1]), 2)
    0.5
    """
    clock, command = _clock(time, signal)
    opened = fluid_closed if fluid_open is None else fluid_open
    spread = in_range("noise", noise, 0, 1, "-")
    sizes = {k: v for k, v in actuator._asdict().items() if k != "action"} | faults._asdict()
    sizes |= {"fluid_closed": fluid_closed, "fluid_open": opened, "positioner_gain": positioner_gain}
    sizes |= {"signal_low": signal_low_gauge, "fill_time": positive("filling time", fill_time, "s")}
    span = numbers("signal high", signal_high_gauge) - numbers("signal low", signal_low_gauge)
    sizes["signal_span"] = positive("signal range", span, "Pa")
    sizes["supply"] = positive("supply pressure", supply_gauge, "Pa gauge")
    sets = np.broadcast_arrays(*(_checked(name, value) for name, value in sizes.items()))
    late = command[_index_before(clock, float(in_range("dead time", dead_time, 0, np.inf, "s")))]
    runs = [
        _one_valve(clock, late, actuator.action, dict(zip(sizes, map(float, row), strict=True)))
        for row in zip(*(s.ravel() for s in sets), strict=True)
    ]
    pressure, travel = np.array(runs).swapaxes(0, 1).reshape(2, *sets[0].shape, clock.size)
    if rng is None and spread > 0:
        raise ValueError("noise needs a random generator; pass rng=numpy.random.default_rng(a number).")
    if rng is not None:
        travel = travel + spread * rng.standard_normal(travel.shape)
        pressure = pressure + spread * span[..., None] * rng.standard_normal(travel.shape)
    return StrokeTrace(clock, command, pressure, travel)


def _one_valve(clock: Floats, command: Floats, action: str, s: dict[str, float]) -> tuple[Floats, Floats]:
    """Pressure and travel of one valve, the loop over time inside."""
    actuator = spring_actuator(action, s["area"], s["spring_rate"], s["preload"], s["rated_travel"], s["area_end"])

    def stroke(pressure: ArrayLike, friction: float = 0.0, moving: str = "still") -> Floats:
        free = free_travel(actuator, pressure, s["fluid_closed"], s["fluid_open"], friction, moving)
        return free if action == "reverse" else 1 - free

    demand = s["zero_error"] + (1 + s["span_error"]) * command
    grid = np.linspace(0, s["supply"], 201) / (1 + s["air_leak"])
    air = np.clip(s["signal_low"] + s["signal_span"] * demand, 0, s["supply"]) / (1 + s["air_leak"])
    drive = stroke(air)
    stick = np.abs(stroke(air, s["friction"], "opening") - drive)
    across = stroke(np.array([s["signal_low"], s["signal_low"] + s["signal_span"]]) / (1 + s["air_leak"]))
    feedback = (s["positioner_gain"] - 1) * float(across[1] - across[0])
    steps = np.diff(clock, prepend=clock[0]).tolist()
    speed = (1 + s["air_leak"]) / s["fill_time"]
    lower, upper = _stops(action, s)
    limits = (lower, upper, float(stroke(grid[0])), float(stroke(grid[-1])))
    stem: Stem = (float(drive[0]), min(max(float(drive[0]), lower), upper), 0.0)
    path = []
    for d, aim, step, hold in zip(drive.tolist(), demand.tolist(), steps, stick.tolist(), strict=True):
        frictions = (hold, hold * s["sliding_ratio"], CREEP * step)
        stem = stem_step(stem, d, aim, step * speed, feedback, frictions, limits)
        path.append(stem[:2])
    given, moved = np.array(path).T
    return np.interp(given, stroke(grid), grid), _recorded(action, moved, s)


def _recorded(action: str, stroke: Floats, s: dict[str, float]) -> Floats:
    travel = backlash(stroke if action == "reverse" else 1 - stroke, s["backlash_gap"])
    return np.maximum(travel, s["seat_travel"] + s["seat_softness"] * (travel - s["seat_travel"]))


def _stops(action: str, s: dict[str, float]) -> tuple[float, float]:
    # A soft seat is no stop: the stem goes on, and `_recorded` shows less of it.
    closed = s["seat_travel"] if s["seat_softness"] == 0 else -np.inf
    return (closed, 1.0) if action == "reverse" else (0.0, 1.0 - closed)


def _checked(name: str, value: ArrayLike) -> Floats:
    plain = name.replace("_", " ")
    return in_range(plain, value, *_LIMITS[name]) if name in _LIMITS else numbers(plain, value)


def _clock(time: ArrayLike, signal: ArrayLike) -> tuple[Floats, Floats]:
    clock, command = np.broadcast_arrays(numbers("time", time), numbers("signal", signal))
    if clock.ndim != 1 or clock.size < 2 or np.any(np.diff(clock) <= 0):
        raise ValueError("time [s] must be two or more rising values on one axis, as many as the signal has.")
    return clock, command


def _index_before(clock: Floats, delay: float) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    return np.maximum(np.searchsorted(clock, clock - delay + 1e-9, side="right") - 1, 0)
