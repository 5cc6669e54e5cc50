"""The mutation tester: what it draws, what it makes of a survivor, and one small run of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.mutants.__main__ import faults, main
from tests.mutants.drawing import MUST_DIE, Mutant, draw, modules
from tests.mutants.explained import LIST, explanations, stale
from tests.mutants.selection import Selection
from tests.mutants.trying import Measured, Tried
from tests.support.folders import ROOT

SOURCE = '''
from functools import lru_cache
TYPE_CHECKING = False


@lru_cache(maxsize=8)
def wider(gap: int | None, *, most: int = 9) -> int | None:
    """A gap, wider."""
    if gap is None:
        return most
    return gap + 1
'''
CHANGES = {
    "def wider(gap: int | None, *, most: int = 10) -> int | None:",
    "if not gap is None:",
    "if gap is not None:",
    "return gap - 1",
    "return gap + 2",
}


@pytest.fixture
def small(tmp_path: Path) -> Path:
    (tmp_path / "small.py").write_text(SOURCE, encoding="utf-8")
    return tmp_path


def spaced(mutant: Mutant) -> str:
    return " ".join(mutant.becomes.replace("( ", "(").split())


def test_what_runs_is_changed_and_nothing_else(small: Path) -> None:
    every = draw(small, ["small.py"], 1, None, every=True)
    assert {spaced(mutant) for mutant in every} >= CHANGES
    assert {mutant.line for mutant in every} == {"if gap is None:", "return gap + 1", SOURCE.splitlines()[6]}
    assert all("None, *, most" in mutant.becomes for mutant in every if mutant.line.startswith("def"))


def test_a_seed_draws_the_same_again_wherever_the_lines_stand(small: Path) -> None:
    first = draw(small, ["small.py"], 1, 3)
    assert len(first) == 3
    assert len({(mutant.row, mutant.line) for mutant in draw(small, ["small.py"], 1, None)}) >= 3
    (small / "small.py").write_text("before = 1 + 1\n" * 3 + SOURCE, encoding="utf-8")
    again = [mutant for mutant in draw(small, ["small.py"], 1, None) if not mutant.line.startswith("before")]
    assert [mutant.change for mutant in again][:3] == [mutant.change for mutant in first]


def test_a_line_is_tried_with_the_test_files_that_run_it_the_quickest_first(small: Path) -> None:
    files = {"slow": (9.0, [9, 11]), "quick": (1.0, [9]), "other": (0.1, [3])}
    measured = {file: Measured(seconds, {"small.py": rows}) for file, (seconds, rows) in files.items()}
    selection = Selection(small, measured)
    assert selection.tests_of("small.py", 9) == ["small.py", "quick", "slow"]
    assert selection.tests_of("small.py", 11) == ["small.py", "slow"]
    assert selection.seconds(["small.py", "quick", "slow"]) == 10


def tried(count: int, *survivors: Mutant) -> list[Tried]:
    dead = [Tried(Mutant("kb/other.py", "core/AddNot", row, row, "", ""), False) for row in range(count)]
    return [*dead, *[Tried(mutant, True) for mutant in survivors]]


LINE = next(line.strip() for line in (ROOT / MUST_DIE[0]).read_text(encoding="utf-8").splitlines() if "return" in line)
WEIGHTY = Mutant(MUST_DIE[0], "core/AddNot", 0, 1, LINE, "return 0")
LIGHT = Mutant("kb/calc/rim.py", "core/AddNot", 0, 1, "", "return 0")


def test_what_a_run_comes_to() -> None:
    why = {WEIGHTY.change: "it is the same"}
    assert faults(tried(92, *[LIGHT] * 8), {}) == []
    assert faults(tried(91, *[LIGHT] * 9), {}) == ["at least 92% must die"]
    assert faults(tried(99, WEIGHTY), why) == []
    assert len(faults(tried(99, WEIGHTY), {})) == 1
    assert "survives where all must die" in faults(tried(99, WEIGHTY), {})[0]
    now_dead = [Tried(WEIGHTY, False)]
    assert faults(now_dead, why) == [f"explained.toml explains what no longer survives: {MUST_DIE[0]}: {LINE}"]
    gone = {(MUST_DIE[0], "return nothing at all", ""): "it was the same"}
    assert "return nothing at all" in faults(tried(99), gone)[0]


def test_every_explanation_is_of_a_line_that_stands() -> None:
    known = explanations(LIST.read_text(encoding="utf-8"))
    assert not stale(known, ROOT, [])
    assert all(len(why) > 20 and module in modules(ROOT) for (module, _, _), why in known.items())
    assert set(MUST_DIE) <= set(modules(ROOT))


def test_a_small_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    chosen = ["--only", "kb/quantity/form.py", "--count", "6", "--tests", "tests/quantity/test_number.py"]
    assert main([*chosen, "--workers", "1", "--place", str(tmp_path)]) == 1  # numbers alone notice little of it
    printed = capsys.readouterr().out
    assert "survives: kb/quantity/form.py:" in printed
    assert " of    6 die" in printed
    assert printed.endswith("at least 92% must die\n")
    assert "kb/quantity/form.py" in (tmp_path / "measured.json").read_text(encoding="utf-8")
