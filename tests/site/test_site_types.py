"""The site's scripts are typed as strictly as its Python, by their comments; TypeScript's compiler holds them to it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from tests.npm import package_or_skip
from tests.support.folders import ASSETS
from tests.support.node import NODE, SCRIPTS

_WAIT = 180


def _told(config: Path) -> str:
    compiler = package_or_skip("typescript") / "bin" / "tsc"
    command = [str(NODE), str(compiler), "--project", str(config), "--pretty", "false"]
    return subprocess.run(command, capture_output=True, text=True, timeout=_WAIT, check=False).stdout


def test_every_script_is_typed() -> None:
    assert not _told(SCRIPTS / "tsconfig.json")


def test_a_wrong_type_is_told(tmp_path: Path) -> None:
    assets, tests = tmp_path / "site" / "assets", tmp_path / "tests" / "site"
    shutil.copytree(ASSETS / "quantity", assets / "quantity")
    for script in ("errors.js", "vocabulary.js"):
        shutil.copy(ASSETS / script, assets)
    tests.mkdir(parents=True)
    shutil.copy(SCRIPTS / "tsconfig.json", tests)
    text = 'import { Fraction } from "./quantity/fraction.js";\nexport const half = Fraction.of({ half: 1 });\n'
    (assets / "slip.js").write_text(text, encoding="utf-8")
    (told,) = _told(tests / "tsconfig.json").strip().splitlines()
    assert "slip.js(2," in told
