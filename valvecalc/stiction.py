"""Friction, backlash and stiction as they act in time: how a stem follows a signal."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers

CREEP = 1e-3  # travel a second below which a sliding stem sticks again; own choice, no source
Stem: TypeAlias = tuple[float, float, float]  # where the air would put it, where it is, which way it slides


def backlash(signal: ArrayLike, gap: ArrayLike) -> Floats:
    """Follow a signal through a joint that has play.

    Parameters
    ----------
    signal : array_like
        Samples along the last axis [any unit].
    gap : array_like
        Width of the play [unit of the signal]; its shape broadcasts with the other axes of the signal.

    Returns
    -------
    numpy.ndarray
        What comes out of the joint, samples along the last axis [unit of the signal]; it starts mid-gap.

    Raises
    ------
    ValueError
        If the signal is not finite or the gap is negative.

    Notes
    -----
    Equation: y = clip(y before, x - gap / 2, x + gap / 2).
    Source: worked by hand, definition of the play (backlash) element.

    Examples
    --------
    >>> backlash([0, 1, 2, 3, 2, 1, 0], 2).tolist()
    [0.0, 0.0, 1.0, 2.0, 2.0, 2.0, 1.0]
    """
    half = in_range("backlash", gap, 0, np.inf, "unit of the signal") / 2
    return _each(_play, numbers("signal", signal), half)


def stick_and_slip(stick_band: ArrayLike, slip_jump: ArrayLike) -> tuple[Floats, Floats]:
    """Turn stick band and slip jump into friction at rest and in motion.

    Parameters
    ----------
    stick_band, slip_jump : array_like
        S and J of the two-parameter model [-].

    Returns
    -------
    tuple of numpy.ndarray
        Friction at rest and in motion, as travel the spring gives way by [-]; below zero it overshoots.

    Raises
    ------
    ValueError
        If a parameter is negative.

    Notes
    -----
    Equation: at rest (S + J) / 2, in motion (S - J) / 2.
    Source: two-parameter data-driven stiction model, from memory.

    Examples
    --------
    >>> [float(f) for f in stick_and_slip(0.5, 0.25)]
    [0.375, 0.125]
    """
    band = in_range("stick band", stick_band, 0, np.inf, "-")
    jump = in_range("slip jump", slip_jump, 0, np.inf, "-")
    return (band + jump) / 2, (band - jump) / 2


def stem_step(
    stem: Stem,
    drive: float,
    demand: float,
    lag_steps: float,
    feedback: float,
    frictions: tuple[float, float, float],
    limits: tuple[float, float, float, float],
) -> Stem:
    """Move a stem on by one sample: air with a lag, friction, stops, and a positioner if there is one.

    Parameters
    ----------
    stem : tuple of float
        Travel the air would give without friction, travel, and way it slides: 1, -1, or 0 at rest [-].
    drive : float
        Travel the signal alone would give [-].
    demand : float
        Travel the positioner aims at [-].
    lag_steps : float
        Sampling interval over the filling time of the actuator [-].
    feedback : float
        Gain of the positioner on the travel error, in travel [-]; 0 for none.
    frictions : tuple of float
        Friction at rest and in motion, as travel the spring gives way by; creep that is rest [-].
    limits : tuple of float
        Stops of the stem, and least and most travel that no air and full supply would give [-].

    Returns
    -------
    tuple of float
        The same three a sample later [-].

    Raises
    ------
    ValueError
        Never: it is the inside of a loop and checks nothing; the callers do.

    Notes
    -----
    Equation: x' = (drive + feedback (demand - y) - x) / T, stepped backwards; |x - y| held to the friction.
    Source: worked by hand, Coulomb friction, larger at rest. No mass, which is small beside spring and friction.

    Examples
    --------
    >>> stem_step((0.0, 0.0, 0.0), 0.5, 0.5, 1.0, 0.0, (0.125, 0.125, 0.0), (0.0, 1.0, -1.0, 2.0))[1]
    0.125
    """
    x, y, way = stem
    lower, upper, least, most = limits
    # Comparisons instead of min and max: this runs thousands of times for each frame of a picture.
    push = drive + feedback * (demand - y)
    push = least if push < least else most if push > most else push
    held = (x + lag_steps * push) / (1 + lag_steps)
    turn = 1.0 if held > y else -1.0
    on_stop = y >= upper if turn > 0 else y <= lower
    if on_stop or abs(held - y) <= frictions[0 if turn != way else 1]:
        return held, (lower if y < lower else upper if y > upper else y), 0.0
    rub = turn * frictions[1]
    moved = (x + lag_steps * (drive + feedback * (demand + rub))) / (1 + lag_steps + lag_steps * feedback)
    moved = held if (moved - held) * turn > 0 else moved
    reached = moved - rub
    reached = lower if reached < lower else upper if reached > upper else reached
    return moved, reached, turn if abs(reached - y) > frictions[2] else 0.0


def _play(signal: list[float], half: float) -> list[float]:
    y, out = signal[0], []
    for x in signal:
        y = min(max(y, x - half), x + half)
        out.append(y)
    return out


def _each(run: Callable[..., list[float]], signal: Floats, *parameters: Floats) -> Floats:
    """Run a time loop for every parameter set: plain floats are faster here than arrays of one."""
    shape = np.broadcast_shapes(signal.shape[:-1], *(p.shape for p in parameters))
    signals = np.broadcast_to(signal, (*shape, signal.shape[-1])).reshape(-1, signal.shape[-1])
    sets = [np.broadcast_to(p, shape).ravel() for p in parameters]
    rows = [run(s.tolist(), *map(float, values)) for s, *values in zip(signals, *sets, strict=True)]
    return np.array(rows).reshape(*shape, signal.shape[-1])
