"""How many random cases a test tries: a few in every run, many with ``make thorough``."""

from __future__ import annotations

import os

THOROUGH = bool(os.environ.get("STOPSCREW_THOROUGH"))


def tries(few: int, many: int) -> int:
    """So many cases, seeded, so that the few are always the same."""
    return many if THOROUGH else few
