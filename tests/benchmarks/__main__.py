"""``python -m tests.benchmarks``: print each figure beside its peer, and end with 1 when a budget is missed."""

from __future__ import annotations

import argparse
import sys

from tests.benchmarks import (
    at_scale,
    building,
    checking,
    cold_start,
    compiling,
    family_page,
    finding,
    looking_up,
    offline,
    on_the_phone,
    quality,
)

USUAL = 10_000
TOPICS = {
    "looking_up": looking_up.rows,
    "finding": finding.rows,
    "on_the_phone": on_the_phone.rows,
    "building": building.rows,
    "family_page": family_page.rows,
    "offline": offline.rows,
    "quality": quality.rows,
    "cold_start": cold_start.rows,
    "checking": checking.rows,
    "compiling": compiling.rows,
}
LONG = {"at_scale": at_scale.rows}
"""What is measured only when it is named, and unless another size is named, in a tenfold book."""


def main() -> int:
    """Measure the topics asked for, all by default."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Measure what the design promises.")
    parser.add_argument(
        "topics", nargs="*", metavar="TOPIC", help=f"{', '.join(TOPICS)}: all of them by default; or {', '.join(LONG)}"
    )
    parser.add_argument("--families", type=int, metavar="N", help=f"how large a book ({USUAL}; at_scale {10 * USUAL})")
    arguments = parser.parse_args()
    if unknown := [topic for topic in arguments.topics if topic not in TOPICS | LONG]:
        parser.error(f"there is no topic {unknown[0]}; there are {', '.join(TOPICS | LONG)}")
    missed = 0
    for topic in arguments.topics or TOPICS:
        usual = 10 * USUAL if topic in LONG else USUAL
        for row in (TOPICS | LONG)[topic](arguments.families or usual):
            print(row, flush=True)
            missed += row.holds is False
    print(f"{missed} missed" if missed else "every budget holds")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
