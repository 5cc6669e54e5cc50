"""Scripts, style sheets and templates are in lines that can be read; Biome formats and lints all but the templates."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.biome import biome
from tests.npm import package_or_skip
from tests.support.folders import ROOT, SITE

_LONGEST = 140
_ENDINGS = {".js", ".mjs", ".css", ".html"}


def _hand_written() -> Iterator[Path]:
    for folder in ("site", "tests/site"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in _ENDINGS and not {"vendor", "bundled"} & set(path.parts):
                yield path


def test_no_line_is_too_long() -> None:
    paths = list(_hand_written())
    assert {path.suffix for path in paths} == _ENDINGS
    lines = ((path, at, line) for path in paths for at, line in enumerate(path.read_text("utf-8").splitlines(), 1))
    assert not [f"{path.relative_to(ROOT)}:{at}" for path, at, line in lines if len(line) > _LONGEST]


@pytest.mark.parametrize(
    ("name", "text", "code"),
    [
        ("one.js", "const one = 1;\nexport const two = one + one;\n", 0),
        ("one.js", "const one = 1\nexport const two = one + one\n", 1),
        ("one.js", "const one = 1,\n  two = 2;\nexport const three = one + two;\n", 1),
        ("one.css", "p { color: red }\n", 1),
    ],
)
def test_what_is_not_in_the_format_fails(name: str, text: str, code: int, tmp_path: Path) -> None:
    package_or_skip("@biomejs/biome")
    shutil.copy(SITE / "biome.jsonc", tmp_path)
    (tmp_path / name).write_text(text, encoding="utf-8")
    assert biome(site=tmp_path, folders=[tmp_path]).returncode == code
