"""``python -m tests.slips [seed [count]]``: plants slips and prints, by kind, how many the check reports."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Mapping
from random import Random

from kb.book.model.family import Family
from kb.finding import Finding
from kb.intake.check.file_kinds import kind_and_id, read_files
from kb.intake.check.one_file import FileResult, check_file
from kb.intake.check.whole_book import finish_check, make_context
from kb.intake.facts.rule_context import RuleContext
from tests.slips.evidence import redundant_statements
from tests.slips.plant import Slipped, plant, scalars
from tests.support.folders import FROZEN


def slips(seed: int, count: int) -> tuple[list[tuple[Slipped, list[Finding]]], list[Finding], int]:
    """The planted slips with what is reported of each, the clean book's findings, and how many scalars there are."""
    files = read_files(FROZEN)
    context = make_context(files, files.__getitem__)
    results = {file: check_file(file, raw, context) for file, raw in files.items()}
    clean = finish_check(results, context, files.__getitem__)
    families = {
        found[1]: Family(found[1], results[file].document, context.default_states)
        for file in files
        if (found := kind_and_id(file)) and found[0] == "family"
    }
    candidates = scalars(redundant_statements(families, context.sources))
    chance = Random(seed)
    planted: list[tuple[Slipped, list[Finding]]] = []
    while len(planted) < count:
        slipped = plant(chance.choice(candidates), files, chance)
        if slipped is not None:
            told = {found.sort_key for found in clean}  # what is reported anyway is not reported of the slip
            new = [one for one in _check(slipped, files, context, results) if one.sort_key not in told]
            planted.append((slipped, new))
    return planted, clean, len(candidates)


def _check(
    slipped: Slipped, files: Mapping[str, bytes], context: RuleContext, results: Mapping[str, FileResult]
) -> list[Finding]:
    changed = {**files, **slipped.files}
    fresh = {file: check_file(file, raw, context) for file, raw in slipped.files.items()}
    return finish_check({**results, **fresh}, context, changed.__getitem__)


def table(planted: list[tuple[Slipped, list[Finding]]]) -> list[str]:
    """By kind, how many are reported of how many."""
    total = Counter(slipped.kind for slipped, _ in planted)
    caught = Counter(slipped.kind for slipped, found in planted if found)
    lines = [f"{kind:<28} {_share(caught[kind], total[kind])}" for kind in sorted(total)]
    whole, all_caught = sum(total.values()), sum(caught.values())
    return [*lines, f"{'all':<28} {_share(all_caught, whole)}"]


def _share(caught: int, whole: int) -> str:
    return f"{caught:>4} of {whole:>4}  {100 * caught / whole:5.1f} %"


def main() -> int:
    """Print the table, and what was missed with ``-v``."""
    words = [word for word in sys.argv[1:] if word != "-v"]
    seed, count = int(words[0]) if words else 1, int(words[1]) if len(words) > 1 else 1000
    planted, clean, scalar_count = slips(seed, count)
    print(f"{count} slips, seed {seed}, over {scalar_count} scalars with redundant evidence")
    print(f"clean book: {len(clean)} findings")
    print("\n".join(table(planted)))
    if "-v" in sys.argv:
        for slipped, found in planted:
            if not found:
                print(
                    slipped.kind,
                    slipped.scalar.redundant.family,
                    slipped.scalar.path,
                    slipped.scalar.redundant.evidence,
                )
    return 0


if __name__ == "__main__":
    sys.exit(main())
