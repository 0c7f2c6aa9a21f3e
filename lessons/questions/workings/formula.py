"""A formula as a question writes it, such as `kv * sqrt(dp / g)`: read, worked out, and told as a person writes it.

A formula is read with Python's own parser, and only the few forms below are known. It is worked out in SI.
`unit_of(x)` is what one trade unit of x is in SI. With it a wrong working, such as a root that was left out, can be
worked out in the units on the page, where the root of 4 bar is 2. `circle(d)` is the area of a circle, `rim(d)` the way
round it.
"""

from __future__ import annotations

import ast
import copy
import functools
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

Tree = ast.expr
_FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "ln": math.log,
    "log": math.log10,
    "circle": lambda diameter: math.pi / 4 * diameter**2,
    "rim": lambda diameter: math.pi * diameter,
    "min": min,
    "max": max,
}
_OPERATIONS: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: lambda a, b: float(a**b),
}
_RAISED = str.maketrans("0123456789-.", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻·")
SUM, PRODUCT, POWER, WHOLE = 1, 2, 3, 4  # how strongly a piece of a formula holds together


@dataclass(frozen=True)
class Values:
    """The numbers a formula is worked out with: by name in SI, and by name in trade units (per cent as fractions)."""

    si: Mapping[str, float]
    trade: Mapping[str, float]


_Worker = Callable[[Mapping[str, float], Values], float]


def tree_of(formula: str) -> Tree:
    """Return the tree of a formula."""
    return ast.parse(formula, mode="eval").body


def call(function: str, *arguments: Tree) -> Tree:
    """Return a call of one of the functions."""
    return ast.Call(ast.Name(function), list(arguments), [])


def joined(left: Tree, operation: ast.operator, right: Tree) -> Tree:
    """Return two trees joined by an operation."""
    return ast.BinOp(left, operation, right)


def constant(value: float) -> Tree:
    """Return a number as a tree."""
    return ast.Constant(value)


def worked_out(tree: Tree, values: Values) -> float:
    """Work a formula out in SI; not a number where it has no value, as the root of a negative number."""
    try:
        return _worker(tree)(values.si, values)
    except (ArithmeticError, ValueError, TypeError):
        return math.nan


def as_typed(tree: Tree, values: Values) -> float:
    """Work a formula out with the numbers on the page as they stand there, whatever their units."""
    return worked_out(tree, Values(values.trade, values.trade))


@functools.lru_cache(maxsize=20_000)  # the trees of all questions, each worked out for every answer that is judged
def _worker(tree: Tree) -> _Worker:
    """Return what works a piece out with the numbers it is to take."""
    match tree:
        case ast.Constant(value=float() | int() as number):
            return lambda _, __: float(number)
        case ast.Name(id="pi"):
            return lambda _, __: math.pi
        case ast.Name(id=name):
            return lambda numbers, _: float(numbers[name])
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            inner = _worker(operand)
            return lambda numbers, values: -inner(numbers, values)
        case ast.BinOp(left=left, op=operation, right=right):
            return _pair(_worker(left), _OPERATIONS[type(operation)], _worker(right))
        case ast.Call(func=ast.Name(id="unit_of"), args=[argument]):
            one = _worker(argument)
            return lambda _, values: abs(one(values.si, values) / one(values.trade, values))
        case ast.Call(func=ast.Name(id=name), args=arguments):
            function, each = _FUNCTIONS[name], [_worker(argument) for argument in arguments]
            return lambda numbers, values: function(*(one(numbers, values) for one in each))
    raise ValueError(f"A formula of a question does not know {ast.unparse(tree)}.")


def _pair(left: _Worker, operation: Callable[[float, float], float], right: _Worker) -> _Worker:
    return lambda numbers, values: operation(left(numbers, values), right(numbers, values))


def replaced(tree: Tree, old: Tree, new: Tree) -> Tree:
    """Return the tree with one piece of it, this very one, put for another."""
    if tree is old:
        return new
    match tree:
        case ast.BinOp(left=left, op=operation, right=right):
            return named_as(tree, ast.BinOp(replaced(left, old, new), operation, replaced(right, old, new)))
        case ast.UnaryOp(op=operation, operand=inner):
            return named_as(tree, ast.UnaryOp(operation, replaced(inner, old, new)))
        case ast.Call(func=function, args=arguments):
            return named_as(tree, ast.Call(function, [replaced(each, old, new) for each in arguments], []))
    return tree


def put_in(tree: Tree, lines: Mapping[str, Tree]) -> Tree:
    """Return the tree with the lines it names put in; each piece keeps the name of its line."""
    match tree:
        case ast.Name(id=name) if name in lines:
            return _called(copy.copy(lines[name]), name)
        case ast.Name(id=name):
            return ast.Name(name)  # a copy, so that each place can be told from the others
        case ast.BinOp(left=left, op=operation, right=right):
            return ast.BinOp(put_in(left, lines), operation, put_in(right, lines))
        case ast.UnaryOp(op=operation, operand=inner):
            return ast.UnaryOp(operation, put_in(inner, lines))
        case ast.Call(func=function, args=arguments):
            return ast.Call(function, [put_in(each, lines) for each in arguments], [])
    return tree


def name_of(tree: Tree) -> str:
    """Return the name of a number or of a line; empty for any other piece."""
    return getattr(tree, "called", "") or (tree.id if isinstance(tree, ast.Name) else "")


def named_as(old: Tree, new: Tree) -> Tree:
    """Give a piece the name that another has."""
    return _called(new, name) if (name := getattr(old, "called", "")) else new


def _called(tree: Tree, name: str) -> Tree:
    tree.called = name  # type: ignore[attr-defined]  # a mark of our own on Python's tree
    return tree


def pieces(tree: Tree) -> Iterator[Tree]:
    """Return a tree and all the pieces in it."""
    yield tree
    match tree:
        case ast.BinOp(left=left, right=right):
            inner = [left, right]
        case ast.UnaryOp(operand=operand):
            inner = [operand]
        case ast.Call(args=arguments):
            inner = arguments
        case _:
            inner = []
    for each in inner:
        yield from pieces(each)


def told(tree: Tree, words: Mapping[str, str], hold: int = 0) -> str:
    """Write a formula as a person does, with a word for each name.

    >>> told(tree_of("kv * sqrt((p1 - p2) / g)"), {"kv": "Kv", "p1": "P1", "p2": "P2", "g": "G"})
    'Kv × √((P1 − P2) ÷ G)'
    """
    text, own = _told(tree, words)
    return f"({text})" if own < hold else text


def _told(tree: Tree, words: Mapping[str, str]) -> tuple[str, int]:
    match tree:
        case ast.Constant(value=float() | int() as number):
            return f"{number:g}", WHOLE
        case ast.Name(id=name):
            word = words.get(name, "π" if name == "pi" else name)
            return word, WHOLE
        case ast.UnaryOp(operand=inner):
            return f"−{told(inner, words, PRODUCT)}", SUM
        case ast.BinOp(left=left, op=operation, right=right):
            return _told_pair(left, operation, right, words)
        case ast.Call(func=ast.Name(id=function), args=arguments):
            return _told_call(function, arguments, words)
    raise ValueError(f"A formula of a question does not know {ast.unparse(tree)}.")


def _told_pair(left: Tree, operation: ast.operator, right: Tree, words: Mapping[str, str]) -> tuple[str, int]:
    match operation:
        case ast.Add() | ast.Sub():
            sign = "+" if isinstance(operation, ast.Add) else "−"
            return f"{told(left, words, SUM)} {sign} {told(right, words, PRODUCT)}", SUM
        case ast.Mult():
            return f"{told(left, words, PRODUCT)} × {told(right, words, PRODUCT)}", PRODUCT
        case ast.Div():
            return f"{told(left, words, PRODUCT)} ÷ {told(right, words, POWER)}", PRODUCT
    return _raised(left, right, words), POWER


def _raised(left: Tree, right: Tree, words: Mapping[str, str]) -> str:
    base = told(left, words, WHOLE)
    base = f"({base})" if (" " in base and not base.startswith("(")) or base.startswith("{") else base
    if isinstance(right, ast.Constant) and isinstance(right.value, int):
        return f"{base}{str(right.value).translate(_RAISED)}"
    return f"{base} to the power {told(right, words, WHOLE)}"


def _told_call(function: str, arguments: list[Tree], words: Mapping[str, str]) -> tuple[str, int]:
    inner = [told(each, words) for each in arguments]
    match function:
        case "sqrt":
            simple = isinstance(arguments[0], ast.Name | ast.Constant) and not set(" {") & set(inner[0])
            return f"√{inner[0]}" if simple else f"√({inner[0]})", POWER
        case "circle":
            return f"π/4 × {_raised(arguments[0], ast.Constant(2), words)}", PRODUCT
        case "rim":
            return f"π × {told(arguments[0], words, PRODUCT)}", PRODUCT
        case "min" | "max":
            return f"the {'smaller' if function == 'min' else 'larger'} of {' and '.join(inner)}", SUM
    return f"{function}({', '.join(inner)})", WHOLE
