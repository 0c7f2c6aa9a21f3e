"""What sheet and plate say in one line, brought to one form so that it can be compared."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from typing import NamedTuple

from lessons.card_page.ranges import read_range
from lessons.questions import read_number
from lessons.questions.read_number import Unreadable
from lessons.units.quantities import Q, to_base
from lessons.units.trade_units import unit_spelled

AGREES, DIFFERS, UNSURE, NOT_GIVEN = "agrees", "differs", "not certain", "not given"
NEAR = 0.01  # of the larger number: what rounding on a plate may do. Own choice, no source
_LONGEST = 60
_NO_NUMBER = re.compile(r"\b(nan|inf)\b", re.IGNORECASE)  # in an answer it would pass for a number gone wrong
# Nominal sizes, NPS in inches -> DN: ISO 6708 and ASME B36.10M, from memory.
_DN = {
    0.5: 15,
    0.75: 20,
    1: 25,
    1.25: 32,
    1.5: 40,
    2: 50,
    2.5: 65,
    3: 80,
    4: 100,
    5: 125,
    6: 150,
    8: 200,
    10: 250,
    12: 300,
    14: 350,
    16: 400,
    18: 450,
    20: 500,
    24: 600,
}
# Names of metals that one wider name covers: the groups 1.1 and 2.2 of ASME B16.34, second-hand.
_GROUP = {"wcb": "carbon", "a105": "carbon", "cf8m": "316", "f316": "316"}
_ISSUER = re.compile(r"\b(astm|asme|s?a-?(?:216|351|182)|gr|grade|stainless|steel|ss)\b")
_CHARACTERISTICS = {
    "equal percentage": {
        "equalpercentage",
        "equalpercent",
        "equal%",
        "eq%",
        "=%",
        "eqpercentage",
        "eqpercent",
        "eqpct",
    },
    "linear": {"linear", "lin"},
    "quick opening": {"quickopening", "quickopen", "qo"},
}
_ACTIONS = {
    "air opens": {"airtoopen", "airopens", "ato", "failclosed", "failsclosed", "failclose", "fc", "springtoclose"},
    "air shuts": {"airtoclose", "airshuts", "airtoshut", "atc", "failopen", "failsopen", "fo", "springtoopen"},
    "actuator": {"direct", "directacting", "reverse", "reverseacting"},
}
_PRESSURES = ("bar", "mbar", "kPa", "MPa", "psi", "kg/cm²")


class Line(NamedTuple):
    """One line: its name, how it is brought to one form, and what it means if sheet and plate differ."""

    name: str
    label: str
    form: Callable[[str], Hashable | Unreadable]
    means: str


def _size(text: str) -> Hashable | Unreadable:
    found = re.fullmatch(r"(dn|nps)? ?([\d/.¼½¾ -]{1,9}) ?(in|inch|inches|mm|\"|”|″)?", text.lower())
    such_as = Unreadable("Type the size as DN 80, NPS 3 or 3 in.")
    if not found or not (found[1] or found[3]):
        return such_as
    number = read_number.number(found[2], "")
    if isinstance(number, Unreadable):
        return such_as
    inches = found[1] == "nps" or found[3] not in (None, "mm")
    dn = _DN.get(number.value) if inches else number.value
    return (
        f"DN {dn:g}" if dn in _DN.values() else Unreadable(f"“{text}” is no nominal size known here. {such_as.reason}")
    )


def _rating(text: str) -> Hashable | Unreadable:
    found = re.fullmatch(r"(class|cl|ansi|asme|pn)?\.? ?(\d{1,4}) ?(#|lb|lbs)?", text.lower())
    if not found:
        return Unreadable("Type the rating as class 300, 300# or PN 40.")
    return ("PN" if found[1] == "pn" else "class", int(found[2]))


def _metal(text: str) -> Hashable | Unreadable:
    words = re.findall(r"[a-z0-9]+", _ISSUER.sub(" ", text.lower())) or re.findall(r"[a-z0-9]+", text.lower())
    return " ".join(words) if words else Unreadable("Type the metal as the plate says it, such as WCB or CF8M.")


def _words(text: str) -> Hashable | Unreadable:
    return re.sub(r"[\W_]", "", text.lower()) or Unreadable(
        "Type it as it stands there, such as 25 mm or a part number."
    )


def _coefficient(text: str) -> Hashable | Unreadable:
    number = read_number.number(text, "Kv")
    if isinstance(number, Unreadable) or not re.search(r"[kc]v", text.lower()) or not number.value > 0:
        return Unreadable("Type it with its name, such as Cv 46 or Kv 40.")
    return number.value


def _characteristic(text: str) -> Hashable | Unreadable:
    plain = re.sub(r"[^a-z%=]", "", text.lower())
    known = next((name for name, spelled in _CHARACTERISTICS.items() if plain in spelled), plain)
    return known or Unreadable("Type it as it stands there, such as equal percentage, =% or linear.")


def _action(text: str) -> Hashable | Unreadable:
    plain = re.sub(r"[^a-z]", "", text.lower())
    known = next((name for name, spelled in _ACTIONS.items() if plain in spelled), "other")
    if not plain:
        return Unreadable("Type it as it stands there, such as air to open, FC or reverse.")
    return (known, plain.removesuffix("acting") if known in ("actuator", "other") else "")


def _bench(text: str) -> Hashable | Unreadable:
    found = read_range(text, _PRESSURES, "Type both ends and the unit, such as 0.2 to 1 bar or 3-15 psi.")
    return found if isinstance(found, Unreadable) else tuple(to_base(Q(end, found[2])) for end in found[:2])


def _supply(text: str) -> Hashable | Unreadable:
    number = read_number.number(text, "bar")
    unit = unit_spelled(re.sub(r"^[\s\d.,/¼½¾]+", "", text))
    if isinstance(number, Unreadable) or not unit or not unit.name or not 0 < number.value < 100:
        return Unreadable("Type it with its unit, such as 1.4 bar or 20 psi.")
    return to_base(number)


LINES = (
    Line("size", "size of the body", _size, "it does not fit the gap or the flanges, and its capacity is another"),
    Line("rating", "pressure rating", _rating, "another flange and another pressure; class and PN are two systems"),
    Line("metal", "metal of the body", _metal, "rating, temperature and corrosion: ask before it meets the fluid"),
    Line("trim", "trim: size, number or metal", _words, "capacity, wear and leakage may be others"),
    Line("kv", "rated Cv or Kv", _coefficient, "too small starves the line; too large works near its seat"),
    Line("kind", "characteristic", _characteristic, "the loop's gain changes along the travel; tuning will not fit"),
    Line("action", "action", _action, "it moves the wrong way, or fails to the wrong side: never fit it so"),
    Line("bench", "bench set", _bench, "another spring or setting: seat load and air wanted are others"),
    Line("supply", "air supply", _supply, "too little air does not stroke it, too much may burst its casing"),
)


def read_line(line: Line, text: str) -> str | Unreadable:
    """Read one box: its text without idle blanks, empty where nothing is given, or why it cannot be compared."""
    plain = " ".join(text.split())
    if len(plain) > _LONGEST:
        return Unreadable("That is very long for a line of a plate.")
    if _NO_NUMBER.search(plain):
        return Unreadable(f"“{plain}” is nothing a plate says.")
    form = line.form(plain) if plain else ""
    return form if isinstance(form, Unreadable) else plain


def verdict_of(line: Line, sheet: str, plate: str) -> str:
    """Tell whether both say the same."""
    if not sheet or not plate:
        return NOT_GIVEN
    one, other = line.form(sheet), line.form(plate)
    if line.name == "metal" and one != other:
        groups = [_GROUP.get(str(each), str(each)) for each in (one, other)]
        return UNSURE if groups[0] == groups[1] else DIFFERS
    if line.name == "action" and "actuator" in (kinds := {one[0], other[0]}) and len(kinds) > 1:  # type: ignore[index]
        return UNSURE
    return AGREES if _same(one, other) else DIFFERS


def _same(one: Hashable, other: Hashable) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= NEAR * max(one, other)
    if isinstance(one, tuple) and isinstance(other, tuple) and all(isinstance(end, float) for end in one):
        return all(abs(a - b) <= NEAR * max(*one, *other) for a, b in zip(one, other, strict=True))
    return one == other
