"""The wrong workings that apprentices make, by families: worked out and named from the working of a question.

A family is a function that goes through the tree of a working and gives each wrong tree it can make of it, with what
to say to somebody who worked that way. Every question with a `working` gets all of them. What belongs to one question
only, such as its own story, it says itself as `Mistake`s, and those come first.
"""

from __future__ import annotations

import ast
import itertools
from collections.abc import Callable, Iterator
from typing import NamedTuple

from lessons.questions.workings.formula import Tree, call, constant, joined, name_of, pieces, replaced
from lessons.questions.workings.tree_parts import (
    MINUS,
    OVER,
    PLUS,
    TIMES,
    called,
    in_numbers,
    inside,
    power,
    products,
    sum_of,
    sums,
    tag_of,
)

ATMOSPHERE = 101325.0  # Pa
PRESSURES = ("p", "p1", "p2", "low", "high", "supply", "before", "after", "found")
_MOST_LEFT_OUT = 3  # terms at once


class Wrong(NamedTuple):
    """One wrong working: its tag, its tree, and what to say to it, with the names of the numbers in braces."""

    tag: str
    tree: Tree
    says: str


Family = Callable[[Tree], Iterator[Wrong]]


def all_of(tree: Tree) -> Iterator[Wrong]:
    """Return every wrong working of every family, the plainest cause first."""
    for family in FAMILIES:
        yield from family(tree)


def left_out(tree: Tree) -> Iterator[Wrong]:
    """Leave out a force, a pressure or another term of a sum, one or several."""
    for whole, terms in sums(tree):
        for count in range(1, min(len(terms), _MOST_LEFT_OUT + 1)):
            for gone in itertools.combinations(terms, count):
                kept = sum_of([term for term in terms if term not in gone])
                says = f"You left out {' and '.join(called(term) for _, term in gone)}."
                yield _wrong(tree, whole, kept, tag_of("left_out", *(term for _, term in gone)), says)


def wrong_sign(tree: Tree) -> Iterator[Wrong]:
    """Give a term the wrong sign: friction that helps, line pressure that pushes the wrong way."""
    for whole, terms in sums(tree):
        for place, (sign, term) in enumerate(terms):
            turned = sum_of([*terms[:place], (-sign, term), *terms[place + 1 :]])
            did, do = ("took away", "Add it") if sign > 0 else ("added", "Take it away")
            yield _wrong(tree, whole, turned, tag_of("wrong_sign", term), f"You {did} {called(term)}. {do}.")


def roots(tree: Tree) -> Iterator[Wrong]:
    """Leave a root out, take it of a part only, or square instead."""
    for piece in pieces(tree):
        if inner := inside(piece, "sqrt"):
            bare = joined(inner, OVER, call("sqrt", call("unit_of", inner)))
            yield _wrong(tree, piece, bare, "no_root", "You left out the root.")
            squared = joined(power(inner, 2), OVER, power(call("unit_of", inner), 1.5))
            yield _wrong(tree, piece, squared, "squared", "You squared. A root belongs there.")
            if isinstance(inner, ast.BinOp) and isinstance(inner.op, ast.Div):
                yield from _roots_of_quotients(tree, piece, inner)


def _roots_of_quotients(tree: Tree, piece: Tree, inner: ast.BinOp) -> Iterator[Wrong]:
    one = call("unit_of", inner.right)
    half = joined(joined(call("sqrt", inner.left), OVER, inner.right), TIMES, call("sqrt", one))
    says = "You took the root of the upper number only. The root goes over the whole quotient."
    yield _wrong(tree, piece, half, "half_root", says)
    times = call("sqrt", joined(joined(inner.left, TIMES, inner.right), OVER, power(one, 2)))
    says = f"Under the root you multiplied by {called(inner.right)}. Divide by it."
    yield _wrong(tree, piece, times, tag_of("wrong_way", inner.right), says)


def powers(tree: Tree) -> Iterator[Wrong]:
    """Leave a square or another power out, or take it for a product."""
    for piece in pieces(tree):
        if isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Pow):
            square = isinstance(piece.right, ast.Constant) and piece.right.value == 2
            yield from _squares(tree, piece, piece.left) if square else _other_powers(tree, piece)


def _squares(tree: Tree, piece: Tree, base: Tree) -> Iterator[Wrong]:
    one, what = call("unit_of", base), called(base)
    once = joined(base, TIMES, one)
    yield _wrong(tree, piece, once, "not_squared", f"You did not square {what}.")
    says = f"You doubled {what}. To square means to multiply it by itself."
    yield _wrong(tree, piece, joined(constant(2), TIMES, once), "doubled", says)
    root = joined(call("sqrt", base), TIMES, power(one, 1.5))
    yield _wrong(tree, piece, root, "root_for_square", f"You took the root of {what}. It has to be squared.")


def _other_powers(tree: Tree, piece: ast.BinOp) -> Iterator[Wrong]:
    base, raised_to = piece.left, piece.right
    says = f"You multiplied by {called(raised_to)}. It is a power: {in_numbers(piece)}."
    yield _wrong(tree, piece, joined(base, TIMES, raised_to), "times_for_power", says)
    yield _wrong(tree, piece, joined(raised_to, ast.Pow(), base), "power_turned", "Base and power changed places.")
    minus = joined(base, ast.Pow(), joined(constant(0), MINUS, raised_to))
    yield _wrong(tree, piece, minus, "power_sign", "The power has the wrong sign.")


def circles(tree: Tree) -> Iterator[Wrong]:
    """Take the diameter for the radius, leave out π or π/4, take the area for the circumference or the other way."""
    yield from _all_areas(tree)
    for piece in pieces(tree):
        if d := inside(piece, "circle"):
            yield from _areas(tree, piece, d)
        if d := inside(piece, "rim"):
            yield from _ways_round(tree, piece, d)


def _all_areas(tree: Tree) -> Iterator[Wrong]:
    """Take the diameter for the radius in every circle, where there are several."""
    circled = [piece for piece in pieces(tree) if inside(piece, "circle")]
    wrong = tree
    for piece in circled:
        wrong = replaced(wrong, piece, joined(constant(4), TIMES, piece))
    if len(circled) > 1:
        says = "You took the diameters for the radii. That makes each area four times too large."
        yield Wrong("radii", wrong, says)


def _areas(tree: Tree, piece: Tree, d: Tree) -> Iterator[Wrong]:
    way = joined(call("rim", d), TIMES, call("unit_of", d))
    for tag, wrong, says in (
        (
            "radius",
            joined(constant(4), TIMES, piece),
            "You took the diameter for the radius. That makes the area four times too large.",
        ),
        (
            "no_quarter_pi",
            power(d, 2),
            "You squared the diameter but left out π/4. That is the area of a square, not of a circle.",
        ),
        (
            "half_diameter",
            joined(piece, OVER, constant(4)),
            "You halved the diameter and then still took π/4. With the radius, the area is π times its square.",
        ),
        ("rim_for_area", way, "You worked out the distance round the circle. Its area is needed."),
        ("not_squared", joined(way, OVER, constant(4)), "You did not square the diameter."),
    ):
        yield _wrong(tree, piece, wrong, tag, says)


def _ways_round(tree: Tree, piece: Tree, d: Tree) -> Iterator[Wrong]:
    area = joined(call("circle", d), OVER, call("unit_of", d))
    for tag, wrong, says in (
        ("no_pi", d, "You left out π. The distance round is π times the diameter."),
        (
            "radius",
            joined(constant(2), TIMES, piece),
            "You took the diameter for the radius. The distance round is π times the diameter, not twice that.",
        ),
        (
            "half_rim",
            joined(piece, OVER, constant(2)),
            "You took π times the radius. The distance round is π times the diameter.",
        ),
        ("area_for_rim", area, "You worked out the area of the circle. The distance round it is needed."),
    ):
        yield _wrong(tree, piece, wrong, tag, says)


def ratios(tree: Tree) -> Iterator[Wrong]:
    """Multiply instead of dividing or the other way, turn a quotient upside down, leave a factor out."""
    for whole, factors in products(tree):
        if len({side for side, _ in factors}) > 1:
            turned = joined(power(call("unit_of", whole), 2), OVER, whole)
            yield _wrong(tree, whole, turned, "upside_down", "You divided the wrong way round. Turn the quotient over.")
        for side, piece in factors:
            if isinstance(piece, ast.Constant) or name_of(piece) == "pi":
                yield _wrong(tree, piece, constant(1), "no_factor", f"You left out the factor {called(piece)}.")
            else:
                yield from _factor(tree, side, piece)


def _factor(tree: Tree, side: int, piece: Tree) -> Iterator[Wrong]:
    one, what = call("unit_of", piece), called(piece)
    did, do = ("divided by", "Multiply") if side > 0 else ("multiplied by", "Divide")
    turned = joined(power(one, 2), OVER, piece)
    yield _wrong(tree, piece, turned, tag_of("wrong_way", piece), f"You {did} {what}. {do} by it.")
    yield _wrong(tree, piece, one, tag_of("left_out", piece), f"You left out {what}.")


def extra_root(tree: Tree) -> Iterator[Wrong]:
    """Take a root or a square where none belongs."""
    for _, factors in products(tree):
        for piece in (piece for _, piece in factors if isinstance(piece, ast.Name) and piece.id != "pi"):
            one, what = call("unit_of", piece), called(piece)
            root = joined(call("sqrt", piece), TIMES, call("sqrt", one))
            says = f"You took the root of {what}. No root belongs there."
            yield _wrong(tree, piece, root, tag_of("extra_root", piece), says)
            square = joined(power(piece, 2), OVER, one)
            says = f"You squared {what}. No square belongs there."
            yield _wrong(tree, piece, square, tag_of("extra_square", piece), says)


def logarithms(tree: Tree) -> Iterator[Wrong]:
    """Mix two kinds of logarithm, or leave the logarithm out."""
    for piece in pieces(tree):
        if inner := inside(piece, "ln"):
            says = "You mixed two keys, log and ln. Take the same key for both."
            yield _wrong(tree, piece, call("log", inner), "mixed_logs", says)
            yield _wrong(tree, piece, inner, "no_log", f"You left out the logarithm of {called(inner)}.")
        if isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Div):
            above, below = inside(piece.left, "ln"), inside(piece.right, "ln")
            if above and below:
                quotient = joined(above, OVER, below)
                says = "You divided first and then took the logarithm. Take both logarithms first, then divide."
                yield _wrong(tree, piece, call("ln", quotient), "log_of_quotient", says)
                yield _wrong(tree, piece, quotient, "no_logs", "You left out both logarithms.")


def limits(tree: Tree) -> Iterator[Wrong]:
    """Take the wrong one of two limits."""
    for piece in pieces(tree):
        for function, wanted, other in (("min", "smaller", "max"), ("max", "larger", "min")):
            if isinstance(piece, ast.Call) and inside(piece, function):
                says = f"The {wanted} of the two counts. You took the other."
                yield _wrong(tree, piece, call(other, *piece.args), "wrong_limit", says)


def air_pressure(tree: Tree) -> Iterator[Wrong]:
    """Take gauge for absolute, or absolute for gauge."""
    for piece in pieces(tree):
        if isinstance(piece, ast.Name) and piece.id in PRESSURES:
            what, air = called(piece), constant(ATMOSPHERE)
            says = f"You added the pressure of the atmosphere to {what}. Work with the number as it is given."
            yield _wrong(tree, piece, joined(piece, PLUS, air), tag_of("air_added", piece), says)
            says = f"You took the pressure of the atmosphere off {what}. Work with the number as it is given."
            yield _wrong(tree, piece, joined(piece, MINUS, air), tag_of("air_off", piece), says)


FAMILIES: tuple[Family, ...] = (
    left_out, wrong_sign, roots, powers, circles, ratios, limits, logarithms, air_pressure, extra_root,
)  # fmt: skip


def _wrong(tree: Tree, piece: Tree, wrong: Tree, tag: str, says: str) -> Wrong:
    return Wrong(tag, replaced(tree, piece, wrong), says)
