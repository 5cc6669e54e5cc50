"""Mutants that survive, and why each is harmless; an entry that no longer fits is noticed."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path

from tests.mutants.drawing import Mutant

LIST = Path(__file__).with_name("explained.toml")

Change = tuple[str, str, str]


def explanations(text: str) -> dict[Change, str]:
    """Why each known survivor is harmless, by its module, its line and what the line becomes."""
    entries = tomllib.loads(text).get("survivor", [])
    return {(entry["module"], entry["line"], entry["becomes"]): entry["why"] for entry in entries}


def stale(known: Mapping[Change, str], root: Path, killed: Iterable[Mutant]) -> list[Change]:
    """Entries whose line is gone, or whose mutant a test kills by now."""
    dead = {mutant.change for mutant in killed}
    return [change for change in known if change in dead or not _stands(root / change[0], change[1])]


def _stands(module: Path, line: str) -> bool:
    return module.exists() and line in map(str.strip, module.read_text(encoding="utf-8").splitlines())
