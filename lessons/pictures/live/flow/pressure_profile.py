"""Live picture: the pressure along a valve, down into the vena contracta and up again.

The way between the three pressures, and how far the bubbles reach, are sketched and stand for no measurement.
The lowest pressure follows from FL, which is defined as √((P1 − P2)/(P1 − Pvc)): Pvc = P1 − Δp/FL², down to
FF·Pv, where the flow chokes (IEC 60534-2-1).
That FL, found from choked flow, also tells how much an unchoked valve recovers is common practice, no source. It
gives the mean of the jet; cavitation begins before that mean meets the vapour pressure, from xF = xFz on
(IEC 60534-8-4, from memory).
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.pressure_drawing import BUBBLES, FALL, JET, PARKED, RISE, STYLES, draw_pressures
from lessons.units.readout import to_decimals
from valvecalc.cavitation import differential_pressure_ratio, liquid_verdict
from valvecalc.liquid import choked_drop
from valvecalc.units import BAR
from valvecalc.water import WATER_CRITICAL_PRESSURE as PC
from valvecalc.water import vapour_pressure

WAY = np.linspace(0, 1, 121)
DIGITS = {"si": 2, "us": 1}  # decimals of a pressure
SAYS = {
    "none": "no cavitation yet",
    "cavitation": "cavitation, not choked",
    "choked": "cavitation, choked",
    "flashing": "flashing",
}
ALT = (
    "Pressure along the way through a butterfly and a globe valve, from the inlet down to the jet behind the "
    "narrowest place, and up again to the outlet. From its xFz on, or where a curve dips below the vapour "
    "pressure, bubbles are drawn in the pipe; stars mark where they collapse."
)


def pressure_profile(units: str = "si") -> MovingPicture:
    """Return the live picture of the pressure along a valve; sliders for both pressures and temperature."""
    figure, pressure_axis = draw_pressures()

    def move(p1: float, p2: float, temperature: float, units: str) -> dict[str, Any]:
        pv = float(vapour_pressure(temperature))
        moved: dict[str, Any] = {
            **pressure_axis(units),
            "boils": [(0, 0), (1, 0), (1, pv), (0, pv)],
            "vapour": [(0, pv), (1, pv)],
            "vapour_says": (f"boils below {to_decimals(pv, 'bar', units, DIGITS[units])}", (0.01, pv + 0.12 * BAR)),
        }
        for style in STYLES:
            moved |= _one(style, p1, p2, pv, units)
        return moved

    sliders = (
        Slider("p1", "inlet, absolute", 6 * BAR, 12 * BAR, 0.1 * BAR, 6 * BAR, "bar"),
        Slider("p2", "outlet, absolute", 0.5 * BAR, 5.5 * BAR, 0.1 * BAR, 5.0 * BAR, "bar"),
        Slider("temperature", "water temperature", 293.15, 423.15, 5, 298.15, "°C"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _one(style: str, p1: float, p2: float, pv: float, units: str) -> dict[str, Any]:
    _, fl, xfz = STYLES[style]
    jet = jet_pressure(p1, p2, pv, fl)
    pressures = profile(WAY, p1, jet, p2, _pocket(p1, p2, pv, fl))
    verdict = str(liquid_verdict(p1, p2, pv, PC, fl, xfz=xfz))
    reach = _reach(p1, p2, pv, fl, xfz) if verdict == "cavitation" else 0.0
    boiling = (np.interp(BUBBLES[:, 0], WAY, pressures) < pv) | (np.abs(BUBBLES[:, 0] - JET) < reach)
    again = WAY[1:][(pressures[:-1] < pv) & (pressures[1:] >= pv)]
    end = max([0.0, *again[:1], JET + reach if reach else 0.0])
    stars = [(end + 0.015, y) for y in (-0.22, 0.0, 0.22)] if end else [PARKED] * 3
    return {
        f"{style}_curve": np.column_stack([WAY, pressures]),
        f"{style}_bubbles": np.where(boiling[:, None], BUBBLES, PARKED),
        f"{style}_collapse": stars,
        f"{style}_verdict": SAYS[verdict],
        f"{style}_jet": f"jet, on the mean, {to_decimals(jet, 'bar', units, DIGITS[units])}",
    }


def _reach(p1: float, p2: float, pv: float, fl: float, xfz: float) -> float:
    """Return how far from the jet the first bubbles are drawn, from xFz up to choking; a sketch."""
    return 0.02 + 0.08 * (float(differential_pressure_ratio(p1, p2, pv)) - xfz) / (fl**2 - xfz)


def jet_pressure(p1: float, p2: float, pv: float, fl: float) -> float:
    """Return the pressure of the vena contracta [Pa]: P1 − Δp/FL², not below FF·Pv, where the flow chokes."""
    drop = min(p1 - p2, float(choked_drop(p1, pv, PC, fl)))
    return p1 - drop / fl**2


def profile(way: NDArray[np.float64], p1: float, jet: float, p2: float, pocket: float = 0.0) -> NDArray[np.float64]:
    """Return pressures along the way: level, down to the jet, level in its pocket, up to the outlet."""
    down = 0.5 - 0.5 * np.cos(np.pi * np.clip((way - FALL) / (JET - FALL), 0, 1))
    up = 0.5 - 0.5 * np.cos(np.pi * np.clip((way - JET - pocket) / (RISE - JET), 0, 1))
    return np.asarray(p1 + (jet - p1) * down + (p2 - jet) * up)


def _pocket(p1: float, p2: float, pv: float, fl: float) -> float:
    """Return how far the bubbles reach beyond the jet: further with more drop than starts them; a sketch."""
    starts = fl**2 * (p1 - pv)
    beyond = max(0.0, (p1 - p2) / starts - 1)
    return 0.2 * beyond / (beyond + 0.25) if p2 >= pv else 0.0
