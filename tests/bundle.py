"""The Jobs page's scripts joined into a few files, so that a slow line need not bring ninety.

``python -m tests.bundle`` compares them with the scripts, ``python -m tests.bundle --write`` makes them anew.

They are committed, so that nobody needs Node to install or to build the site.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from tests.npm import NotBrought, package
from tests.support.folders import ASSETS
from tests.support.node import NODE

BUNDLED = ASSETS / "bundled"
ENTRY = "job/whole-page.js"
_AS_WRITTEN = (
    "--bundle",
    "--splitting",  # what is imported late stays apart
    "--format=esm",
    "--minify",
    "--charset=utf8",
    "--target=es2022",
    "--legal-comments=inline",
    "--entry-names=job",
    "--chunk-names=job-[name]-[hash]",
    "--log-level=warning",
)


def bundle() -> Mapping[str, bytes]:
    """The joined files by name, made of the scripts as they are.

    Raises:
        NotBrought: npm cannot bring the bundler.
        AssertionError: it refuses the scripts, and says why.
    """
    program = package("esbuild") / "bin" / "esbuild"
    with tempfile.TemporaryDirectory() as folder:
        command = [str(NODE), str(program), ENTRY, *_AS_WRITTEN, f"--outdir={folder}"]
        done = subprocess.run(command, cwd=ASSETS, capture_output=True, text=True, timeout=120, check=False)
        assert done.returncode == 0, done.stderr
        return {path.name: path.read_bytes() for path in sorted(Path(folder).iterdir())}


def committed() -> Mapping[str, bytes]:
    """The joined files as they are committed."""
    return {path.name: path.read_bytes() for path in sorted(BUNDLED.glob("*.js"))}


def write(files: Mapping[str, bytes]) -> None:
    """Put these files in the place of those that are committed."""
    BUNDLED.mkdir(exist_ok=True)
    for path in BUNDLED.glob("*.js"):
        path.unlink()
    for name, content in files.items():
        (BUNDLED / name).write_bytes(content)


def main(arguments: list[str]) -> int:
    """Where npm cannot bring the bundler nothing is compared, except in continuous integration."""
    try:
        made = bundle()
    except NotBrought as reason:
        print(f"the bundled scripts are not compared: {reason}", file=sys.stderr)
        return 1 if os.environ.get("CI") else 0
    if "--write" in arguments:
        write(made)
    if committed() != made:
        print("site/assets/bundled is not what the scripts give; run: python -m tests.bundle --write", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
