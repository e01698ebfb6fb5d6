"""Small faults, one at a time: cosmic-ray's operators over a module, less the faults that could not matter.

Rules of what is left out:

- decorators, annotations, imports and the bare marks of a signature (``*``, ``/``); defaults in it stay in;
- what lies under ``if TYPE_CHECKING``, and ``__all__``; names and text are no operator's to change, so docstrings
  stay as they are, and so do type aliases;
- an operator is replaced by one of its own kind only (arithmetic, bits, values compared, identity): ``a << b`` of two
  floats fails in any test and would flatter the score;
- words are told apart by ``==`` and ``!=`` only: that one comes after another in the alphabet says nothing;
- ``strict=True``, which stops a program that is wrong already, and changes nothing in one that is sound;
- a change that Python does not compile, or that leaves the syntax tree as it was.

A site is a place in the source that can be changed, in one way or several. Sites are drawn, then one change for each,
so that a sum, which can be spoilt in six ways, weighs no more than a number.
"""

from __future__ import annotations

import ast
import functools
import itertools
import random
import warnings
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators import (
    binary_operator_replacement,
    boolean_replacer,
    break_continue,
    comparison_operator_replacement,
    exception_replacer,
    number_replacer,
    unary_operator_replacement,
    zero_iteration_for_loop,
)

KINDS = (
    {"Add", "Sub", "Mul", "Div", "FloorDiv", "Mod", "Pow"},
    {"RShift", "LShift", "BitOr", "BitAnd", "BitXor"},
    {"Eq", "NotEq", "Lt", "LtE", "Gt", "GtE"},
    {"Is", "IsNot"},
)

Place = tuple[int, int]


def _of_one_kind(operator: type) -> bool:
    _, before, after = operator.__name__.rsplit("_", 2)
    return any({before, after} <= kind for kind in KINDS)


OPERATORS = (
    *filter(_of_one_kind, binary_operator_replacement.operators()),
    *filter(_of_one_kind, comparison_operator_replacement.operators()),
    *unary_operator_replacement.operators(),
    boolean_replacer.AddNot,
    boolean_replacer.ReplaceTrueWithFalse,
    boolean_replacer.ReplaceFalseWithTrue,
    boolean_replacer.ReplaceAndWithOr,
    boolean_replacer.ReplaceOrWithAnd,
    break_continue.ReplaceBreakWithContinue,
    break_continue.ReplaceContinueWithBreak,
    exception_replacer.ExceptionReplacer,
    number_replacer.NumberReplacer,
    zero_iteration_for_loop.ZeroIterationForLoop,
)


@dataclass(frozen=True)
class Mutant:
    """One change at one site: what stands in the module instead, and how to tell a reader."""

    path: Path
    line: int
    source: str
    before: str
    after: str

    def __str__(self) -> str:
        """Say where and what, on one line."""
        return f"{self.path}:{self.line}: {self.before}  ->  {self.after}"


def _inside(place: Place, node: ast.AST) -> bool:
    start, end = (node.lineno, node.col_offset), (node.end_lineno, node.end_col_offset)
    return start <= place < end


def _left_out(tree: ast.Module) -> Iterator[tuple[Place, Place, list[ast.expr]]]:
    """Yield what no mutant may touch: start, end, and the parts of it that it may after all."""

    def whole(node: ast.AST) -> tuple[Place, Place, list[ast.expr]]:
        return (node.lineno, node.col_offset), (node.end_lineno, node.end_col_offset), []

    def is_idle(node: ast.AST) -> bool:
        for_types = isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        names_all = isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
        return isinstance(node, ast.Import | ast.ImportFrom) or for_types or names_all

    for node in ast.walk(tree):
        if is_idle(node):
            yield whole(node)
        elif isinstance(node, ast.AnnAssign):
            yield whole(node.annotation)
        elif isinstance(node, ast.keyword) and node.arg == "strict":
            yield whole(node)
        elif isinstance(node, ast.ClassDef):
            yield from map(whole, node.decorator_list)
        elif isinstance(node, ast.FunctionDef):
            yield from map(whole, node.decorator_list)
            body = node.body[0]
            defaults = [*node.args.defaults, *filter(None, node.args.kw_defaults)]
            yield (node.lineno, node.col_offset), (body.lineno, body.col_offset), defaults


@functools.cache
def _sites(source: str) -> dict[tuple[Place, Place], list[tuple[type, int]]]:
    """Return what can be changed: place -> operators, each with the number of its occurrence."""
    code, left_out = get_ast(source), list(_left_out(ast.parse(source)))

    def may_change(place: Place) -> bool:
        return not any(
            start <= place < end and not any(_inside(place, part) for part in parts) for start, end, parts in left_out
        )

    sites = defaultdict(list)
    for operator in OPERATORS:
        places = (place for node in ast_nodes(code) for place in operator().mutation_positions(node))
        for occurrence, place in enumerate(places):
            if may_change(place[0]):
                sites[place].append((operator, occurrence))
    return dict(sites)


def count_sites(path: Path) -> int:
    """Return how many places of a module can be changed."""
    return len(_sites(path.read_text()))


def draw(path: Path, number: int, seed: int) -> list[Mutant]:
    """Return mutants at `number` sites of a module, drawn by the seed; all of it if it has fewer."""
    source, chance = path.read_text(), random.Random(f"{seed} {path.name}")
    sites = sorted(_sites(source).items())
    chance.shuffle(sites)
    changes = ((place[0][0], *chance.choice(ways)) for place, ways in sites)
    mutants = filter(None, (_mutant(path, source, *change) for change in changes))
    return sorted(itertools.islice(mutants, number), key=lambda mutant: mutant.line)


def _words_in_order(tree: ast.Module) -> int:
    """Return how often a word is said to come before or after something."""
    return sum(
        isinstance(sign, ast.Lt | ast.LtE | ast.Gt | ast.GtE) and isinstance(getattr(than, "value", None), str)
        for node in ast.walk(tree)
        if isinstance(node, ast.Compare)
        for sign, than in zip(node.ops, node.comparators, strict=True)
    )


def _mutant(path: Path, source: str, line: int, operator: type, occurrence: int) -> Mutant | None:
    changed = mutate_code(source, operator(), occurrence)
    with warnings.catch_warnings(action="ignore"):
        try:
            before, after = ast.parse(source), ast.parse(changed)
            compile(changed, path, "exec")
        except SyntaxError:
            return None
    if ast.dump(before) == ast.dump(after) or _words_in_order(before) != _words_in_order(after):
        return None
    pairs = zip(source.splitlines(), changed.splitlines(), strict=False)
    before, after = next((old.strip(), new.strip()) for old, new in pairs if old != new)
    return Mutant(path, line, changed, before, after)
