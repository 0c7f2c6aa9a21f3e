"""The slider beside a box of a job card: from the least to about twice the number to start with, in round steps."""

from __future__ import annotations

import math
from types import SimpleNamespace

from lessons.card_page.card import Field
from lessons.live.sliders import UNIT_SETS
from lessons.units.quantities import rounded_to
from lessons.units.readout import in_trade_unit

STEPS = 100  # at most: about as many as a finger can tell apart on part of a tablet's width
_FAR = 5  # a limit this many times the number to start with is too far away to be the slider's end


def slider(field: Field) -> dict[str, dict[str, float]] | None:
    """Return ends and step of a field's slider in each unit set, as shown there; None where it has none.

    >>> slider(Field("dp", "drop", "bar", 6e5, high=4e7))["us"]
    {'low': 0.0, 'high': 174.0, 'step': 2.0}
    """
    return {units: _ends(field, field.shown_unit(units)) for units in UNIT_SETS} if _has_slider(field) else None


def slider_places(fields: tuple[Field, ...], inputs: SimpleNamespace, units: str) -> dict[str, float]:
    """Return where the sliders stand for these inputs, in the units shown."""
    known = [field for field in fields if _has_slider(field)]
    return {field.name: float(in_trade_unit(getattr(inputs, field.name), field.shown_unit(units))) for field in known}


def _has_slider(field: Field) -> bool:
    return not (field.choices or field.boxes or field.read or field.default is None)


def _ends(field: Field, unit: str) -> dict[str, float]:
    near = field.default > field.low and field.high > _FAR * field.default
    top = 2 * field.default if near else field.high
    low, high = in_trade_unit([max(field.low, 0.0), top], unit).tolist()
    step = max(_round_step((high - low) / STEPS), field.step)
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    first += field.above and field.low >= 0 and first * step <= low * (1 + 1e-6)  # the low limit itself is too low
    return {"low": rounded_to(first * step, 6), "high": rounded_to(last * step, 6), "step": step}


def _round_step(size: float) -> float:
    power = 10.0 ** math.floor(math.log10(size))
    return rounded_to(next(n for n in (1, 2, 5, 10) if n * power >= size * (1 - 1e-9)) * power, 1)
