"""The formatter and linter of the site's scripts and style sheets: ``python -m tests.biome`` checks them, ``python -m
tests.biome --write`` mends what it can. Its rules stand in ``site/biome.jsonc``."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.node import NODE, ROOT
from tests.npm import NotBrought, package

_FOLDERS = (".", "../tests/site")


def main(arguments: list[str]) -> int:
    """Run it with these arguments besides; without it the check is left out, except in continuous integration."""
    try:
        program = package("@biomejs/biome") / "bin" / "biome"
    except NotBrought as reason:
        print(f"scripts and style sheets are not checked: {reason}", file=sys.stderr)
        return 1 if os.environ.get("CI") else 0
    command = [str(NODE), str(program), "check", "--error-on-warnings", *arguments, *_FOLDERS]
    return subprocess.run(command, cwd=ROOT / "site", check=False).returncode


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
