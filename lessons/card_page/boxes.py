"""The boxes of a job card: read into SI, or told what is wrong; and written in a unit set."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, Field
from lessons.questions import read_number
from lessons.questions.read_number import Unreadable
from lessons.units.quantities import plain_number, rounded_to, to_base
from lessons.units.readout import in_trade_unit
from lessons.units.trade_units import unit_spelled

_DIGITS = 4  # of a number written into a box
# Gauge or absolute said with the unit: taken off where it agrees with the field, refused where it does not.
_KIND = re.compile(r"(?:(?<=bar|psi|kpa|mpa|cm2|cm²|h2o)|(?<=hg))[\s(_]*(g|gauge|a|abs|absolute)\)?\.?$", re.IGNORECASE)
_AMOUNT = re.compile(r"^[\s\d.,+−/¼½¾⅐-⅞-]+")  # what stands before the unit


def write_boxes(field: Field, value: Any, units: str) -> dict[str, str]:
    """Return the text of each box of a field for a value as valvecalc takes it."""
    if value is None:
        return dict.fromkeys(field.keys, "")
    if field.choices:
        return {field.name: str(value)}
    numbers = value if field.boxes else (value,)
    write = field.write or (lambda number, _: _text(number, field.shown_unit(units)))
    return {key: write(number, units) for key, number in zip(field.keys, numbers, strict=True)}


def read_boxes(
    card: Card, texts: Mapping[str, str], units: str, known: Mapping[str, tuple[str, Any]] | None = None
) -> tuple[SimpleNamespace, dict[str, str]]:
    """Return the inputs, and for each field that cannot be read what is wrong with it.

    `known` has what was written into a box and the number behind it: so a number survives a change of units.
    """
    values: dict[str, Any] = {}
    problems: dict[str, str] = {}
    for field in card.fields:
        try:
            values[field.name] = _field(field, texts, units, known or {}, SimpleNamespace(**values))
        except BadInputError as problem:
            problems[field.name] = str(problem)
        except Exception:  # so that each box that cannot be read says so itself, whatever was typed
            problems[field.name] = "This cannot be read. Type a number and its unit."
    return SimpleNamespace(**values), problems


def said(field: Field, value: Any, units: str) -> str:
    """Write an input for the page taken along: number and unit, or the words of a choice."""
    if value is None:
        return "left empty"
    if field.choices:
        return field.choices[value]
    texts = write_boxes(field, value, units).values()
    return f"{'; '.join(texts)} {'' if field.write else field.shown_unit(units)}".replace("-", "−").strip()


def _field(
    field: Field,
    texts: Mapping[str, str],
    units: str,
    known: Mapping[str, tuple[str, Any]],
    before: SimpleNamespace,
) -> Any:
    typed = [str(texts.get(key, "")) for key in field.keys]
    if field.choices:
        if typed[0] not in field.choices:
            raise BadInputError(field.name, f"Choose one of the {len(field.choices)} in the list.")
        return typed[0]
    if field.optional and not any(text.strip() for text in typed):
        return None
    numbers = []
    for key, text, box in zip(field.keys, typed, field.boxes or ("",), strict=True):
        number = known[key][1] if known.get(key, ("",))[0] == text and text else _number(field, text, units, before)
        if isinstance(number, Unreadable):
            raise BadInputError(field.name, f"{box}: {number.reason}" if box else number.reason)
        numbers.append(number)
    return tuple(numbers) if field.boxes else numbers[0]


def _number(field: Field, text: str, units: str, before: SimpleNamespace) -> Any:
    if field.read and (text.strip() or field.optional):
        return field.read(text, units)
    if not text.strip():
        all_of_it = " Fill in the whole row, or none of it." if field.optional and field.boxes else ""
        return Unreadable(f"This box is empty. Type a number{_in(field.shown_unit(units))}.{all_of_it}")
    bare = _without_kind(field, text)
    other = unit_spelled(_AMOUNT.sub("", bare)) if field.also and isinstance(bare, str) else None
    further = field.also.get(other.name) if other else None
    asked = other.name if other and further else field.shown_unit(units)
    found = bare if isinstance(bare, Unreadable) else read_number.number(bare, asked)
    if isinstance(found, Unreadable):
        return Unreadable(found.reason.replace("his question", "his field"))
    value = further(to_base(found), before) if further else to_base(found)
    if not math.isfinite(value):
        return Unreadable(f"{found} is too large to work with.")
    if value < field.low or value > field.high or (field.above and value == field.low):
        return Unreadable(f"{found} is outside what this card takes: {_range(field, units)}.")
    if field.step == 1 and value != round(value):
        return Unreadable(f"{found} is not a whole number. Type {math.floor(value)} or {math.ceil(value)}.")
    return value


def _without_kind(field: Field, text: str) -> str | Unreadable:
    """Take "gauge" or "absolute" off a pressure, if that is what the field holds."""
    kind = _KIND.search(text.strip())
    if not kind:
        return text
    typed = "gauge" if kind[1].lower().startswith("g") else "absolute"
    if field.pressure and typed != field.pressure:
        return Unreadable(
            f"This field takes a pressure {_GAUGE[field.pressure]}. Gauge and absolute differ by about "
            f"1 bar (14.7 psi)."
        )
    return text.strip()[: kind.start()]


_GAUGE = {"gauge": "as the gauge shows it, above atmosphere", "absolute": "from absolute zero"}


def _range(field: Field, units: str) -> str:
    unit = field.shown_unit(units)
    low, high = (_text(limit, unit) if abs(limit) < 1e300 else "" for limit in (field.low, field.high))
    over = f"{'above' if field.above else 'from'} {low}" if low else ""
    return f"{over}{' up to ' + high if high else ''} {field.shown_unit(units)}".strip()


def _in(unit: str) -> str:
    return f" in {unit}" if unit else ""


def _text(value: float, unit: str) -> str:
    return plain_number(rounded_to(float(in_trade_unit(float(value), unit)), _DIGITS))
