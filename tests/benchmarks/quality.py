"""What Lighthouse says of every kind of page, as on a phone; npm brings it once, of one version."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any

from tests.benchmarks.family_page import demonstration_site
from tests.benchmarks.measure import Row, how_often
from tests.benchmarks.phone import site_served
from tests.npm import package
from tests.support.in_browser import system_browser
from tests.support.node import NODE

WANTED = {"performance": 95, "accessibility": 100, "best-practices": 100}
PAGES = {
    "start": "",
    "maker": "families/skerrow/",
    "family": "families/skerrow/ketch-47/",
    "bench": "bench/",
    "bench aid": "bench/rim/",
    "jobs": "job/",
    "reading": "read/page/",
    "coverage": "coverage/",
}
_ROUNDS = 3  # the best of some: a busy machine makes a page slower, never quicker


def rows(families: int) -> Iterator[Row]:
    """A row for each kind of page, which says what was found wanting; beside a small book one kind, once."""
    script = package("lighthouse") / "cli" / "index.js"
    with site_served(demonstration_site()) as host:
        for kind, path in islice(PAGES.items(), how_often(families, len(PAGES))):
            scores, wanting = best_scores(script, host.address + path, how_often(families, _ROUNDS))
            told = " ".join(f"{scores[name]:.0f}" for name in WANTED)
            holds = all(scores[name] >= least for name, least in WANTED.items())
            yield Row(
                f"quality: {kind}",
                told,
                ", ".join(wanting)[:44] or "nothing wanting",
                "95 100 100: quick, usable, sound",
                holds,
            )


def best_scores(script: Path, address: str, rounds: int) -> tuple[Mapping[str, float], list[str]]:
    """The best scores of a page out of a hundred, and the names of the audits that fail in the best run."""
    best: dict[str, float] = {}
    wanting: list[str] = []
    for _ in range(rounds):
        told = _told(script, address)
        scores = {name: 100 * float(one["score"] or 0) for name, one in told["categories"].items()}
        if not best or sum(scores.values()) > sum(best.values()):
            best, wanting = scores, list(_wanting(told))
        if all(best[name] >= least for name, least in WANTED.items()):
            break
    return best, wanting


def _told(script: Path, address: str) -> Any:
    chrome = system_browser()
    command = [
        str(NODE),
        str(script),
        address,
        "--quiet",
        "--output=json",
        f"--only-categories={','.join(WANTED)}",
        "--chrome-flags=--headless=new --no-sandbox",
    ]
    environment = {**os.environ, **({"CHROME_PATH": chrome} if chrome else {})}
    done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False, timeout=240)
    if done.returncode:
        raise RuntimeError(f"lighthouse ended with {done.returncode}: {done.stderr.strip()[-500:]}")
    return json.loads(done.stdout)


def _wanting(told: Any) -> Iterator[str]:
    for name, category in told["categories"].items():
        if 100 * (category["score"] or 0) >= WANTED[name]:
            continue
        for one in category["auditRefs"]:
            score = told["audits"][one["id"]]["score"]
            if one["weight"] and score is not None and score < 0.9:
                yield one["id"]
