"""``python -m tests.mutants [--seed N] [--count N] [--only MODULE]``: which changes of the code no test notices.

Exits with 1 when fewer die than must, when one survives unexplained where all must die, or when an explanation has
become needless.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from concurrent.futures import as_completed
from pathlib import Path

from tests.mutants.drawing import MUST_DIE, Mutant, draw, modules
from tests.mutants.explained import LIST, Change, explanations, stale
from tests.mutants.selection import holding, select
from tests.mutants.trying import Tried, attempt, workers
from tests.support.folders import ROOT

SHARE = 0.92
"""What part of the drawn mutants must die."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Draw, try, print; the exit code."""
    options = _parser().parse_args(arguments)
    start = time.monotonic()
    known = explanations(LIST.read_text(encoding="utf-8"))
    drawn = draw(ROOT, options.only or modules(ROOT), options.seed, options.count or None, every=options.every)
    options.place.mkdir(parents=True, exist_ok=True)
    with workers(ROOT, options.place.resolve(), options.workers) as pool:
        selection = select(ROOT, options.tests or holding(), pool, options.place / "measured.json")
        chosen = {mutant: selection.tests_of(mutant.module, mutant.row) for mutant in drawn}
        waiting = [
            pool.submit(attempt, mutant, files, 20 + 2 * selection.seconds(files)) for mutant, files in chosen.items()
        ]
        tried = []
        for done in as_completed(waiting):
            tried.append(done.result())
            if tried[-1].survived:
                print(_survivor(tried[-1].mutant, known), flush=True)
    print(*_summary(tried, time.monotonic() - start), sep="\n")
    wrong = faults(tried, known)
    print(*wrong, sep="\n", end="\n" if wrong else "")
    return 1 if wrong else 0


def faults(tried: Sequence[Tried], known: Mapping[Change, str]) -> list[str]:
    """What is wrong after a run, each in a line."""
    survivors = [one.mutant for one in tried if one.survived]
    found = [
        f"{mutant.module}:{mutant.row} survives where all must die; add a test, or say in {LIST.name} why not"
        for mutant in survivors
        if mutant.module in MUST_DIE and mutant.change not in known
    ]
    found += [
        f"{LIST.name} explains what no longer survives: {module}: {line}"
        for module, line, _ in stale(known, ROOT, [one.mutant for one in tried if not one.survived])
    ]
    if len(tried) - len(survivors) < SHARE * len(tried):
        found.append(f"at least {SHARE:.0%} must die")
    return found


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="which mutants are drawn")
    parser.add_argument("--count", type=int, default=300, help="how many; 0 for one at every place")
    parser.add_argument("--only", action="append", metavar="MODULE", help="such as kb/calc/screw.py; may be repeated")
    parser.add_argument("--every", action="store_true", help="every mutant at a drawn place, not one of them")
    parser.add_argument("--tests", action="append", metavar="FILE", help="test files to choose from; may be repeated")
    parser.add_argument("--workers", type=int, default=2, help="how many mutants are tried at once")
    parser.add_argument("--place", type=Path, default=ROOT / "build" / "mutants", help="where the copies go")
    return parser


def _survivor(mutant: Mutant, known: Mapping[Change, str]) -> str:
    why = known.get(mutant.change)
    return f"survives: {mutant}\n  = {why or 'not explained'}"


def _summary(tried: Sequence[Tried], seconds: float) -> list[str]:
    """How many died, room by room and in all."""
    everything: Counter[str] = Counter(one.mutant.module.rpartition("/")[0] for one in tried)
    survived: Counter[str] = Counter(one.mutant.module.rpartition("/")[0] for one in tried if one.survived)
    lines = [f"{room:<20} {count - survived[room]:>4} of {count:>4} die" for room, count in sorted(everything.items())]
    died = len(tried) - survived.total()
    timed_out = sum(one.timed_out for one in tried)
    share = died / max(len(tried), 1)
    return [
        *lines,
        f"{'all':<20} {died:>4} of {len(tried):>4} die, {share:.1%}, {timed_out} by taking too long; {seconds:.0f} s",
    ]


if __name__ == "__main__":
    sys.exit(main())
