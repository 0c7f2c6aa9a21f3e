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
    return _chains(tree, ast.Add, ast.Sub)


def products(tree: Tree) -> Iterator[tuple[Tree, list[tuple[int, Tree]]]]:
    """Return each product or quotient that is not part of a larger one, with its factors; below the line −1."""
    return _chains(tree, ast.Mult, ast.Div)


def _chains(
    tree: Tree, straight: type[ast.operator], turned: type[ast.operator]
) -> Iterator[tuple[Tree, list[tuple[int, Tree]]]]:
    """Return each chain of an operation and the one that undoes it, with its links: 1, or −1 where it is undone."""
    inner: set[int] = set()

    def links(piece: Tree, sign: int) -> Iterator[tuple[int, Tree]]:
        if isinstance(piece, ast.BinOp) and isinstance(piece.op, (straight, turned)):
            inner.add(id(piece))
            yield from links(piece.left, sign)
            yield from links(piece.right, sign if isinstance(piece.op, straight) else -sign)
        else:
            yield sign, piece

    for piece in pieces(tree):
        if id(piece) not in inner and isinstance(piece, ast.BinOp) and isinstance(piece.op, (straight, turned)):
            yield piece, list(links(piece, 1))


def sum_of(terms: list[tuple[int, Tree]]) -> Tree:
    """Return the sum of terms with their signs."""
    (sign, first), *others = sorted(terms, key=lambda each: -each[0])
    total = first if sign > 0 else joined(constant(0), MINUS, first)
    for sign, term in others:
        total = joined(total, PLUS if sign > 0 else MINUS, term)
    return total


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
