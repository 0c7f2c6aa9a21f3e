"""Reads a number with its unit in the forms people type. What is unclear is asked back, and never guessed."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from lessons.units.quantities import Q, convert
from lessons.units.trade_units import unit_spelled

_NUMBER = re.compile(  # nothing for blanks in front: the class takes them, and two would try every way to share them
    r"(?P<number>(?:[-+−]?[\d.,' \u00a0\u202f]*\d[.,]?|[-+−]?[.,]\d+)(?:[eE][-+−]?\d+)?)\s*(?P<unit>\D.*)?$",
    re.DOTALL,
)
_FRACTION = re.compile(
    r"(?P<sign>[-+−]?)(?:(?P<whole>\d{1,6})(?P<join>[ -]))?(?P<top>\d{1,3})/(?P<bottom>\d{1,2})(?P<unit>(?!\d).*)"
)
_RATIO = re.compile(
    r"(?P<first>[\d.,]{1,20})\s{0,5}(?:[:∶：]|-?to-?|[/÷](?=\s?1$))\s{0,5}(?P<second>[\d.,]{1,20})", re.IGNORECASE
)
_ONE_SIGN = re.compile(r"(\d?) ?([¼½¾⅐-⅞])")
_RAISED_TEN = re.compile(r"10([⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]{1,3})")
_TIMES_TEN = re.compile(r" ?[x×·*] ?10 ?(?:\^|\*\*) ?([-+−]?\d{1,3})", re.IGNORECASE)
_TEN = re.compile(r"(?<![\d.,e])10(?:\^|\*\*)([-+−]?\d{1,3})")
_NAMED = re.compile(r"^(kv|cv)\s*(?::\s*)?([-+−]?[\d.,].*)$", re.IGNORECASE)
_BETWEEN = re.compile(r"[-+'\s\u00a0\u202f]")
_APART = re.compile(r"\d\s+\d")
_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:,\d{3}|\.\d\d0)")
_INCHES = (2, 3, 4, 8, 16, 32, 64)  # what a fraction is written in
_LENGTHS = ("mm", "cm", "m", "in", "ft")
_LONGEST, _LONGEST_WORKING = 200, 2_000  # an answer is a line, perhaps with its working; more is a slip
_LARGEST, _SMALLEST = 1e15, 1e-15  # nothing here is measured beyond; what follows can then count on finite numbers
_BEFORE = frozenset((
    "x", "y", "answer", "the", "my", "is", "it", "it's", "its", "i", "i'm", "im", "think", "believe", "guess",
    "about", "approx", "approximately", "ca", "circa", "roughly", "around", "nearly", "almost", "maybe",
    "perhaps", "probably", "so", "then", "that", "that's", "makes", "gives", "get", "got", "result", "would",
    "be", "should", "must", "some", "say", "would", "come", "comes", "to", "out", "at", "≈", "~", "→", "well",
    "ok", "ratio", "rangeability", "turndown", "",
))  # fmt: skip
_BEHIND = frozenset((
    "or", "so", "i", "i'm", "im", "am", "think", "believe", "guess", "about", "approx", "approximately",
    "roughly", "maybe", "perhaps", "probably", "quite", "pretty", "fairly", "very", "ish", "please", "",
))  # fmt: skip
# Marks that go with other digits: decimal, thousands, per cent.
_OTHER_MARKS = str.maketrans({"٫": ".", "٬": "'", "٪": "%"})
_UNSEEN = ("Cc", "Cf")
_WRITTEN_SMALL = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")


@dataclass(frozen=True)
class Unreadable:
    """Why an answer could not be read, as a sentence to the apprentice; it costs no try."""

    reason: str


def number(text: str, unit: str) -> Q | Unreadable:
    """Read a number and bring it to the unit asked for.

    >>> [str(number(text, "bar")) for text in ("4,5", "I think it is 4.5 bar", "p = 900/200 = 4.5 barg", "4½ bar")]
    ['4.5 bar', '4.5 bar', '4.5 bar', '4.5 bar']
    """
    line = _seen(text).strip().rstrip(".;!").strip()
    if not line:
        return Unreadable("There is no answer yet. Type it below the first line and press Shift+Enter.")
    if len(line) > (_LONGEST_WORKING if "=" in line else _LONGEST):
        return Unreadable("That is very long for a number. Type just the number and its unit.")
    *before, last = [_without_talk(each) for each in _plain(line).split("=")]
    read = _read(last, unit, line)
    return read if isinstance(read, Unreadable) else _unless_two(read, before[-1] if before else "", unit)


def _seen(text: str) -> str:
    """Return what a person sees of a line, with the marks that are read here."""
    if text.isascii() and text.isprintable():
        return text
    seen = (each for each in text if each.isspace() or unicodedata.category(each) not in _UNSEEN)
    return "".join(seen).translate(_OTHER_MARKS)


def _unless_two(read: Q, before: str, unit: str) -> Q | Unreadable:
    """Ask back where two different answers stand side by side, such as 4.2 bar = 5 bar."""
    if re.search(r"[a-zµ°%]", before.lower()):
        other = _read(before, unit, before)
        if isinstance(other, Q) and abs(other.value - read.value) > 0.02 * abs(read.value):
            return Unreadable(f"Two different answers were read, {other} and {read}. Type the one you mean.")
    return read


def _read(line: str, unit: str, whole: str) -> Q | Unreadable:
    if ratio := _RATIO.fullmatch(line):
        return _ratio(ratio, unit)
    fraction = _FRACTION.fullmatch(line)
    joined = fraction and fraction["join"] == "-"  # 1-1/2 in; of anything but a length it may be a working
    if fraction and int(fraction["bottom"]) in _INCHES and (not joined or unit in _LENGTHS):
        return _fraction(fraction, unit)
    match = _NUMBER.match(_unit_last(line))
    if not match:
        return Unreadable(f"“{short(whole)}” does not read as a number. Type a number such as {_sample(unit)}.")
    value = _value(match["number"])
    return value if isinstance(value, Unreadable) else _in_unit(value, (match["unit"] or "").strip(), unit)


def _plain(line: str) -> str:
    """Write fractions in one sign as 1/2, and powers of ten as e6."""
    line = _ONE_SIGN.sub(lambda found: f"{found[1]} {_in_digits(found[2])}", line).strip()
    line = _RAISED_TEN.sub(lambda found: "10^" + found[1].translate(_WRITTEN_SMALL), line)
    return _TEN.sub(r"1e\1", _TIMES_TEN.sub(r"e\1", line))


def _in_digits(sign: str) -> str:
    return unicodedata.normalize("NFKC", sign).replace("⁄", "/")


def _without_talk(line: str) -> str:
    """Leave out words round the number that do not change it, such as "I think it is" and "or so"."""
    words = line.replace("~", " ~ ").replace("≈", " ≈ ").split(" ")
    while words and words[0].lower().strip(",.:") in _BEFORE:
        del words[0]
    while words and words[-1].lower().strip(",.:()") in _BEHIND:
        del words[-1]
    return " ".join(words).strip(" ,;")


def _ratio(found: re.Match[str], unit: str) -> Q | Unreadable:
    first, second = _value(found["first"]), _value(found["second"])
    if isinstance(first, Unreadable) or isinstance(second, Unreadable) or not second:
        return Unreadable(f"“{found[0]}” does not read as a ratio. Type it such as 50 to 1.")
    if unit:
        return Unreadable(f"“{found[0]}” was read as a ratio, but this question asks for an answer in {unit}.")
    return Q(first / second)


def _fraction(found: re.Match[str], unit: str) -> Q | Unreadable:
    spelled = found["unit"].strip()
    if unit == "%" and not found["whole"] and not spelled:
        return Unreadable(f"“{found[0]}” could be per cent or a share of the whole. Type it in per cent, such as 75 %.")
    value = int(found["whole"] or 0) + int(found["top"]) / int(found["bottom"])
    return _in_unit(-value if found["sign"] in ("-", "−") and found["sign"] else value, spelled, unit)


def _unit_last(line: str) -> str:
    """Bring "Kv 40" and "40 Kv" into one shape."""
    named = _NAMED.match(line)
    return f"{named[2]} {named[1]}" if named else line


def _value(text: str) -> float | Unreadable:
    """Turn digits with a decimal point or comma into a number; ask back where a mark could mean thousands."""
    sign = -1.0 if text.lstrip()[0] in "-−" else 1.0
    mantissa, _, power = text.replace("−", "-").lower().partition("e")
    digits = _BETWEEN.sub("", mantissa)
    if digits.count(".") + digits.count(",") > 1 or _APART.search(mantissa):
        reason = "can be read in more than one way. Type it without thousands marks, such as 1200 or 1200.5"
        return Unreadable(f"“{short(text.strip())}” {reason}.")
    # Nobody types an idle zero behind a decimal point, so 4.200 looks like thousands; 4.236 does not.
    if not power and _THOUSANDS.fullmatch(digits):
        whole, part = re.split(r"[.,]", digits)
        reason = f"could mean {whole}{part} or {whole}.{part}. Type it without the mark, or without zeros at its end"
        return Unreadable(f"“{digits}” {reason}.")
    digits = digits.replace(",", ".")
    value = sign * float(f"{digits}e{power or '0'}") if len(power) < 6 else float("inf")
    if float(digits) and not _SMALLEST <= abs(value) <= _LARGEST:
        size = "larger" if abs(value) > 1 else "smaller"
        return Unreadable(
            f"“{short(text.strip())}” is {size} than anything measured here. Look at its digits once more."
        )
    return value


def _in_unit(value: float, spelled: str, unit: str) -> Q | Unreadable:
    if not spelled:
        return Q(value, unit)
    typed = unit_spelled(spelled)
    if typed is None:
        return Unreadable(
            f"The unit “{short(spelled)}” is not known here. This question asks for {unit or 'a bare number'}."
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
    return str(Q(0.37, unit))


def short(text: str) -> str:
    """Return the beginning of a text that may be long.

    >>> short("4.2 bar")
    '4.2 bar'
    """
    return text if len(text) <= 30 else text[:27] + "…"
