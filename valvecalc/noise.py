"""Aerodynamic noise of a gas or steam valve: the jet as a source, the pipe wall, the level beside the pipe.

Left out, and refused where it would count: the outlet itself as a second source (Mach above 0.3 there) and trims with
several stages one after another. The method does not cover sound made by pipe fittings, supports or loose trim.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, positive, pressure_drop
from valvecalc.gas import gas_velocity, sound_speed
from valvecalc.units import cv_from_kv

# Third octaves from 12.5 Hz to 20 kHz by their names, and the A-weighting of the standard at each [dB].
BANDS = np.array([
    12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
    2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
])  # fmt: skip
A_WEIGHTING = np.array([
    -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2,
    -1.9, -0.8, 0.0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6, -9.3,
])  # fmt: skip
N14 = 4.6e-3  # jet diameter in m from Cv
PIPE_SPEED, PIPE_DENSITY = 5000.0, 8000.0  # m/s, kg/m³: steel, as in the standard's examples
AIR_SPEED, AIR_IMPEDANCE = 343.0, 415.0  # m/s, Pa s/m
MOST_MACH = 0.3  # at the valve outlet: above it the outlet is a source of its own
_LAST_JET = 22.0  # pressure ratio above which the jet's Mach number no longer counts


class Jet(NamedTuple):
    """The jet behind the trim as a source of sound."""

    regime: NDArray[np.int64]  # 1 below the speed of sound, 2 to 5 above it, ever more by shocks
    stream_power: Floats  # [W]
    sound_power: Floats  # [W]
    frequency: Floats  # of its loudest sound [Hz]


class Noise(NamedTuple):
    """What is heard from a valve, one metre behind it and one metre from the pipe wall."""

    level: Floats  # A-weighted [dB]
    bands: Floats  # the same by third octaves, the last axis [dB]
    inside: Floats  # sound pressure inside the pipe, by third octaves [dB]
    jet: Jet


def style_modifier(passage_area: ArrayLike, wetted_perimeter: ArrayLike, passages: ArrayLike) -> Floats:
    """Valve style modifier Fd of a trim whose passages are alike: how much smaller its jets are than one single jet.

    Parameters
    ----------
    passage_area : array_like
        Area of one passage [m²].
    wetted_perimeter : array_like
        Length of its edge [m].
    passages : array_like
        How many there are side by side, 1 or more [-].

    Returns
    -------
    numpy.ndarray
        Fd; of N round holes 1/√N [-].

    Raises
    ------
    ValueError
        If a size is not above zero or there are less than one.

    Notes
    -----
    Equation: Fd = d_H/d_o, d_H = 4 A/l_w, d_o = √(4 N A/π).
    Source: IEC 60534-8-3:2010, equations 8a to 8c, second-hand.

    Examples
    --------
    >>> round(float(style_modifier(0.00137, 0.181, 6)), 3)
    0.296
    """
    area = positive("passage area", passage_area, "m²")
    count = in_range("number of passages", passages, 1, np.inf, "passages")
    hydraulic = 4 * area / positive("wetted perimeter", wetted_perimeter, "m")
    return hydraulic / np.sqrt(4 * count * area / np.pi)


def jet_noise(
    mass_flow: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    gamma: ArrayLike,
    kv: ArrayLike,
    fl: ArrayLike,
    fd: ArrayLike,
    efficiency: ArrayLike,
    strouhal: ArrayLike,
) -> Jet:
    """Sound power and loudest frequency of the jet behind a trim.

    Parameters
    ----------
    mass_flow : array_like
        Mass flow, above 0 [kg/s].
    p1, p2 : array_like
        Pressure before and after the valve [Pa absolute].
    rho : array_like
        Density at the inlet [kg/m³].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    kv : array_like
        Flow coefficient at this opening [m³/h at 1 bar].
    fl, fd : array_like
        Recovery factor and style modifier there; FLP/FP in place of FL with reducers [-].
    efficiency : array_like
        Aη, power of ten of the part of the jet's power that becomes sound: -4.2 for a contoured plug, -3.8 for a
        cage with windows, -4.8 for a drilled cage [-].
    strouhal : array_like
        Strouhal number of the loudest sound: 0.19 for a contoured plug, 0.2 for a cage [-].

    Returns
    -------
    Jet
        Regime, power of the jet, its sound power and loudest frequency [-, W, W, Hz].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: Wa = η W u²/2; D_j = N14 Fd √(Cv FL); η, jet velocity u and frequency St u/D_j by regime.
    Source: IEC 60534-8-3:2010, clause 5 with tables 3 and 4, second-hand. Its equations are written out in `fluids`.

    Examples
    --------
    >>> jet = jet_noise(2.22, 1e6, 7.2e5, rho=5.3, gamma=1.22, kv=77.85, fl=0.805, fd=0.296, efficiency=-3.8,
    ...                 strouhal=0.2)
    >>> int(jet.regime), round(float(jet.sound_power))
    (1, 22)
    """
    ratio, recovery = _ratio_and_square(p1, p2, fl)
    heats = in_range("gamma", gamma, 1.08, 1.65, "-", above=True, below=True)
    limits = _regime_limits(heats, recovery)
    regime: NDArray[np.int64] = 1 + np.sum([ratio > limit for limit in limits[:4]], axis=0)
    mach, sonic = _jet_mach(ratio, recovery, heats, regime, limits[4])
    velocity = np.where(regime == 1, mach, 1.0) * sound_speed(p1, rho, heats) * sonic
    power = positive("mass_flow", mass_flow, "kg/s") * velocity**2 / 2
    diameter = N14 * positive("fd", fd, "-") * np.sqrt(cv_from_kv(kv) * positive("fl", fl, "-"))
    part: Floats = np.power(10.0, in_range("efficiency", efficiency, -6, -2, "-"))
    share = part * _efficiency(ratio, recovery, mach, regime, limits)
    # In regime 1 the velocity has the Mach number in it already; above, the jet is faster than sound.
    faster = np.select([regime == 1, regime <= 3], [np.ones_like(mach), mach], 1.4 / np.sqrt(_above_one(mach)))
    frequency = in_range("strouhal", strouhal, 0.1, 0.3, "-") * faster * velocity / diameter
    return Jet(regime, power, share * power, frequency)


def wall_loss(
    frequency: ArrayLike, d: ArrayLike, d2: ArrayLike, wall: ArrayLike, rho: ArrayLike, speed: ArrayLike
) -> Floats:
    """How much quieter a steel pipe wall makes the sound in the gas inside it.

    Parameters
    ----------
    frequency : array_like
        Frequency [Hz].
    d, d2 : array_like
        Diameter of the valve outlet and inside diameter of the pipe behind it [m].
    wall : array_like
        Thickness of the pipe wall [m].
    rho, speed : array_like
        Density of the gas in that pipe and its speed of sound [kg/m³, m/s].

    Returns
    -------
    numpy.ndarray
        Transmission loss, negative [dB].

    Raises
    ------
    ValueError
        If an input is not above zero.

    Notes
    -----
    Equation: TL = 10 lg(8.25e-7 (c/(t f))² G_x/((ρ c + 2 π t f ρ_s η_s)/(415 G_y) + 1)) − ΔTL, η_s = √(0.01/f); G_x and
    G_y from the ring frequency and the coincidence frequencies.
    Source: IEC 60534-8-3:2010, equations 20 to 23 and table 6, second-hand. Air around at 1 atm.

    Examples
    --------
    >>> round(float(wall_loss(1000, 0.2, 0.2, 0.008, 11.1, 408)), 1)
    -56.9
    """
    f, inner, thick = positive("frequency", frequency, "Hz"), positive("d2", d2, "m"), positive("wall", wall, "m")
    c = positive("speed of sound", speed, "m/s")
    ring = PIPE_SPEED / (np.pi * inner)
    within, without = ring / 4 * c / AIR_SPEED, np.sqrt(3) * AIR_SPEED**2 / (np.pi * thick * PIPE_SPEED)
    gx = np.where(f < within, (within / ring) ** (2 / 3) * (f / within) ** 4, np.sqrt(np.minimum(f / ring, 1)))
    gy = np.minimum(np.where(f < within, within, f) / without, 1)
    heavy = positive("rho", rho, "kg/m³") * c + 2 * np.pi * thick * f * PIPE_DENSITY * np.sqrt(0.01 / f)
    passed: Floats = 8.25e-7 * (c / (thick * f)) ** 2 * gx / (heavy / (AIR_IMPEDANCE * gy) + 1)
    return 10 * np.log10(passed) - _small_outlet(positive("d", d, "m"))


def gas_noise(
    mass_flow: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    gamma: ArrayLike,
    kv: ArrayLike,
    fl: ArrayLike,
    fd: ArrayLike,
    efficiency: ArrayLike,
    strouhal: ArrayLike,
    d: ArrayLike,
    d2: ArrayLike,
    wall: ArrayLike,
) -> Noise:
    """Level beside the pipe behind a gas or steam valve of one stage.

    Parameters
    ----------
    mass_flow : array_like
        Mass flow, above 0 [kg/s].
    p1, p2 : array_like
        Pressure before and after the valve [Pa absolute].
    rho : array_like
        Density at the inlet [kg/m³].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    kv : array_like
        Flow coefficient at this opening [m³/h at 1 bar].
    fl, fd : array_like
        Recovery factor and style modifier there; FLP/FP in place of FL with reducers [-].
    efficiency, strouhal : array_like
        As in `jet_noise` [-].
    d, d2 : array_like
        Diameter of the valve outlet and inside diameter of the pipe behind it [m].
    wall : array_like
        Thickness of the pipe wall [m].

    Returns
    -------
    Noise
        Level, its third octaves, those inside, and the jet [dB(A), dB(A), dB, -].

    Raises
    ------
    ValueError
        If an input is out of range, or the gas leaves the valve faster than Mach 0.3.

    Notes
    -----
    Equation: L_pi = 10 lg(3.2e9 Wa ρ2 c2/D²) + 16 lg(1/(1 − M2)), spread over the bands about the jet's frequency;
    through the wall by `wall_loss`; from the wall to 1 m; A-weighted and added. Behind the valve the gas is as warm as
    before it.
    Source: IEC 60534-8-3:2010, clause 5, second-hand. Its clauses 6 (several stages) and 7 (outlet as a source) are
    left out.

    Examples
    --------
    >>> noise = gas_noise(2.22, 1e6, 7.2e5, rho=5.3, gamma=1.22, kv=77.85, fl=0.805, fd=0.296, efficiency=-3.8,
    ...                   strouhal=0.2, d=0.1, d2=0.2031, wall=0.008)
    >>> round(float(noise.level))
    92
    """
    jet = jet_noise(
        mass_flow, p1, p2, rho=rho, gamma=gamma, kv=kv, fl=fl, fd=fd, efficiency=efficiency, strouhal=strouhal
    )
    c, behind = sound_speed(p1, rho, gamma), np.asarray(rho) * np.asarray(p2) / np.asarray(p1)
    in_range("the Mach number at the valve outlet", gas_velocity(mass_flow, p1, p2, rho, d) / c, 0, MOST_MACH, "-")
    inner, thick = positive("d2", d2, "m"), positive("wall", wall, "m")
    in_pipe = np.minimum(gas_velocity(mass_flow, p1, p2, rho, inner) / c, MOST_MACH)
    overall = 10 * np.log10(3.2e9 * jet.sound_power * behind * c / inner**2) + 16 * np.log10(1 / (1 - in_pipe))
    ratio = BANDS / jet.frequency[..., None]
    inside = overall[..., None] - 8 - 10 * np.log10((1 + (ratio / 2) ** 2.5) * (1 + (0.5 / ratio) ** 1.7))
    last = (np.asarray(each, dtype=np.float64)[..., None] for each in (d, inner, thick, behind, c))
    outside = inside + wall_loss(BANDS, *last) - 10 * np.log10(1 + 2 / (inner + 2 * thick))[..., None]
    bands = outside + A_WEIGHTING
    return Noise(10 * np.log10(np.sum(10 ** (bands / 10), axis=-1)), bands, inside, jet)


def _ratio_and_square(p1: ArrayLike, p2: ArrayLike, fl: ArrayLike) -> tuple[Floats, Floats]:
    return pressure_drop(p1, p2) / positive("p1", p1, "Pa"), in_range("fl", fl, 0, 1, "-", above=True) ** 2


def _regime_limits(heats: Floats, recovery: Floats) -> tuple[Floats, ...]:
    """Return the drop ratios at which regimes 2 to 5 begin, and the recovery correction."""
    power = heats / (heats - 1)
    sonic = 1 - (2 / (heats + 1)) ** power
    begins = recovery * sonic
    alpha = (1 - sonic) / (1 - begins)
    return begins, sonic + 0 * recovery, 1 - (1 / heats) ** power / alpha, 1 - 1 / (_LAST_JET * alpha), alpha


def _jet_mach(
    ratio: Floats, recovery: Floats, heats: Floats, regime: NDArray[np.int64], alpha: Floats
) -> tuple[Floats, Floats]:
    """Return the Mach number of the jet, and the speed of sound in it over that at the inlet."""
    power = (heats - 1) / heats
    throat = np.where(regime == 1, 1 - ratio / recovery, 0.5)
    expanded = np.where(regime == 1, 1 / throat, np.minimum(1 / (alpha * (1 - np.minimum(ratio, 0.999))), _LAST_JET))
    mach = np.sqrt(2 / (heats - 1) * (expanded**power - 1))
    return mach, np.sqrt(np.where(regime == 1, throat**power, 2 / (heats + 1)))


def _efficiency(
    ratio: Floats, recovery: Floats, mach: Floats, regime: NDArray[np.int64], limits: tuple[Floats, ...]
) -> Floats:
    """Return the share of the jet's power that becomes sound, over 10 to the power Aη."""
    steep = 6.6 * recovery
    shocks = mach**steep
    return np.select(
        [regime == 1, regime == 2, regime == 3],
        [recovery * mach**3, ratio / limits[1] * shocks, shocks],
        mach**2 / 2 * np.sqrt(2) ** steep,
    )


def _above_one(mach: Floats) -> Floats:
    """Return M² − 1 where shocks set the frequency, and 1 where it is not used."""
    return np.where(mach > 1.01, mach**2 - 1, 1.0)


def _small_outlet(d: Floats) -> Floats:
    """Return the correction for a small valve outlet [dB]."""
    return np.select([d > 0.15, d < 0.05], [0.0, 9.0], -16660 * d**3 + 6370 * d**2 - 813 * d + 35.8)
