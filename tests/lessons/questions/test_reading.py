"""What an apprentice may type, and how it is read. Expected values by hand; the conversions from exact definitions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.questions.read_number import Unreadable, number
from lessons.questions.reading import asks_for_hint, letters, pairs, picked, sureness
from lessons.units.quantities import Q, convert, from_base, rounded_to, shown, shown_unit, to_base
from lessons.units.readout import to_digits
from lessons.units.trade_units import UNITS as ALL_UNITS

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
    ("1.2 x 10^3 N", "N", 1200.0),
    ("1.2·10³ N", "N", 1200.0),
    ("1,2 × 10^-2", "", 0.012),
    ("1.2*10**3", "", 1200.0),
    ("10^2 N", "N", 100.0),
    ("½", "", 0.5),
    ("82 1/2 %", "%", 82.5),
    ("82½ %", "%", 82.5),
    ("3 ½ in", "in", 3.5),
    ("٣٫٥ ٪", "%", 3.5),
    ("١٬٢٠٠", "", 1200.0),
    ("3.5\u200b %\x00", "%", 3.5),
    ("\u202e75 %\u2069", "%", 75.0),
    ("3/4 in", "mm", 19.05),  # 0.75 · 25.4
    ("−1 1/2 %", "%", -1.5),
    ("x = 4.2 bar", "bar", 4.2),
    ("p=4,2", "bar", 4.2),
    ("I think it is 4.2 bar", "bar", 4.2),
    ("It's about 4.2 bar.", "bar", 4.2),
    ("the answer is 4.2", "bar", 4.2),
    ("4.2 bar or so", "bar", 4.2),
    ("4.2 bar, I think", "bar", 4.2),
    ("roughly 4.2 bar", "bar", 4.2),
    ("~4.2 bar", "bar", 4.2),
    ("3600 N − 1660 N = 1940 N, 1940/462 = 4.2 bar", "bar", 4.2),
    ("(0.8 - 0.4) * 10 + 0.2 = 4.2", "bar", 4.2),
    ("4.2 bar = 60.9 psi", "bar", 4.198907),  # 60.9 · 0.06894757, the same within a hundredth
    ("50:1", "", 50.0),
    ("50 : 1", "", 50.0),
    ("97:1", "", 97.0),
    ("41,1 : 1", "", 41.1),
    ("41.1  :\u00a01", "", 41.1),
    ("97∶1", "", 97.0),  # the sign for a ratio
    ("the ratio is 97-to-1", "", 97.0),
    ("97/1", "", 97.0),
    ("50 to 1", "", 50.0),
    ("about 50 to 1", "", 50.0),
    ("4.2 barg", "bar", 4.2),
    ("4.2 bar(g)", "bar", 4.2),
    ("5.2 bar abs", "bar", 5.2),
    ("5.2 bar absolute", "bar", 5.2),
    ("61 psi gauge", "psi", 61.0),
    ("4200 mbar", "bar", 4.2),
    ("420 kPa(g)", "bar", 4.2),
    ("4.6 cm", "mm", 46.0),
    ("100 l/min", "m³/h", 6.0),
    ("100 L/min", "m³/h", 6.0),
    ("12 cubic metres per hour", "m³/h", 12.0),
    ("12 cubic meters/hour", "m³/h", 12.0),
    ("61 pounds per square inch", "psi", 61.0),
    ("4 newtons per millimetre", "N/mm", 4.0),
    ("20 gallons per minute", "gpm", 20.0),
    ("20 US gallons per minute", "gpm", 20.0),
    ("300 square centimetres", "cm²", 300.0),
    ("25 degrees Celsius", "°C", 25.0),
    ("77 degrees Fahrenheit", "°C", 25.0),
    ("15 millilitres per minute", "mL/min", 15.0),
    ("46 millimeters", "mm", 46.0),
    ("950 pounds force", "lbf", 950.0),
    ("12 milliamps", "mA", 12.0),
    ("40 kilograms per hour", "kg/h", 40.0),
    ("4.236 bar", "bar", 4.236),
    ("0.200 bar", "bar", 0.2),
    ("4.20 bar", "bar", 4.2),
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
    ("4.200 bar", "4200 or 4.200"),
    ("12.500", "12500 or 12.500"),
    ("between 4 and 5", "does not read"),
    ("4 or 5", "not known here"),
    ("4.2 bar not 4.5", "not known here"),
    ("4.2 bar = 5 bar", "Two different answers"),
    ("4/5", "not known here"),
    ("50:1", "read as a ratio"),
    ("3600 - 1660", "not known here"),
    ("x = ", "does not read"),
    ("=", "does not read"),
    ("4 bars per square inch", "not known here"),
    ("950 / 300", "not known here"),
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
        ("1 valve stem seal, 2 plug, 3 stem", {"1": "c", "2": "a", "3": "b"}),
        ("1: seal\n2: plug\n3: b", {"1": "c", "2": "a", "3": "b"}),
        ("1 seal 2 plug 3 spring", None),
        ("", None),
    ],
)
def test_reads_pairs(typed: str, expected: dict[str, str] | None) -> None:
    read = pairs(typed, ("1", "2", "3"), (("a", "plug"), ("b", "stem"), ("c", "valve stem seal")))
    assert isinstance(read, Unreadable) if expected is None else read == expected


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_with_a_sentence(text: str) -> None:
    for read in (
        number(text, "bar"),
        letters(text, "abc"),
        pairs(text, ("1", "2"), (("a", "one"), ("b", "two"))),
        picked(text, (("a", "it falls"), ("b", "it rises"))),
    ):
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


SHOWN = (
    ("a", "It falls: less flow, less drop"),
    ("b", "It stays: the pump is the same"),
    ("c", "It does not shut at all"),
    ("d", "Clearly more than half"),
    ("e", "Clearly less than half"),
    ("f", "About half"),
)


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("It falls: less flow, less drop", ("a",)),
        ("it falls", ("a",)),
        ("a) it falls", ("a",)),
        ("b it falls", None),  # letter and words contradict each other
        ("the pump is the same", ("b",)),
        ("about half", ("f",)),
        ("more than half", ("d",)),
        ("half", None),  # three options have it
        ("shut", None),  # the only option that has it says the contrary
        ("it does not shut", ("c",)),
        ("rises", None),
        ("it falls, about half", ("a", "f")),
        ("About half\nIt stays: the pump is the same", ("f", "b")),
        ("about half and it falls", ("f", "a")),
        ("a f", ("a", "f")),
        ("fa", ("f", "a")),
    ],
)
def test_reads_options_in_words(typed: str, expected: tuple[str, ...] | None) -> None:
    read = picked(typed, SHOWN)
    assert isinstance(read, Unreadable) if expected is None else read == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("4.2 bar", ("4.2 bar", None)),
        ("4.2 bar sure", ("4.2 bar", True)),
        ("4.2 bar, not sure", ("4.2 bar", False)),
        ("4.2 bar\nnot sure", ("4.2 bar", False)),
        ("b (unsure)", ("b", False)),
        ("sure", ("sure", None)),
    ],
)
def test_how_sure_is_parted_from_the_answer(typed: str, expected: tuple[str, bool | None]) -> None:
    assert sureness(typed) == expected


@pytest.mark.parametrize(
    "typed", ["?", "help", "Help!", "I don't know.", "I don’t know", "no idea", "Hint, please".replace(",", "")]
)
def test_a_cry_for_help_is_no_answer(typed: str) -> None:
    assert asks_for_hint(typed)
    assert not asks_for_hint(typed + " 4.2")


UNITS_SHOWN = sorted(name for name in ALL_UNITS if name)


@given(st.floats(1e-6, 1e9, allow_nan=False), st.integers(1, 6), st.sampled_from([1, -1]), st.sampled_from(UNITS_SHOWN))
def test_what_is_printed_is_read_back_the_same(value: float, digits: int, sign: int, unit: str) -> None:
    printed = str(Q(sign * rounded_to(value, digits), unit))
    read = number(printed, unit)
    assert isinstance(read, Q), printed
    assert str(read) == printed
    assert number(printed.replace("-", "−"), unit) == read


@given(
    st.floats(1e-4, 1e6, allow_nan=False),
    st.sampled_from(["bar", "mm", "m³/h", "N", "Kv"]),
    st.sampled_from(["si", "us"]),
)
def test_what_a_readout_says_is_read_back_the_same(value: float, unit: str, units: str) -> None:
    printed = to_digits(value, unit, units)
    shown_as = shown_unit(unit, units)
    read = number(printed, shown_as)
    assert isinstance(read, Q), printed
    assert str(read) == printed.replace("−", "-")
