"""Reads what an apprentice typed: a number with a unit, letters, or pairs; or says politely why it cannot."""

from __future__ import annotations

import re
from dataclasses import dataclass

from lessons.units.quantities import Q, convert
from lessons.units.trade_units import unit_spelled

_NUMBER = re.compile(  # nothing for blanks in front: the class takes them, and two would try every way to share them
    r"(?P<number>(?:[-+−]?[\d.,' \u00a0\u202f]*\d[.,]?|[-+−]?[.,]\d+)(?:[eE][-+−]?\d+)?)\s*(?P<unit>\D.*)?$",
    re.DOTALL,
)
_LONGEST = 200  # an answer is a line; more is a slip of the mouse
_LARGEST, _SMALLEST = 1e15, 1e-15  # nothing here is measured beyond; what follows can then count on finite numbers


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
    found = list(zip(re.split(r"[a-z]", compact), re.findall(r"[a-z]", compact), strict=False))
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
    named = re.match(r"^(kv|cv)\s*(?:[=:]\s*)?([-+−]?[\d.,].*)$", line, re.IGNORECASE)
    return f"{named[2]} {named[1]}" if named else line


def _value(text: str) -> float | Unreadable:
    """Turn digits with a decimal point or comma into a number; ask back where a comma could mean thousands."""
    sign = -1.0 if text.lstrip()[0] in "-−" else 1.0
    mantissa, _, power = text.replace("−", "-").lower().partition("e")
    digits = re.sub(r"[-+'\s\u00a0\u202f]", "", mantissa)
    marks = re.findall(r"[.,]", digits)
    if len(marks) > 1 or re.search(r"\d\s+\d", mantissa):
        reason = "can be read in more than one way. Type it without thousands marks, such as 1200 or 1200.5"
        return Unreadable(f"“{_short(text.strip())}” {reason}.")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", digits):
        whole, part = digits.split(",")
        reason = f"could mean {whole}{part} or {whole}.{part}. Type it with a point or without the comma"
        return Unreadable(f"“{digits}” {reason}.")
    digits = digits.replace(",", ".")
    value = sign * float(f"{digits}e{power or '0'}")
    if float(digits) and not _SMALLEST <= abs(value) <= _LARGEST:
        size = "larger" if abs(value) > 1 else "smaller"
        return Unreadable(
            f"“{_short(text.strip())}” is {size} than anything measured here. Look at its digits once more."
        )
    return value


def _in_unit(value: float, spelled: str, unit: str) -> Q | Unreadable:
    if not spelled:
        return Q(value, unit)
    typed = unit_spelled(spelled)
    if typed is None:
        return Unreadable(
            f"The unit “{_short(spelled)}” is not known here. This question asks for {unit or 'a bare number'}."
        )
    if {typed.name, unit} <= {"%", "points"}:
        return Q(value, unit)
    try:
        return convert(Q(value, typed.name), unit)
    except ValueError:
        wanted = f"an answer in {unit}" if unit else "a bare number"
        return Unreadable(f"{Q(value, typed.name)} was read, but this question asks for {wanted}.")


def _sample(unit: str) -> str:
    """Return a number as it may be typed; a test holds that it answers no graded question."""
    return str(Q(0.85, unit))


def _short(text: str) -> str:
    return text if len(text) <= 30 else text[:27] + "…"
