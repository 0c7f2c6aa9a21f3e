"""Whether the flow in the valve is turbulent: valve Reynolds number."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.fittings import N2
from valvecalc.units import av_from_kv

TURBULENT = 1e4  # valve Reynolds number from which the turbulent equations hold (IEC 60534-2-1:2011)
# With C as Av, N4 is √(4√2/π): the jet area is Av FL/√2 by the definition of FL. For Kv, m³/h and mm this makes
# 0.07074 (printed 7.07e-2). N32 is fitted to tests and cannot be derived; 140 is the printed value for Kv and mm.
N4 = float(np.sqrt(4 * np.sqrt(2) / np.pi))


def valve_reynolds(flow: ArrayLike, kv: ArrayLike, nu: ArrayLike, fl: ArrayLike, fd: ArrayLike, d: ArrayLike) -> Floats:
    """Reynolds number of the flow in a valve.

    Parameters
    ----------
    flow : array_like
        Actual volumetric flow, 0 or more; for a gas mass flow over inlet density, never standard volume [m³/s].
    kv : array_like
        Flow coefficient, above 0 [m³/h at 1 bar].
    nu : array_like
        Kinematic viscosity at the inlet, above 0 [m²/s].
    fl, fd : array_like
        Liquid pressure recovery factor and valve style modifier, above 0, at most 1 [-].
    d : array_like
        Valve size, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Re_v; 10 000 and more is turbulent [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: Re_v = N4 Fd Q / (ν √(C FL)) (FL² C²/(N2 d⁴) + 1)^¼.
    Source: IEC 60534-2-1:2011, equation 23.

    Examples
    --------
    >>> re = valve_reynolds(360 / 3600, 164.996, 3.26e-7, fl=0.90, fd=0.46, d=0.150)
    >>> round(float(re), -4)
    2970000.0
    """
    area = av_from_kv(positive("kv", kv, "m³/h at 1 bar"))
    recovery = in_range("fl", fl, 0, 1, "-", above=True)
    jet = N4 * in_range("fd", fd, 0, 1, "-", above=True) / (positive("nu", nu, "m²/s") * np.sqrt(area * recovery))
    approach = (recovery * area / positive("d", d, "m") ** 2) ** 2 / N2 + 1
    return in_range("flow", flow, 0, np.inf, "m³/s") * jet * approach**0.25
