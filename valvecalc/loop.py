"""A flow loop in time: PI controller, sticky valve with or without positioner, installed curve.

Signals, travel and flow are fractions of their ranges.
"""

from __future__ import annotations

import math
import operator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers
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


@dataclass(frozen=True)
class LoopTrace:
    """A recorded loop: time [s], set point, flow, controller output and travel [-]; time goes last."""

    time: Floats
    setpoint: Floats
    flow: Floats
    output: Floats
    travel: Floats


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
    """Run a flow loop, starting settled at the first set point.

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
    runs = [
        _one_loop(wanted.tolist(), curve, row[-1], dict(zip(sizes, row[:-1], strict=True))) for row in rows
    ]
    flow, output, travel = np.array(runs).swapaxes(0, 1).reshape(3, *shake.shape)
    return LoopTrace(clock, wanted, flow, output, travel)


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
