"""Takes the tree of a working apart: its sums and products, what stands in a call, and how a piece is named."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from lessons.questions.workings.formula import Tree, constant, joined, name_of, pieces, told
from lessons.questions.workings.names import marked

TIMES, OVER, PLUS, MINUS = ast.Mult(), ast.Div(), ast.Add(), ast.Sub()


def called(piece: Tree) -> str:
    """Name a piece of a working in a sentence, with its number: "the packing friction, 250 N"."""
    if name := name_of(piece):
        return "π" if name == "pi" else f"the {marked(name)}, {{{name}}}"
    return in_numbers(piece)


def sums(tree: Tree) -> Iterator[tuple[Tree, list[tuple[int, Tree]]]]:
    """Return each sum that is not part of a larger one, with its terms and their signs."""
    inner: set[int] = set()
    for piece in pieces(tree):
        if id(piece) not in inner and isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Add | ast.Sub):
            yield piece, list(_terms(piece, 1, inner))


def _terms(piece: Tree, sign: int, inner: set[int]) -> Iterator[tuple[int, Tree]]:
    if isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Add | ast.Sub):
        inner.add(id(piece))
        yield from _terms(piece.left, sign, inner)
        yield from _terms(piece.right, sign if isinstance(piece.op, ast.Add) else -sign, inner)
    else:
        yield sign, piece


def sum_of(terms: list[tuple[int, Tree]]) -> Tree:
    """Return the sum of terms with their signs."""
    (sign, first), *others = sorted(terms, key=lambda each: -each[0])
    total = first if sign > 0 else joined(constant(0), MINUS, first)
    for sign, term in others:
        total = joined(total, PLUS if sign > 0 else MINUS, term)
    return total


def products(tree: Tree) -> Iterator[tuple[Tree, list[tuple[int, Tree]]]]:
    """Return each product or quotient that is not part of a larger one, with its factors; below the line −1."""
    inner: set[int] = set()
    for piece in pieces(tree):
        if id(piece) not in inner and isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Mult | ast.Div):
            yield piece, list(_factors(piece, 1, inner))


def _factors(piece: Tree, power: int, inner: set[int]) -> Iterator[tuple[int, Tree]]:
    if isinstance(piece, ast.BinOp) and isinstance(piece.op, ast.Mult | ast.Div):
        inner.add(id(piece))
        yield from _factors(piece.left, power, inner)
        yield from _factors(piece.right, power if isinstance(piece.op, ast.Mult) else -power, inner)
    else:
        yield power, piece


def inside(piece: Tree, function: str) -> Tree | None:
    """Return what a call of this function is made with; None for any other piece."""
    is_call = isinstance(piece, ast.Call) and isinstance(piece.func, ast.Name) and piece.func.id == function
    return piece.args[0] if is_call and isinstance(piece, ast.Call) else None


def power(base: Tree, raised_to: float) -> Tree:
    """Return a piece raised to a power."""
    return joined(base, ast.Pow(), constant(raised_to))


def in_numbers(tree: Tree) -> str:
    """Write a piece with the names of its numbers in braces."""
    names = {each.id: f"{{{each.id}}}" for each in pieces(tree) if isinstance(each, ast.Name) and each.id != "pi"}
    return told(tree, names)


def tag_of(family: str, *about: Tree) -> str:
    """Return the tag of a mistake: its family and the pieces it is about."""
    return "_".join(filter(None, (family, *map(_about, about))))


def _about(piece: Tree) -> str:
    if isinstance(piece, ast.Call) and isinstance(piece.func, ast.Name) and not name_of(piece):
        return "_".join(filter(None, (piece.func.id, *map(name_of, piece.args))))
    return name_of(piece)
