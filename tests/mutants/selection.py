"""Which test files run a line, the quickest first: measured on the code as it stands, and kept until a file changes."""

from __future__ import annotations

import ast
import json
from collections.abc import Iterable, Mapping
from concurrent.futures import Executor
from hashlib import blake2b
from pathlib import Path
from typing import Any, NamedTuple

from tests.mutants.trying import Measured, measure
from tests.support.folders import ROOT, TESTS

HOLDING = ("quantity", "calc", "book")
"""Whose tests hold the mutated rooms; tests of pages and commands would notice more, at a hundred times the cost."""
TOO_SLOW = ("test_calc_accuracy.py", "test_store_corruption.py")
"""Not among them: worst errors in the last place, and damaged files."""
VECTORS = "tests/publish/test_vectors.py::test_the_files_are_fresh"
"""Every row of every calculation, as it was when an oracle held it right."""


def holding() -> list[str]:
    """The tests that hold the mutated rooms, as they lie today."""
    files = sorted(file for room in HOLDING for file in (TESTS / room).glob("test_*.py") if file.name not in TOO_SLOW)
    return [*(file.relative_to(ROOT).as_posix() for file in files), VECTORS]


class Selection(NamedTuple):
    """The measured test files."""

    root: Path
    files: Mapping[str, Measured]

    def tests_of(self, module: str, row: int) -> list[str]:
        """The test files that run what stands at a row, the quickest first, after the module's own examples."""
        rows = _rows_of_statement((self.root / module).read_text(encoding="utf-8"), row)
        running = [file for file, found in self.files.items() if rows & set(found.rows.get(module, ()))]
        return [module, *sorted(running, key=lambda file: self.files[file].seconds)]

    def seconds(self, tests: Iterable[str]) -> float:
        """What the tests cost on the code as it stands."""
        return sum(self.files[file].seconds for file in tests if file in self.files)


def select(root: Path, files: Iterable[str], workers: Executor, kept: Path) -> Selection:
    """Run each test file once, or take what was found when nothing had changed."""
    held: dict[str, Any] = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() else {}
    shared = _digest(root, ["kb", "specs", "schema", "tests/support", "tests/conftest.py"])
    marks = {file: _digest(root, [file.partition("::")[0]], shared) for file in files}
    held = {mark: held[mark] for mark in marks.values() if mark in held}
    fresh = {file: workers.submit(measure, file) for file, mark in marks.items() if mark not in held}
    for file, future in fresh.items():
        held[marks[file]] = future.result()._asdict()
        kept.write_text(json.dumps(held), encoding="utf-8")  # each at once: an hour's measuring may be broken off
    return Selection(root, {file: Measured(**held[mark]) for file, mark in marks.items()})


def _digest(root: Path, parts: Iterable[str], before: str = "") -> str:
    found = blake2b(before.encode(), digest_size=16)
    for part in parts:
        for file in sorted((root / part).rglob("*")) or [root / part]:
            if file.is_file() and "__pycache__" not in file.parts:
                found.update(file.relative_to(root).as_posix().encode() + file.read_bytes())
    return found.hexdigest()


def _rows_of_statement(source: str, row: int) -> set[int]:
    """The rows of the innermost statement at a row, without the statements inside it."""
    rows = {row}
    for node in ast.walk(ast.parse(source)):  # outer statements come before inner ones
        if isinstance(node, ast.stmt) and node.lineno <= row <= (node.end_lineno or node.lineno):
            rows = set(range(node.lineno, (node.end_lineno or node.lineno) + 1))
            body = getattr(node, "body", None)
            if body:
                rows = set(range(node.lineno, max(node.lineno + 1, body[0].lineno)))
    return rows
