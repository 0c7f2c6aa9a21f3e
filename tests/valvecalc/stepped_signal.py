"""A signal in steps, and what travel was read at its levels on the way up and on the way down."""

import numpy as np


def staircase(levels, dwell, interval):
    """Return sampling times and the signal that holds each level for a while."""
    signal = np.repeat(np.asarray(levels, float), round(dwell / interval))
    return np.arange(signal.size) * interval, signal


def read_up_and_down(signal, travel, points):
    """Read the travel at some signals, settled at the end of each level, up and down, averaged over the runs."""
    ends = np.append(np.flatnonzero(np.diff(signal)), signal.size - 1)
    sent, read = signal[ends], travel[ends]
    turns = np.flatnonzero(np.diff(np.sign(np.diff(sent)))) + 1
    runs = [slice(a, b + 1) for a, b in zip([0, *turns], [*turns, sent.size - 1], strict=True)]
    rising = [np.interp(points, sent[run], read[run]) for run in runs if sent[run][-1] > sent[run][0]]
    falling = [np.interp(points, sent[run][::-1], read[run][::-1]) for run in runs if sent[run][-1] < sent[run][0]]
    return np.mean(rising, axis=0), np.mean(falling, axis=0)
