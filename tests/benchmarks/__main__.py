"""``python -m tests.benchmarks``: print each figure beside its peer, and end with 1 when a budget is missed."""

from __future__ import annotations

import argparse
import sys

from tests.benchmarks import (
    building,
    checking,
    cold_start,
    family_page,
    finding,
    looking_up,
    offline,
    on_the_phone,
    quality,
)

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
}


def main() -> int:
    """Measure the topics asked for, all by default."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Measure what the design promises.")
    parser.add_argument("topics", nargs="*", metavar="TOPIC", help=f"{', '.join(TOPICS)}; all of them by default")
    parser.add_argument("--families", type=int, default=10_000, metavar="N", help="how large a book (10000)")
    arguments = parser.parse_args()
    if unknown := [topic for topic in arguments.topics if topic not in TOPICS]:
        parser.error(f"there is no topic {unknown[0]}; there are {', '.join(TOPICS)}")
    missed = 0
    for topic in arguments.topics or TOPICS:
        for row in TOPICS[topic](arguments.families):
            print(row, flush=True)
            missed += row.holds is False
    print(f"{missed} missed" if missed else "every budget holds")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
