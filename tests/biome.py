"""The formatter and linter of the site's scripts and style sheets: ``python -m tests.biome`` checks them, ``python -m
tests.biome --write`` mends what it can. Its rules stand in ``site/biome.jsonc``."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.npm import NotBrought, package
from tests.support.folders import SITE
from tests.support.node import NODE, SCRIPTS


def biome(
    *arguments: str, site: Path = SITE, folders: Sequence[Path] = (SITE, SCRIPTS)
) -> subprocess.CompletedProcess[str]:
    """Run ``biome check`` on these folders, by the rules that stand in ``site``.

    Raises:
        NotBrought: npm cannot bring it.
    """
    program = package("@biomejs/biome") / "bin" / "biome"
    command = [str(NODE), str(program), "check", "--error-on-warnings", *arguments, *map(str, folders)]
    return subprocess.run(command, cwd=site, capture_output=True, text=True, timeout=120, check=False)


def main(arguments: list[str]) -> int:
    """Where npm cannot bring it the check is left out, except in continuous integration."""
    try:
        done = biome(*arguments)
    except NotBrought as reason:
        print(f"scripts and style sheets are not checked: {reason}", file=sys.stderr)
        return 1 if os.environ.get("CI") else 0
    if done.returncode:
        print(done.stdout + done.stderr, file=sys.stderr)
    return done.returncode


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
