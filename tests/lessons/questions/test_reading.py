"""What an apprentice may type, and how it is read. Expected values by hand; the conversions from exact definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.questions.reading import Unreadable, letters, number, pairs
from lessons.units.quantities import Q, convert, from_base, shown, to_base

NUMBERS = [
    # typed, unit asked for, value in that unit
    ("37.5 %", "%", 37.5),
    ("37,5 %", "%", 37.5),
    ("37.5%", "%", 37.5),
    (" 37.5 percent. ", "%", 37.5),
    ("37.5 per cent", "%", 37.5),
    ("37.5", "%", 37.5),
    ("-3 %", "%", -3.0),
    ("−3 %", "%", -3.0),
    ("about 12", "", 12.0),
    ("= 12", "", 12.0),
    (".5", "", 0.5),
    ("0,125", "", 0.125),
    ("1200", "", 1200.0),
    ("1'200", "", 1200.0),
    ("Kv 40", "Kv", 40.0),
    ("kv=40", "Kv", 40.0),
    ("40 Kv", "Kv", 40.0),
    ("100 Cv", "Kv", 86.4978),  # Kv = 0.864978 Cv, worked from the definitions of the units
    ("100 psi", "bar", 6.894757),  # 1 psi = 6894.757 Pa
    ("6 bar", "psi", 87.02264),
    ("600 kPa", "bar", 6.0),
    ("1 in", "mm", 25.4),  # exact
    ("100 gpm", "m³/h", 22.71247),  # US gallon 3.785411784 L, exact
    ("50 m3/h", "m³/h", 50.0),
    ("1 kN", "N", 1000.0),
    ("1.2e3 mm", "mm", 1200.0),
    ("5E-2 bar", "bar", 0.05),
    ("5e−2 bar", "bar", 0.05),
    ("1e5 N/mm", "N/mm", 1e5),
    ("2 per cent", "%", 2.0),
    ("10 Deg C", "°C", 10.0),
    ("10 US gpm", "gpm", 10.0),
    ("3 m^3 / hr", "m³/h", 3.0),
    ("100 J", "ft·lbf", 73.75621),  # 1 ft·lbf = 1.3558179 J
    ("20 ft-lbf", "ft·lbf", 20.0),
    ("300 °F", "°C", 148.8889),  # (300 − 32)/1.8
]


@pytest.mark.parametrize(("typed", "unit", "value"), NUMBERS)
def test_reads_numbers(typed: str, unit: str, value: float) -> None:
    read = number(typed, unit)
    assert isinstance(read, Q)
    assert read.unit == unit
    assert read.value == pytest.approx(value, rel=1e-6)


ASKED_BACK = [
    ("1,200", "1200 or 1.200"),
    ("12,500 mm", "12500 or 12.500"),
    ("1.200,5", "more than one way"),
    ("1,200.5", "more than one way"),
    ("1 200", "more than one way"),
    ("twelve", "does not read as a number"),
    ("12 parsec", "not known here"),
    ("12 s", "asks for"),
    ("12 m 3", "not known here"),
    ("", "no answer yet"),
    ("   \n ", "no answer yet"),
    ("7" * 300, "very long"),
    ("nan", "does not read"),
    ("inf", "does not read"),
    ("1e400", "larger than anything measured here"),
    ("-1e999 bar", "larger than anything measured here"),
    ("9" * 180, "larger than anything measured here"),
    ("1e-400", "smaller than anything measured here"),
    ("3 bubbles", "3 bubbles/min was read, but this question asks for an answer in bar"),
    ("3 e", "not known here"),
    ("3 bar e", "not known here"),
    ("12; drop table", "not known here"),
    ("<b>12</b>", "does not read"),
]


@pytest.mark.parametrize(("typed", "says"), ASKED_BACK)
def test_asks_back(typed: str, says: str) -> None:
    read = number(typed, "bar")
    assert isinstance(read, Unreadable)
    assert says in read.reason
    assert read.reason.endswith(".")


@pytest.mark.parametrize(
    ("typed", "how_many", "expected"),
    [
        ("b", 1, ("b",)),
        ("B)", 1, ("b",)),
        ("(b)", 1, ("b",)),
        ("a c", None, ("a", "c")),
        ("a, c and d", None, ("a", "c", "d")),
        ("cadb", 4, ("c", "a", "d", "b")),
        ("c > a > d > b", 4, ("c", "a", "d", "b")),
        ("c → a → d → b", 4, ("c", "a", "d", "b")),
        ("e", 1, None),
        ("a a", None, None),
        ("a b", 1, None),
        ("", 1, None),
    ],
)
def test_reads_letters(typed: str, how_many: int | None, expected: tuple[str, ...] | None) -> None:
    read = letters(typed, "abcd", how_many=how_many)
    assert isinstance(read, Unreadable) if expected is None else read == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("1c 2a 3b", {"1": "c", "2": "a", "3": "b"}),
        ("1-c, 2=a; 3 b", {"1": "c", "2": "a", "3": "b"}),
        ("3B 1C 2A", {"1": "c", "2": "a", "3": "b"}),
        ("1c 2a", None),
        ("1c 2a 3z", None),
        ("1c 1a 3b", None),
        ("c1 a2 b3", None),
        ("", None),
    ],
)
def test_reads_pairs(typed: str, expected: dict[str, str] | None) -> None:
    read = pairs(typed, ("1", "2", "3"), "abc")
    assert isinstance(read, Unreadable) if expected is None else read == expected


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    for read in (number(text, "bar"), letters(text, "abc"), pairs(text, ("1", "2"), "ab")):
        assert not isinstance(read, Unreadable) or read.reason.endswith(".")


@given(st.floats(0.001, 99999, allow_nan=False).map(lambda x: round(x, 4)))
def test_point_and_comma_read_the_same(value: float) -> None:
    with_point = f"{value:.4f}"
    read = [number(text, "%") for text in (with_point, with_point.replace(".", ","))]
    assert read == [Q(float(with_point), "%")] * 2


UNITS = ["%", "bar", "psi", "kPa", "mm", "in", "m³/h", "gpm", "N", "lbf", "°C", "°F", "Kv", "Cv", "mL/min", "N/mm"]


@given(st.floats(0.01, 1e4), st.sampled_from(UNITS))
def test_to_base_and_back(value: float, unit: str) -> None:
    assert from_base(to_base(Q(value, unit)), unit).value == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("quantity", "expected"),
    [
        (Q(6, "bar"), "87 psi"),
        (Q(100, "Kv"), "Cv 116"),
        (Q(50, "m³/h"), "220 gpm"),
        (Q(80, "mm"), "3.15 in"),
        (Q(25, "%"), "25 %"),
    ],
)
def test_shown_in_us_units_with_three_digits(quantity: Q, expected: str) -> None:
    assert str(shown(quantity, "us")) == expected


def test_units_of_two_kinds_are_refused() -> None:
    with pytest.raises(ValueError, match="bar cannot be turned into mm"):
        convert(Q(1, "bar"), "mm")
