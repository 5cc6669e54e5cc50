"""``python -m tests.walk --seed N --family F --mechanic M`` prints a walk; ``--jobs N`` makes many and prints a table.

Exits with 1 when a walk shows a fault of the product.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.walk.careless import CAREFUL, MECHANICS, UNSEEN
from tests.walk.faults import FAULTS, put_back
from tests.walk.length import length_of, table
from tests.walk.phone import Phone
from tests.walk.table import lines
from tests.walk.walks import Asked, families, plan, walk_all, walked


def main(arguments: Sequence[str] | None = None) -> int:
    """Walk, print; the exit code."""
    options = _parser().parse_args(arguments)
    if options.jobs:
        return many(options)
    if options.lengths:
        with Phone() as phone:
            print(*table([length_of(phone, family) for family in families()]), sep="\n")
        return 0
    if options.faults:
        return old_faults()
    asked = Asked(options.seed, options.family, options.mechanic, exact=not options.scatter, serial=options.serial)
    with Phone() as phone:
        one = walked(phone, asked)
    print(*one.walk.told, sep="\n")
    print(f"{one.walk.ended}; {one.walk.screens} screens, {one.walk.taps} taps, {one.walk.readings} readings")
    print(*one.judged.faults, sep="\n")
    return 1 if one.judged.faults else 0


def many(options: argparse.Namespace) -> int:
    """The table of many walks."""
    walks = list(walk_all(plan(options.jobs, options.seed), options.workers))
    print(*lines(walks), sep="\n")
    wrong = [one for one in walks if one.judged.faults and one.asked.mechanic not in UNSEEN]
    return 1 if wrong else 0


def old_faults() -> int:
    """Each old fault put back, and whether its walk finds it."""
    unfound = 0
    for fault in FAULTS:
        with TemporaryDirectory() as folder, Phone(put_back(fault, Path(folder))) as phone:
            one = walked(phone, fault.asked)
        unfound += not one.found
        print(f"{fault.does}: {'; '.join(one.found[:1]) or 'NOT FOUND'}", flush=True)
    return 1 if unfound else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.walk", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="which engine, and every chance")
    parser.add_argument("--family", default="skerrow/ketch-47", help="such as skerrow/ketch-47")
    parser.add_argument("--serial", default="", help="its serial number; drawn from the family's without one")
    parser.add_argument("--mechanic", default=CAREFUL, choices=MECHANICS, help="how it is worked")
    parser.add_argument("--scatter", action="store_true", help="readings that scatter, instead of exact ones")
    parser.add_argument("--jobs", type=int, default=0, help="so many walks over all families, and a table")
    parser.add_argument("--faults", action="store_true", help="put each old fault back and say what finds it")
    parser.add_argument("--lengths", action="store_true", help="how long the job of each family is")
    parser.add_argument("--workers", type=int, default=2, help="how many at once")
    return parser


if __name__ == "__main__":
    sys.exit(main())
