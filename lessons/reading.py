"""Reads what an apprentice typed: a number with a unit, letters, or pairs; or says politely why it cannot."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessons.quantities import Q, convert, plain

_UNIT_SPELLINGS = {
    "%": "% percent pct per_cent",
    "bar": "bar bars",
    "kPa": "kpa",
    "MPa": "mpa",
    "psi": "psi psig psia psid lbf/in2 lb/in2",
    "mm": "mm",
    "m": "m",
    "ft": "ft feet foot",
    "in": 'in inch inches "',
    "m³/h": "m3/h m³/h m3/hr m³/hr m^3/h cbm/h",
    "gpm": "gpm usgpm gal/min us_gpm",
    "N": "n newton newtons",
    "kN": "kn",
    "lbf": "lbf lb lbs pounds",
    "N/mm": "n/mm",
    "lbf/in": "lbf/in lb/in",
    "cm²": "cm2 cm² cm^2",
    "mm²": "mm2 mm² mm^2",
    "in²": "in2 in² in^2 sqin",
    "°C": "°c c degc deg_c",
    "°F": "°f f degf deg_f",
    "s": "s sec secs second seconds",
    "mA": "ma",
    "Kv": "kv",
    "Cv": "cv",
    "mL/min": "ml/min cc/min cm3/min",
    "L/h": "l/h",
    "L": "l litre litres liter liters",
    "in³": "in3 in³ in^3",
    "kg/h": "kg/h kg/hr",
    "lb/h": "lb/h lb/hr",
    "kg/m³": "kg/m3 kg/m³",
    "lb/ft³": "lb/ft3 lb/ft³",
    "points": "points point pts",
    "bubbles/min": "bubbles/min bubbles",
}
_UNITS = {spelling: unit for unit, spellings in _UNIT_SPELLINGS.items() for spelling in spellings.split()}
_NUMBER = re.compile(r"^\s*(?P<number>[-+−]?[\d.,' \u00a0\u202f]*\d[.,]?|[-+−]?[.,]\d+)\s*(?P<unit>\D.*)?$", re.DOTALL)
_LONGEST = 200  # an answer is a line; more is a slip of the mouse


@dataclass(frozen=True)
class Unreadable:
    """Why an answer could not be read, as a sentence to the apprentice; it costs no try."""

    reason: str


def number(text: str, unit: str) -> Q | Unreadable:
    """Read a number and bring it to the unit asked for.

    >>> str(number("37,5 %", "%")), str(number(" 87 psi", "bar"))
    ('37.5 %', '5.998438845 bar')
    """
    line = text.strip().rstrip(".;!").strip()
    if not line:
        return Unreadable("There is no answer yet. Type it below the first line and press Shift+Enter.")
    if len(line) > _LONGEST:
        return Unreadable("That is very long for a number. Type just the number and its unit.")
    match = _NUMBER.match(_unit_last(line))
    if not match:
        return Unreadable(f"“{_short(line)}” does not read as a number. Type a number such as {_sample(unit)}.")
    value = _value(match["number"])
    if isinstance(value, Unreadable):
        return value
    return _in_unit(value, (match["unit"] or "").strip(), unit)


def letters(text: str, allowed: str, *, how_many: int | None = None) -> tuple[str, ...] | Unreadable:
    """Read letters in the order typed.

    >>> letters("B) and c", "abcd")
    ('b', 'c')
    """
    words = re.findall(r"[^\s,;.:()\[\]>→/-]+", text.strip().lower())
    words = [word for word in words if word not in ("and", "then", "und", "&", "+", "answer", "option")]
    picked = list(words[0]) if len(words) == 1 and len(words[0]) > 1 else words
    if not picked:
        return Unreadable("There is no answer yet. Type the letter below the first line and press Shift+Enter.")
    strange = [word for word in picked if len(word) != 1 or word not in allowed]
    if strange:
        return Unreadable(f"“{_short(text.strip())}” is not among the letters {', '.join(allowed)}. Type letters only.")
    if len(set(picked)) != len(picked):
        return Unreadable("A letter stands there twice. Type each letter once.")
    if how_many is not None and len(picked) != how_many:
        wanted = "one letter" if how_many == 1 else f"all {how_many} letters, each once"
        return Unreadable(f"{len(picked)} letters were read, but this question wants {wanted}.")
    return tuple(picked)


def pairs(text: str, places: tuple[str, ...], allowed: str) -> dict[str, str] | Unreadable:
    """Read pairs of a place number and a letter.

    >>> pairs("1c, 2-a 12 = b", ("1", "2", "12"), "abc")
    {'1': 'c', '2': 'a', '12': 'b'}
    """
    compact = re.sub(r"[\s,;:=()>→.-]+", "", text.strip().lower())
    if not compact:
        return Unreadable("There is no answer yet. Type pairs such as 1c 2a and press Shift+Enter.")
    if not re.fullmatch(r"(\d+[a-z])+", compact, re.ASCII):
        return Unreadable(f"“{_short(text.strip())}” does not read as pairs. Type them like this: 1c 2a.")
    found = re.findall(r"(\d+)([a-z])", compact)
    for place, letter in found:
        if place not in places or letter not in allowed:
            known = f"the numbers {', '.join(places)} and the letters {', '.join(allowed)}"
            return Unreadable(f"{_short(place + letter)} is not among {known}.")
    if sorted(place for place, _ in found) != sorted(places):
        return Unreadable(f"Each of the numbers {', '.join(places)} needs exactly one letter.")
    return dict(found)


def _unit_last(line: str) -> str:
    """Bring "Kv = 40" and "about 40 Kv" into one shape."""
    line = re.sub(r"^(about|approx\.?|ca\.?|=|≈|~|\s)+", "", line, flags=re.IGNORECASE)
    named = re.match(r"^(kv|cv)\s*[=:]?\s*([-+−]?[\d.,].*)$", line, re.IGNORECASE)
    return f"{named[2]} {named[1]}" if named else line


def _value(text: str) -> float | Unreadable:
    """Turn digits with a decimal point or comma into a number; ask back where a comma could mean thousands."""
    sign = -1.0 if text.lstrip()[0] in "-−" else 1.0
    digits = re.sub(r"[-+−'\s\u00a0\u202f]", "", text)
    marks = re.findall(r"[.,]", digits)
    if len(marks) > 1 or re.search(r"\d\s+\d", text):
        reason = "can be read in more than one way. Type it without thousands marks, such as 1200 or 1200.5"
        return Unreadable(f"“{text.strip()}” {reason}.")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", digits):
        whole, part = digits.split(",")
        reason = f"could mean {whole}{part} or {whole}.{part}. Type it with a point or without the comma"
        return Unreadable(f"“{digits}” {reason}.")
    return sign * float(digits.replace(",", "."))


def _in_unit(value: float, spelled: str, unit: str) -> Q | Unreadable:
    key = re.sub(r"\s+", "_" if spelled.lower().startswith(("per", "us", "deg")) else "", spelled.lower()).rstrip(".")
    if not key:
        return Q(value, unit)
    typed = _UNITS.get(key)
    if typed is None:
        wanted = unit or "a bare number"
        return Unreadable(f"The unit “{_short(spelled)}” is not known here. This question asks for {wanted}.")
    if {typed, unit} <= {"%", "points"}:
        return Q(value, unit)
    try:
        return convert(Q(value, typed), unit)
    except ValueError:
        wanted = f"an answer in {unit}" if unit else "a bare number"
        return Unreadable(f"{plain(value)} {typed} was read, but this question asks for {wanted}.")


def _sample(unit: str) -> str:
    """Return a number as it may be typed; a test holds that it answers no graded question."""
    return str(Q(0.85, unit))


def _short(text: str) -> str:
    return text if len(text) <= 30 else text[:27] + "…"
