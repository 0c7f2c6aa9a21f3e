"""The one table of trade units: what each is called, how people type it, what it is in pint, its twin in the other set.

Reading an answer, the boxes of a job card and the marking of a hand-in all take their units from here, so none of them
can know a unit that another does not. To add one, add a line; a test takes every line through all three.
"""

from __future__ import annotations

import functools
import re
import unicodedata
from dataclasses import dataclass


@dataclass(frozen=True)
class Unit:
    """One trade unit: its name as shown, the same in pint, other ways to type it, its twin in the US set."""

    name: str
    pint: str
    typed: str = ""  # spellings with a space between them; case, spaces, "^" and raised digits make no difference
    twin: str = ""  # "" where both sets use this unit


# What pint has to be told. A flow coefficient is a flow per root of a pressure drop (of water), so pint can turn one
# into the other. Bubbles and drops are counted; how much one holds depends on the tube, so they turn into nothing else.
DEFINITIONS = (
    "Kv = meter**3 / hour / bar**0.5",
    "Cv = gallon / minute / psi**0.5",
    "bubble = [bubble]",
    "drop = [drop]",
    "level_dBA = [level]",  # a number of a scale; two of them do not add up
    # A column of liquid at the temperature it is stated for: 13595.1 kg/m³ and 999.972 kg/m³, standard gravity.
    "mm_Hg_0C = 133.322 * pascal",
    "inch_Hg_32F = 25.4 * mm_Hg_0C",
    "mm_H2O_4C = 9.80638 * pascal",
    "inch_H2O_39F = 25.4 * mm_H2O_4C",
)
_ALL = (
    Unit("", "dimensionless"),
    Unit("%", "percent", "percent pct"),
    Unit("points", "percent", "point pts"),
    Unit("bar", "bar", "bars barg bara", "psi"),
    Unit("mbar", "millibar", "mbars", "psi"),
    Unit("Pa", "pascal", "pascals", "psi"),
    Unit("kPa", "kilopascal", "", "psi"),
    Unit("MPa", "megapascal", "", "psi"),
    Unit("psi", "psi", "psig psia psid lbf/in2 lb/in2"),
    Unit("kg/cm²", "kilogram_force/centimeter**2", "kgf/cm2 kp/cm2 at", "psi"),
    Unit("inHg", "inch_Hg_32F", 'in.hg inchhg "hg', "psi"),
    Unit("mmHg", "mm_Hg_0C", "mm.hg torr", "psi"),
    Unit("inH2O", "inch_H2O_39F", "inwc in.wc in.h2o inchh2o", "psi"),
    Unit("mmH2O", "mm_H2O_4C", "mmwc mm.h2o", "psi"),
    Unit("mm", "millimeter", "", "in"),
    Unit("cm", "centimeter", "", "in"),
    Unit("m", "meter", "", "ft"),
    Unit("ft", "foot", "feet foot"),
    Unit("in", "inch", 'inch inches " ” ″'),
    Unit("cm²", "centimeter**2", "", "in²"),
    Unit("mm²", "millimeter**2", "", "in²"),
    Unit("in²", "inch**2", "sqin"),
    Unit("L", "liter", "litre litres liter liters", "in³"),
    Unit("mL", "milliliter", "millilitre milliliter cc cm3", "in³"),
    Unit("in³", "inch**3", "cuin"),
    Unit("m³/h", "meter**3/hour", "m3/hr cbm/h nm3/h", "gpm"),
    Unit("m³/min", "meter**3/minute", "cbm/min nm3/min", "gpm"),
    Unit("gpm", "gallon/minute", "usgpm gal/min usgal/min"),
    Unit("L/h", "liter/hour", "l/hr"),
    Unit("L/min", "liter/minute", "lpm", "gpm"),
    Unit("L/s", "liter/second", "", "gpm"),
    Unit("mL/min", "milliliter/minute", "cc/min cm3/min ccm sccm"),
    Unit("bubbles/min", "bubble/minute", "bubbles bubble bubble/min bpm"),
    Unit("drops/min", "drop/minute", "drops drop drop/min"),
    Unit("ft³/h", "foot**3/hour", "scfh cfh scf/h ft3/hr"),
    Unit("ft³/min", "foot**3/minute", "scfm cfm scf/min"),
    Unit("m/s", "meter/second", "", "ft/s"),
    Unit("ft/s", "foot/second", "fps"),
    Unit("dB(A)", "level_dBA", "db dba decibel decibels"),
    Unit("Hz", "hertz", "hertz"),
    Unit("kHz", "kilohertz"),
    Unit("years", "year", "year yr yrs"),
    Unit("months", "month", "month"),
    Unit("h", "hour", "hr hrs hour hours"),
    Unit("kg/h", "kilogram/hour", "kg/hr", "lb/h"),
    Unit("lb/h", "pound/hour", "lb/hr lbs/h lbs/hr"),
    Unit("kg/m³", "kilogram/meter**3", "", "lb/ft³"),
    Unit("lb/ft³", "pound/foot**3", "lbs/ft3"),
    Unit("N", "newton", "newton newtons", "lbf"),
    Unit("kN", "kilonewton", "", "lbf"),
    Unit("lbf", "force_pound", "lb lbs pound pounds"),
    Unit("N/mm", "newton/millimeter", "", "lbf/in"),
    Unit("lbf/in", "force_pound/inch", "lb/in lbs/in"),
    Unit("J", "joule", "joule joules", "ft·lbf"),
    Unit("N·m", "newton*meter", "n-m n.m", "ft·lbf"),
    Unit("ft·lbf", "foot*force_pound", "ft-lbf ft-lb lbf·ft lb-ft"),
    Unit("°C", "degree_Celsius", "c degc", "°F"),
    Unit("°F", "degree_Fahrenheit", "f degf"),
    Unit("K", "kelvin", "kelvin"),
    Unit("s", "second", "sec secs second seconds"),
    Unit("min", "minute", "mins minute minutes"),
    Unit("mA", "milliampere"),
    Unit("V", "volt", "volts volt"),
    Unit("Ω", "ohm", "ohm ohms"),
    Unit("Kv", "Kv", "", "Cv"),
    Unit("Cv", "Cv"),
)
UNITS = {unit.name: unit for unit in _ALL}


def unit_named(name: str) -> Unit:
    """Return the unit of this name.

    Raises
    ------
    ValueError
        If there is none.
    """
    if name not in UNITS:
        raise ValueError(f"There is no trade unit “{name}”. Those known are: {', '.join(filter(None, UNITS))}.")
    return UNITS[name]


@functools.lru_cache(maxsize=4096)  # a class types the same few over and over
def unit_spelled(typed: str) -> Unit | None:
    """Return the unit somebody means who types this, or None.

    >>> [unit_spelled(typed).name for typed in ("PSI", "m^3 / hr", "deg C", "per cent", "bubbles")]
    ['psi', 'm³/h', '°C', '%', 'bubbles/min']
    """
    plain = _plainly(typed)
    return _SPELLED.get(plain) or _SPELLED.get(_plainly(_in_signs(typed))) or _pressure(plain)


def _pressure(plain: str) -> Unit | None:
    """Return the unit of a pressure that is said to be gauge or absolute."""
    bare = re.sub(r"\(?(?:gauge|gage|absolute|abs|a|g)\)?$", "", plain)
    found = _SPELLED.get(bare) if bare != plain else None
    return found if (found and found.twin == "psi") or (found and found.name == "psi") else None


def _in_signs(typed: str) -> str:
    """Write a unit in words with signs, such as "cubic metres per hour" as "m3/h"."""
    words = re.sub(r"per ?cent\b", "%", typed.lower()).replace("-", " ").replace("/", " / ").split()
    signs, raised = [], ""
    for word in words:
        if word in _RAISED:
            raised = _RAISED[word]
        elif word in ("squared", "cubed"):
            signs.append("2" if word == "squared" else "3")
        else:
            signs.append(_SIGNS.get(word.removesuffix("s"), _SIGNS.get(word, word)) + raised)
            raised = ""
    return "".join(signs)


_RAISED = {"square": "2", "cubic": "3", "sq": "2", "cu": "3"}
_SIGNS = {
    "per": "/",
    "a": "/",
    "us": "us",
    "metre": "m",
    "meter": "m",
    "centimetre": "cm",
    "centimeter": "cm",
    "millimetre": "mm",
    "millimeter": "mm",
    "inch": "in",
    "inche": "in",
    "foot": "ft",
    "feet": "ft",
    "litre": "l",
    "liter": "l",
    "millilitre": "ml",
    "milliliter": "ml",
    "gallon": "gal",
    "hour": "h",
    "hr": "h",
    "minute": "min",
    "second": "s",
    "kilogram": "kg",
    "kilogramme": "kg",
    "kilo": "kg",
    "pound": "lb",
    "newton": "n",
    "kilonewton": "kn",
    "force": "f",
    "bar": "bar",
    "millibar": "mbar",
    "pascal": "pa",
    "kilopascal": "kpa",
    "megapascal": "mpa",
    "joule": "j",
    "drop": "drops",
    "of": "",
    "mercury": "hg",
    "water": "h2o",
    "degree": "",
    "celsius": "c",
    "centigrade": "c",
    "fahrenheit": "f",
    "milliamp": "ma",
    "milliampere": "ma",
    "bubble": "bubbles",
    "percent": "%",
    "point": "points",
}


def _plainly(typed: str) -> str:
    """Write a unit as the table's keys are written: small letters, raised digits as digits, no spaces."""
    return re.sub(r"[\s_^·*]", "", unicodedata.normalize("NFKC", typed).lower()).removesuffix(".")


_SPELLED = {_plainly(typed): unit for unit in _ALL for typed in (unit.name, *unit.typed.split())}
