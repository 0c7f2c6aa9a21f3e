"""The tables of the trim to recognise follow the equations of the characteristics."""

from __future__ import annotations

import pytest

from lessons.practice.flow.inherent import TABLES
from valvecalc import characteristic

# The tables of the trim to recognise: R of the linear and equal percentage rows, root n of the quick opening ones.
TABLE_SHAPES = [
    ("linear", 50),
    ("linear", 30),
    ("linear", None),
    ("linear", 20),
    ("equal", 50),
    ("equal", 30),
    ("equal", 20),
    ("equal", 100),
    ("quick", 2),
    ("quick", 3),
    ("quick", 2.5),
    ("quick", 2.2246),
]


def test_tables_of_the_unknown_trim_follow_the_equations() -> None:
    curves = {
        "linear": characteristic.linear,
        "equal": characteristic.equal_percentage,
        "quick": characteristic.quick_opening,
    }
    for (kind, *phi), (shape, parameter) in zip(TABLES, TABLE_SHAPES, strict=True):
        assert kind == shape
        expected = 100 * curves[kind]([0.25, 0.5, 0.75], parameter)
        assert phi == pytest.approx(list(expected), abs=0.06)
