"""Read a step test: dead time, T63, T86, overshoot, whatever made the trace."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers


@dataclass(frozen=True)
class StepResponse:
    """Answer to one step: times from the step [s], overshoot over the change [-], change over step [-]."""

    dead_time: float
    t63: float
    t86: float
    overshoot: float
    gain: float


def step_response(
    time: ArrayLike, signal: ArrayLike, travel: ArrayLike, threshold: float = 0.01
) -> StepResponse:
    """Measure how a valve answers one step of its signal.

    Parameters
    ----------
    time, signal, travel : array_like
        Samples [s, -, -], one axis, with one step of the signal and the valve at rest before and at the end.
    threshold : float
        Part of the final change that counts as the first response [-]; several times the noise.

    Returns
    -------
    StepResponse
        Dead time, T63 and T86 [s], overshoot and gain [-]; dead time is part of T63 and T86.

    Raises
    ------
    ValueError
        If the signal has no step, or the travel does not answer it.

    Notes
    -----
    Equation: first times at which the change reaches the threshold, 63.2 % and 86.5 % of its final value.
    Source: Td as in IEC 60534-9 and ISA-75.25.01, second-hand; T63, T86 and overshoot from memory.

    Examples
    --------
    >>> r = step_response([0, 1, 2, 3, 4, 5], [0, 1, 1, 1, 1, 1], [0, 0, 0.5, 1, 1, 1])
    >>> round(r.t63 - r.dead_time, 3), r.overshoot
    (1.244, 0.0)
    """
    t, x, y = np.broadcast_arrays(numbers("time", time), numbers("signal", signal), numbers("travel", travel))
    visible = float(in_range("threshold", threshold, 0, 0.6, "-", above=True))
    stepped = np.flatnonzero(x != x.flat[0])
    if t.ndim != 1 or stepped.size == 0:
        raise ValueError("the signal must hold one step, samples along one axis; record some time before it.")
    start = stepped[0]
    before = float(np.mean(y[:start]))
    change = float(np.mean(y[-max((t.size - start) // 10, 1) :])) - before
    # Smaller than its own scatter at rest, or nothing at all: that is no answer.
    if abs(change) <= 3 * float(np.std(y[:start])) or change == 0:
        raise ValueError("the travel does not answer the step; make the step larger than the dead band.")
    share = (y - before) / change
    dead, t63, t86 = (_reached(t, share, start, level) for level in (visible, 0.632, 0.865))
    return StepResponse(dead, t63, t86, max(float(share.max()) - 1, 0.0), change / float(x[-1] - x[0]))


def _reached(t: Floats, share: Floats, start: int, level: float) -> float:
    k = start + int(np.argmax(share[start:] >= level))
    if k == start:
        return 0.0
    return float(np.interp(level, share[k - 1 : k + 1], t[k - 1 : k + 1]) - t[start])
