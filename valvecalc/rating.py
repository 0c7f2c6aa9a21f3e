"""How much pressure a body may hold at its temperature, by class and material, and the pressure of its shell test.

A class is not a pressure: the hotter a body is, the less it may hold. Codes, the site's piping class and the plate on
the valve decide; a bonnet gasket, packing or soft seat may allow less than the metal.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, one_of
from valvecalc.units import BAR

CLASSES = ("150", "300", "600")
TEST_STEP = BAR  # the shell test is rounded up to a whole bar: ASME B16.34, from memory
TEST_FACTOR = 1.5
COLD = 311.15  # K: 38 °C, up to which the rating stays the same
COLDEST = -29 + 273.15  # K, the lower end of the tables
# Temperature [°C] and rating [bar gauge]: ASME B16.34, standard class, second-hand (three public transcriptions of the
# same table in B16.5 agree). Above 400 °C other rules apply, so the tables end there.
TEMPERATURES = np.array([38, 50, 100, 150, 200, 250, 300, 350, 400.0])
RATINGS = {
    "carbon steel": {
        "150": np.array([19.6, 19.2, 17.7, 15.8, 13.8, 12.1, 10.2, 8.4, 6.5]),
        "300": np.array([51.1, 50.1, 46.6, 45.1, 43.8, 41.9, 39.8, 37.6, 34.7]),
        "600": np.array([102.1, 100.2, 93.2, 90.2, 87.6, 83.9, 79.6, 75.1, 69.4]),
    },  # group 1.1: A216 WCB cast, A105 forged
    "316 stainless steel": {
        "150": np.array([19.0, 18.4, 16.2, 14.8, 13.7, 12.1, 10.2, 8.4, 6.5]),
        "300": np.array([49.6, 48.1, 42.2, 38.5, 35.7, 33.4, 31.6, 30.3, 29.4]),
        "600": np.array([99.3, 96.2, 84.4, 77.0, 71.3, 66.8, 63.2, 60.7, 58.9]),
    },  # group 2.2: A351 CF8M cast, A182 F316 forged
}
MATERIALS = tuple(RATINGS)


def rated_pressure(material: str, pressure_class: str, temperature: ArrayLike) -> Floats:
    """Highest pressure a body of a class may hold at a temperature.

    Parameters
    ----------
    material : str
        "carbon steel" (group 1.1) or "316 stainless steel" (group 2.2) [no unit].
    pressure_class : str
        "150", "300" or "600" [no unit].
    temperature : array_like
        Temperature of the shell, taken as that of the fluid, 244.15 to 673.15, which is -29 to 400 °C [K].

    Returns
    -------
    numpy.ndarray
        Rating, same shape [Pa gauge].

    Raises
    ------
    ValueError
        If material or class is not in the tables, or the temperature lies outside them.

    Notes
    -----
    Equation: the table's value, on a straight line between two temperatures; constant up to 38 °C.
    Source: ASME B16.34, standard class, groups 1.1 and 2.2, second-hand.

    Examples
    --------
    >>> round(float(rated_pressure("carbon steel", "300", 473.15)) / 1e5, 1)
    43.8
    """
    table = RATINGS[one_of("material", material, MATERIALS)][one_of("pressure_class", pressure_class, CLASSES)]
    hot = in_range("temperature", temperature, COLDEST, TEMPERATURES[-1] + 273.15, "K")
    bar: Floats = np.asarray(np.interp(hot - 273.15, TEMPERATURES, table))
    return np.float64(BAR) * bar


def shell_test_pressure(material: str, pressure_class: str) -> Floats:
    """Pressure the body is tested with when it is new, or after its shell was repaired.

    Parameters
    ----------
    material : str
        As for `rated_pressure` [no unit].
    pressure_class : str
        "150", "300" or "600" [no unit].

    Returns
    -------
    numpy.ndarray
        Test pressure, with the valve part open, the ends closed and cold water [Pa gauge].

    Raises
    ------
    ValueError
        If material or class is not in the tables.

    Notes
    -----
    Equation: 1.5 times the rating at 38 °C, rounded up to a whole bar.
    Source: ASME B16.34, second-hand for 1.5 and 38 °C, from memory for the rounding.

    Examples
    --------
    >>> round(float(shell_test_pressure("carbon steel", "150")) / 1e5, 1)
    30.0
    """
    wanted = np.float64(TEST_FACTOR) * rated_pressure(material, pressure_class, COLD)
    return np.float64(TEST_STEP) * np.ceil(np.round(wanted / TEST_STEP, 6))


def lightest_class(material: str, pressure_gauge: float, temperature: float) -> str:
    """Lowest class whose body may hold a pressure at a temperature.

    Parameters
    ----------
    material : str
        As for `rated_pressure` [no unit].
    pressure_gauge : float
        Highest pressure the body will see, 0 or more [Pa gauge].
    temperature : float
        Its temperature at that pressure [K].

    Returns
    -------
    str
        "150", "300" or "600"; empty if none of them is enough [no unit].

    Raises
    ------
    ValueError
        If material, pressure or temperature is outside what the tables cover.

    Notes
    -----
    Equation: the first class whose rating is at least the pressure.
    Source: as `rated_pressure`.

    Examples
    --------
    >>> lightest_class("carbon steel", 15e5, 393.15), lightest_class("carbon steel", 15e5, 473.15)
    ('150', '300')
    """
    held = float(in_range("pressure_gauge", pressure_gauge, 0, np.inf, "Pa"))
    enough = (each for each in CLASSES if float(rated_pressure(material, each, temperature)) >= held * (1 - 1e-9))
    return next(enough, "")
