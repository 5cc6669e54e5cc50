"""Which mutants there are, and which of them a seed draws."""

from __future__ import annotations

import ast
import warnings
from collections.abc import Iterable, Iterator
from hashlib import blake2b
from pathlib import Path
from typing import NamedTuple

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

ROOMS = ("kb/quantity", "kb/calc", "kb/book/model", "kb/book/evidence", "kb/book/lookup", "kb/book/setting")
MUST_DIE = (
    "kb/calc/correction.py",
    "kb/calc/screw.py",
    "kb/book/evidence/roles.py",
    "kb/book/setting/window.py",
    "kb/book/setting/aim.py",
    "kb/book/setting/judge.py",
)
"""Where a mistake turns the engine early: no mutant drawn here may survive without an explanation."""

Place = tuple[int, int]
_SAME_QUESTION = ("_Is_Eq", "_Eq_Is", "_IsNot_NotEq", "_NotEq_IsNot")
"""Operators that change no answer here: what is the same is equal, and enums and units stand once."""


class Mutant(NamedTuple):
    """One change of one line."""

    module: str
    operator: str
    occurrence: int
    row: int
    line: str
    becomes: str

    @property
    def change(self) -> tuple[str, str, str]:
        """What it is known by while the lines around it move."""
        return self.module, self.line, self.becomes

    def applied_to(self, source: str) -> str:
        """The module with the change in it."""
        mutated: str | None = mutate_code(source, get_operator(self.operator)(), self.occurrence)
        return source if mutated is None else mutated

    def __str__(self) -> str:
        return f"{self.module}:{self.row}\n  - {self.line}\n  + {self.becomes or '(nothing)'}"


class Candidate(NamedTuple):
    """An operator at a place, not yet applied."""

    operator: str
    occurrence: int
    place: Place


def modules(root: Path) -> list[str]:
    """The modules that are mutated."""
    return sorted(path.relative_to(root).as_posix() for room in ROOMS for path in (root / room).glob("*.py"))


def draw(root: Path, only: Iterable[str], seed: int, count: int | None, *, every: bool = False) -> list[Mutant]:
    """At most one mutant at a place, ``count`` in all, or ``every`` one there is.

    A place is drawn by what stands there, so that a change elsewhere leaves the draw as it was.
    """
    ranked = []
    for module in only:
        source = (root / module).read_text(encoding="utf-8")
        lines = source.splitlines()
        for place, candidates in _candidates(source).items():
            row, column = place
            here = lines[row - 1]
            rank = _rank(seed, module, here.strip(), column - len(here) + len(here.lstrip()))
            ranked.append((rank, place, module, source, candidates))
    drawn: list[Mutant] = []
    for rank, place, module, source, candidates in sorted(ranked):
        if count is not None and len(drawn) >= count:
            break
        in_order = sorted(candidates, key=lambda one: _rank(seed, rank, one.operator))
        mutants = (mutant for one in in_order if (mutant := _apply(module, source, place[0], one)))
        drawn.extend(mutants if every else (mutant for mutant in [next(mutants, None)] if mutant))
    return drawn


def _rank(*parts: object) -> str:
    return blake2b("\0".join(map(str, parts)).encode(), digest_size=8).hexdigest()


def _candidates(source: str) -> dict[Place, list[Candidate]]:
    """Every change that could be made, by the row and column where it is made."""
    nodes = list(ast_nodes(get_ast(source)))
    passed_over = list(_passed_over(ast.parse(source)))
    lines = source.splitlines()
    found: dict[Place, list[Candidate]] = {}
    for name in operator_names():
        operator_class = get_operator(name)
        if operator_class.arguments() or name.endswith(_SAME_QUESTION):
            continue
        operator = operator_class()
        places = ((node, place) for node in nodes for place, _ in operator.mutation_positions(node))
        for occurrence, (node, place) in enumerate(places):
            row, column = place
            in_bytes = row, len(lines[row - 1][:column].encode())  # as the syntax tree counts
            marks_parameters = node.parent is not None and node.parent.type == "parameters"  # the * before keywords
            if not marks_parameters and not any(start <= in_bytes < end for start, end in passed_over):
                found.setdefault(place, []).append(Candidate(name, occurrence, place))
    return found


def _passed_over(tree: ast.Module) -> Iterator[tuple[Place, Place]]:
    """Where a change changes nothing at run time: annotations, caches, and what only type checkers see."""
    for node in ast.walk(tree):
        inert: list[ast.AST | None] = []
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            inert = [node.returns, *[one for one in node.decorator_list if "cache" in ast.unparse(one)]]
        elif isinstance(node, (ast.arg, ast.AnnAssign)):
            inert = [node.annotation]
        elif (isinstance(node, ast.Call) and "cache" in ast.unparse(node.func)) or (
            isinstance(node, (ast.If, ast.Assign)) and "TYPE_CHECKING" in ast.unparse(node).partition("\n")[0]
        ):
            inert = [node]
        for part in inert:
            if isinstance(part, (ast.expr, ast.stmt)) and part.end_lineno and part.end_col_offset is not None:
                column = max(part.col_offset - 1, 0) if isinstance(part, ast.expr) else part.col_offset  # the @
                yield (part.lineno, column), (part.end_lineno, part.end_col_offset)


def _apply(module: str, source: str, row: int, candidate: Candidate) -> Mutant | None:
    """The mutant; none where it is no Python, or the same program."""
    mutated = mutate_code(source, get_operator(candidate.operator)(), candidate.occurrence)
    try:
        if mutated is None or ast.dump(ast.parse(mutated)) == ast.dump(ast.parse(source)):
            return None
        with warnings.catch_warnings():
            warnings.simplefilter("error")  # such as "is" with a literal, which no one writes
            compile(mutated, module, "exec", dont_inherit=True)
    except (SyntaxError, SyntaxWarning):
        return None
    before, after = source.splitlines(), mutated.splitlines()
    becomes = after[row - 1].strip() if len(before) == len(after) else ""
    return Mutant(module, candidate.operator, candidate.occurrence, row, before[row - 1].strip(), becomes)
