"""A flow loop in time: PI controller, sticky valve with or without positioner, installed curve; whether it hunts.

Signals, travel and flow are fractions of their ranges.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, numbers, positive
from valvecalc.stiction import CREEP, Stem, stem_step, stick_and_slip

_LIMITS = {
    "proportional_gain": (0.0, np.inf, "-"),
    "reset_time": (1e-3, np.inf, "s"),
    "lag": (1e-3, np.inf, "s"),
    "dead_time": (0.0, np.inf, "s"),
    "fill_time": (1e-3, np.inf, "s"),
    "positioner_gain": (1.0, np.inf, "-"),
}
_CELLS = 500  # of the installed curve inside the loop: a short list, quick to look up
_SPARE_AIR = 0.5  # how far supply and vent reach beyond the range of the spring, as travel


class LoopTrace(NamedTuple):
    """A recorded loop: time [s], set point, flow, controller output and travel [-]; time goes last."""

    time: Floats
    setpoint: Floats
    flow: Floats
    output: Floats
    travel: Floats


class Cycle(NamedTuple):
    """Whether a trace keeps cycling, its period [s] and its amplitude, half of peak to peak; 0 if not."""

    cycling: bool
    period: float
    amplitude: float


def simulate_loop(
    time: ArrayLike,
    setpoint: ArrayLike,
    curve_travel: ArrayLike,
    curve_flow: ArrayLike,
    *,
    proportional_gain: ArrayLike,
    reset_time: ArrayLike,
    lag: ArrayLike = 1.0,
    dead_time: ArrayLike = 0.5,
    fill_time: ArrayLike = 0.5,
    stick_band: ArrayLike = 0.0,
    slip_jump: ArrayLike = 0.0,
    positioner_gain: ArrayLike = 1.0,
    noise: float = 0.0,
    rng: np.random.Generator | None = None,
) -> LoopTrace:
    """Run a flow loop that starts settled at the first set point.

    Parameters
    ----------
    time, setpoint : array_like
        Sampling times at equal steps [s] and set point of the flow [-], one axis each.
    curve_travel, curve_flow : array_like
        Installed curve as points from travel 0 to 1, flow rising [-].
    proportional_gain, reset_time : array_like
        Controller: gain [-] and integral time [s].
    lag, dead_time : array_like
        Time constant and dead time of the flow measurement and the pipe [s].
    fill_time : array_like
        Time constant of filling the actuator [s].
    stick_band, slip_jump : array_like
        Stiction S and J of the valve without positioner [-]; J 0 for friction that does not jump.
    positioner_gain : array_like
        Gain of a proportional positioner on the travel error [-]; 1 for no positioner.
    noise : float
        Standard deviation of the flow measurement [-].
    rng : numpy.random.Generator, optional
        Where the noise comes from; seed it to get the same run again [no unit].

    Returns
    -------
    LoopTrace
        One loop for each element of the parameters, time [s] on the last axis.

    Raises
    ------
    ValueError
        If times are not equal steps, the curve does not rise over 0 to 1, or a parameter is out of its range.

    Notes
    -----
    Equation: u = Kc (e + ∫e dt / Ti), held to 0..1 without wind-up; T dq/dt = installed(travel) - q, delayed.
    Source: PI loop, computed here; stiction by the two-parameter model, from memory.

    Examples
    --------
    >>> t = np.arange(0, 60, 0.1)
    >>> run = simulate_loop(t, 0.4 + 0.2 * (t > 5), [0, 1], [0, 1], proportional_gain=0.4, reset_time=2)
    >>> round(float(run.flow[-1]), 3)
    0.6
    """
    clock, wanted = _equal_steps(time, setpoint)
    stick, slip = stick_and_slip(stick_band, slip_jump)
    sizes = {"proportional_gain": proportional_gain, "reset_time": reset_time, "lag": lag}
    sizes |= {"dead_time": dead_time, "fill_time": fill_time, "positioner_gain": positioner_gain}
    sizes = {name: in_range(name.replace("_", " "), v, *_LIMITS[name]) for name, v in sizes.items()}
    sizes |= {"stick": stick, "slip": slip, "interval": clock[1] - clock[0]}
    sets = np.broadcast_arrays(*sizes.values())
    shake = _noise(noise, rng, (*sets[0].shape, clock.size))
    curve = _flow_table(curve_travel, curve_flow)
    rows = zip(*(s.ravel().tolist() for s in sets), shake.reshape(-1, clock.size).tolist(), strict=True)
    runs = [_one_loop(wanted.tolist(), curve, row[-1], dict(zip(sizes, row[:-1], strict=True))) for row in rows]
    flow, output, travel = np.array(runs).swapaxes(0, 1).reshape(3, *shake.shape)
    return LoopTrace(clock, wanted, flow, output, travel)


def limit_cycle(time: ArrayLike, trace: ArrayLike, threshold: float = 0.002) -> Cycle:
    """Find a lasting cycle in the second half of a trace.

    Parameters
    ----------
    time : array_like
        Sampling times [s], one axis.
    trace : array_like
        Flow, output or travel, as many samples [-].
    threshold : float
        Amplitude below which nothing counts as a cycle [-]; several times the noise.

    Returns
    -------
    Cycle
        Period [s] and amplitude [-]; a cycle that dies away by half or more does not count.

    Raises
    ------
    ValueError
        If times do not rise, or the two are not as many samples along one axis.

    Notes
    -----
    Equation: period = mean time between upward crossings of the mean, amplitude = half the mean peak to peak.
    Source: worked by hand, definitions of period and amplitude.

    Examples
    --------
    >>> t = np.arange(0, 100, 0.1)
    >>> c = limit_cycle(t, 0.5 + 0.02 * np.sin(2 * np.pi * t / 8))
    >>> c.cycling, round(c.period, 2), round(c.amplitude, 3)
    (True, 8.0, 0.02)
    """
    clock, values = numbers("time", time), numbers("trace", trace)
    if clock.ndim != 1 or clock.shape != values.shape or clock.size < 4 or np.any(np.diff(clock) <= 0):
        raise ValueError("time and trace must be one axis of four or more samples, times rising.")
    limit = float(positive("threshold", threshold, "-"))
    half = clock.size // 2
    t, x = clock[half:], values[half:] - (values[half:].max() + values[half:].min()) / 2
    ups = _upward_crossings(x)
    if ups.size < 3:
        return Cycle(False, 0.0, 0.0)
    starts = ups[:-1]
    peaks = (np.maximum.reduceat(x[: ups[-1]], starts) - np.minimum.reduceat(x[: ups[-1]], starts)) / 2
    amplitude = float(peaks.mean())
    if amplitude < limit or peaks[-1] < 0.5 * peaks[0]:
        return Cycle(False, 0.0, 0.0)
    crossing = t[ups - 1] - x[ups - 1] * (t[ups] - t[ups - 1]) / (x[ups] - x[ups - 1])
    period = float(np.diff(crossing).mean())
    lasts = t[-1] - crossing[-1] < 1.5 * period
    return Cycle(True, period, amplitude) if lasts else Cycle(False, 0.0, 0.0)


def gain_margin(
    process_gain: ArrayLike,
    proportional_gain: ArrayLike,
    reset_time: ArrayLike,
    lag: ArrayLike,
    dead_time: ArrayLike,
    fill_time: ArrayLike,
) -> Floats:
    """Factor by which a PI flow loop's gain may grow before it hunts without any friction.

    Parameters
    ----------
    process_gain : array_like
        Change of flow over change of travel, both as fractions: the installed gain [-].
    proportional_gain, reset_time : array_like
        Controller: gain [-] and integral time [s].
    lag, dead_time : array_like
        Time constant and dead time of the flow [s].
    fill_time : array_like
        Time constant of the actuator [s]; with a positioner, over its gain.

    Returns
    -------
    numpy.ndarray
        Gain margin [-]; 1 is the limit, 2 and more is usual (common practice, no source).

    Raises
    ------
    ValueError
        If a gain or time is not above zero; the filling time may be 0.

    Notes
    -----
    Equation: 1 / |L(jω)| where arg L = -π, L = K Kc (1 + 1/(Ti s)) e^(-θ s) / ((T s + 1)(Tv s + 1)).
    Source: Nyquist criterion, from memory.

    Examples
    --------
    >>> round(float(gain_margin(1.0, 0.4, 2.0, 1.0, 0.5, 0.5)), 2)
    7.7
    """
    total = positive("installed gain", process_gain, "-")
    total = total * positive("controller gain", proportional_gain, "-")
    reset, slow = positive("reset time", reset_time, "s"), positive("lag", lag, "s")
    delay, fill = positive("dead time", dead_time, "s"), in_range("filling time", fill_time, 0, np.inf, "s")
    total, reset, slow, delay, fill = np.broadcast_arrays(total, reset, slow, delay, fill)

    def beyond(w: Floats) -> Floats:
        return np.pi / 2 + np.arctan(w * reset) - np.arctan(w * slow) - np.arctan(w * fill) - w * delay

    w = _first_root(beyond, np.pi / 2 / (slow + delay + fill), np.pi / delay)
    size = total * np.hypot(1, 1 / (w * reset)) / (np.hypot(1, w * slow) * np.hypot(1, w * fill))
    return np.asarray(1 / size, dtype=np.float64)


def _one_loop(
    wanted: list[float], curve: list[float], shake: list[float], s: dict[str, float]
) -> tuple[list[float], list[float], list[float]]:
    """Flow, output and travel of one loop; plain floats, because it is a loop over time."""
    step, gain, feedback = s["interval"], s["proportional_gain"], s["positioner_gain"] - 1
    answer = 1 - math.exp(-step / s["lag"])
    fill, frictions = step / s["fill_time"], (s["stick"], s["slip"], CREEP * step)
    travel = float(np.interp(wanted[0], curve, np.linspace(0, 1, len(curve))))
    flow = min(max(wanted[0], curve[0]), curve[-1])
    stem: Stem = (travel, travel, 0.0)
    rise = [*map(operator.sub, curve[1:], curve), 0.0]  # of each cell of the installed curve
    pipe = [flow] * round(s["dead_time"] / step)  # what the valve let through; the transmitter sees it that much later
    limits, reset = (0.0, 1.0, -_SPARE_AIR, 1 + _SPARE_AIR), s["reset_time"]
    integral, flows, outputs, travels = travel, [], [], []
    for k, aim in enumerate(wanted):
        seen = flow + shake[k]
        error = aim - seen
        output = gain * error + integral
        # No wind-up: the integral waits while the output is on its limit and the error pushes it further.
        if 0 < output < 1 or (output <= 0) == (error > 0):
            integral += gain * error * step / reset
        output = 0.0 if output < 0 else 1.0 if output > 1 else output
        stem = stem_step(stem, output, output, fill, feedback, frictions, limits)
        travel = stem[1]
        cell = int(travel * _CELLS)
        pipe.append(curve[cell] + rise[cell] * (travel * _CELLS - cell))
        flow += answer * (pipe[k] - flow)
        flows.append(seen)
        outputs.append(output)
        travels.append(travel)
    return flows, outputs, travels


def _equal_steps(time: ArrayLike, setpoint: ArrayLike) -> tuple[Floats, Floats]:
    clock, wanted = np.broadcast_arrays(numbers("time", time), in_range("set point", setpoint, 0, 1, "-"))
    steps = np.diff(clock) if clock.ndim == 1 and clock.size > 1 else np.zeros(1)
    if steps.min() <= 0 or np.ptp(steps) > 1e-6 * steps.max():
        raise ValueError("time [s] must rise in equal steps on one axis; make it with numpy.arange.")
    return clock, wanted


def _flow_table(curve_travel: ArrayLike, curve_flow: ArrayLike) -> list[float]:
    travel = in_range("travel of the curve", curve_travel, 0, 1, "-")
    flow = in_range("flow of the curve", curve_flow, 0, np.inf, "-")
    if travel.ndim != 1 or travel.shape != flow.shape or travel.size < 2 or travel[0] != 0 or travel[-1] != 1:
        raise ValueError("the installed curve must be as many travels as flows, from travel 0 to 1.")
    if np.any(np.diff(travel) <= 0) or np.any(np.diff(flow) < 0):
        raise ValueError("the installed curve must rise; sort its points by travel.")
    table: list[float] = np.interp(np.linspace(0, 1, _CELLS + 1), travel, flow).tolist()
    return table


def _noise(spread: float, rng: np.random.Generator | None, shape: tuple[int, ...]) -> Floats:
    size = float(in_range("noise", spread, 0, 1, "-"))
    if rng is None and size > 0:
        raise ValueError("noise needs a random generator; pass rng=numpy.random.default_rng(a number).")
    return np.zeros(shape) if rng is None else size * rng.standard_normal(shape)


def _first_root(fall: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """First place between two where a function goes from above to below zero, for every element."""
    low, high = np.log(low), np.log(high)
    for _ in range(7):  # each pass leaves a 199th of the range: as close as floats go
        grid = np.linspace(low, high, 200)
        below = fall(np.exp(grid)) < 0
        below[-1] = True
        first = np.maximum(below.argmax(axis=0), 1)[None, ...]
        low, high = (np.take_along_axis(grid, first - back, axis=0)[0] for back in (1, 0))
    root: Floats = np.exp((low + high) / 2)
    return root


def _upward_crossings(x: Floats) -> NDArray[np.intp]:
    """Find where a trace comes up through zero from a quarter of its size below: noise does not count."""
    band = 0.25 * float(np.abs(x).max())
    place = np.where(x > band, 1, np.where(x < -band, -1, 0))
    last = np.maximum.accumulate(np.where(place != 0, np.arange(x.size), 0))
    rises = np.flatnonzero(np.diff(place[last]) > 0) + 1
    rises = rises[place[last][rises - 1] < 0]
    # Back from the band to zero, where the crossing is.
    return np.array([int(np.flatnonzero(x[:k] < 0)[-1]) + 1 for k in rises], dtype=np.intp)
