"""Torque and load of a bolt: where the torque goes, and what friction leaves for the load.

Most of the torque is used up by friction, so the same torque gives very different loads on dry and on greased threads.
The torque for a joint comes from its maker or the site's procedure, which also name the lubricant it holds for.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive

FLANK = np.cos(np.pi / 6)  # the flanks of an ISO or UN thread lean by 30°
PITCH_LINE, ROOT_LINE = 0.649519, 0.938194  # of the pitch: how far pitch and stress diameter lie below the nominal one


class TorqueParts(NamedTuple):
    """The three parts of the torque for one newton of load [N·m/N, which is m]. Together they are K·D."""

    stretching: Floats  # turns into load: the slope of the thread
    thread: Floats  # lost to friction in the thread
    nut_face: Floats  # lost to friction under the nut


def torque_parts(
    diameter: ArrayLike,
    pitch: ArrayLike,
    face_diameter: ArrayLike,
    thread_friction: ArrayLike,
    face_friction: ArrayLike,
) -> TorqueParts:
    """Torque for one newton of bolt load, and where it goes.

    Parameters
    ----------
    diameter : array_like
        Nominal diameter of the bolt [m].
    pitch : array_like
        Pitch of its thread, less than a third of the diameter [m].
    face_diameter : array_like
        Mean diameter of the ring on which the nut rubs, above the nominal diameter [m].
    thread_friction, face_friction : array_like
        Coefficients of friction in the thread and under the nut, 0 to 0.5 [-].

    Returns
    -------
    TorqueParts
        The three parts, broadcast shape [m].

    Raises
    ------
    ValueError
        If a length or a coefficient is outside its range.

    Notes
    -----
    Equation: T/F = P/2π + μt·d2/(2 cos 30°) + μn·dn/2, with d2 = D − 0.6495 P.
    Source: worked by hand, the thread as an inclined plane; ISO thread form, from memory.

    Examples
    --------
    >>> parts = torque_parts(0.016, 0.002, 0.020, 0.12, 0.12)
    >>> round(float(sum(parts)) / 0.016, 4)
    0.1586
    """
    size = positive("diameter", diameter, "m")
    lead = positive("pitch", pitch, "m")
    in_range("pitch over diameter", lead / size, 0, 1 / 3, "-", above=True, below=True)
    face = positive("face_diameter", face_diameter, "m")
    in_range("face_diameter over diameter", face / size, 1, 3, "-", above=True)
    rub = in_range("thread_friction", thread_friction, 0, 0.5, "-")
    under = in_range("face_friction", face_friction, 0, 0.5, "-")
    return TorqueParts(lead / (2 * np.pi), rub * (size - PITCH_LINE * lead) / (2 * FLANK), under * face / 2)


def nut_factor(
    diameter: ArrayLike,
    pitch: ArrayLike,
    face_diameter: ArrayLike,
    thread_friction: ArrayLike,
    face_friction: ArrayLike,
) -> Floats:
    """Nut factor K that stands for thread, friction and nut face in one number.

    Parameters
    ----------
    diameter, pitch, face_diameter, thread_friction, face_friction : array_like
        As for `torque_parts` [m, m, m, -, -].

    Returns
    -------
    numpy.ndarray
        K, broadcast shape [-].

    Raises
    ------
    ValueError
        If a length or a coefficient is outside its range.

    Notes
    -----
    Equation: K = (P/2π + μt·d2/(2 cos 30°) + μn·dn/2) / D.
    Source: as `torque_parts`.

    Examples
    --------
    >>> round(float(nut_factor(0.016, 0.002, 0.020, 0.16, 0.16)), 4)
    0.2048
    """
    parts = torque_parts(diameter, pitch, face_diameter, thread_friction, face_friction)
    return np.float64(1.0) * sum(parts) / np.asarray(diameter, dtype=np.float64)


def bolt_torque(bolt_load: ArrayLike, diameter: ArrayLike, k_factor: ArrayLike) -> Floats:
    """Torque on the nut for a load in the bolt.

    Parameters
    ----------
    bolt_load : array_like
        Load in one bolt, 0 or more [N].
    diameter : array_like
        Nominal diameter of the bolt [m].
    k_factor : array_like
        Nut factor K for the lubricant used, 0.05 to 0.5 [-].

    Returns
    -------
    numpy.ndarray
        Torque, broadcast shape [N·m].

    Raises
    ------
    ValueError
        If an input is outside its range.

    Notes
    -----
    Equation: T = K·D·F.
    Source: NASA RP-1228, from memory, not read.

    Examples
    --------
    >>> round(float(bolt_torque(50e3, 0.016, 0.16)), 3)
    128.0
    """
    load = in_range("bolt_load", bolt_load, 0, np.inf, "N")
    k = in_range("k_factor", k_factor, 0.05, 0.5, "-")
    return k * positive("diameter", diameter, "m") * load


def bolt_load(torque: ArrayLike, diameter: ArrayLike, k_factor: ArrayLike) -> Floats:
    """Load in the bolt after its nut was tightened to a torque.

    Parameters
    ----------
    torque : array_like
        Torque on the nut, 0 or more [N·m].
    diameter : array_like
        Nominal diameter of the bolt [m].
    k_factor : array_like
        Nut factor K for the lubricant used, 0.05 to 0.5 [-].

    Returns
    -------
    numpy.ndarray
        Load in one bolt, broadcast shape [N].

    Raises
    ------
    ValueError
        If an input is outside its range.

    Notes
    -----
    Equation: F = T/(K·D).
    Source: NASA RP-1228, from memory, not read.

    Examples
    --------
    >>> round(float(bolt_load(128.0, 0.016, 0.20)))
    40000
    """
    turned = in_range("torque", torque, 0, np.inf, "N·m")
    k = in_range("k_factor", k_factor, 0.05, 0.5, "-")
    return turned / (k * positive("diameter", diameter, "m"))


def stress_area(diameter: ArrayLike, pitch: ArrayLike) -> Floats:
    """Area of a threaded bolt that carries its load.

    Parameters
    ----------
    diameter : array_like
        Nominal diameter of the bolt [m].
    pitch : array_like
        Pitch of its thread, less than a third of the diameter [m].

    Returns
    -------
    numpy.ndarray
        Area, broadcast shape [m²].

    Raises
    ------
    ValueError
        If a length is outside its range.

    Notes
    -----
    Equation: A = π/4 (D − 0.9382 P)².
    Source: ISO 898-1, from memory.

    Examples
    --------
    >>> round(float(stress_area(0.016, 0.002)) * 1e6, 1)
    156.7
    """
    size, lead = positive("diameter", diameter, "m"), positive("pitch", pitch, "m")
    in_range("pitch over diameter", lead / size, 0, 1 / 3, "-", above=True, below=True)
    return np.float64(np.pi / 4) * (size - ROOT_LINE * lead) ** 2
