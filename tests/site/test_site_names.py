"""A type or class of the scripts stands under one name with one meaning."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator

import pytest

from tests.support.folders import ASSETS

_COMMENT = re.compile(r"/\*\*.*?\*/", re.S)
_TYPEDEF = re.compile(r"@typedef \{(.*)\}\s*(\w+)", re.S)
_CLASS = re.compile(r"^(?:export )?class (\w+)", re.M)
_TAKEN_OVER = re.compile(r'import\("[^"]*"\)\.(\w+)')


def named(script: str) -> Iterator[tuple[str, str]]:
    """Each type and class of a script with its definition; a type taken over from elsewhere under its name is none."""
    for comment in _COMMENT.findall(script):
        for part in re.split(r"(?=@typedef )", re.sub(r"\n\s*\*", " ", comment)):
            if (found := _TYPEDEF.match(part)) and not (
                (other := _TAKEN_OVER.fullmatch(found[1])) and other[1] == found[2]
            ):
                yield found[2], " ".join(found[1].split())
    for name in _CLASS.findall(script):
        yield name, f"class {name}"


def test_no_name_has_two_meanings() -> None:
    meanings = defaultdict[str, dict[str, str]](dict)
    for path in sorted(ASSETS.rglob("*.js")):
        if not {"vendor", "bundled"} & set(path.parts):
            for name, meaning in named(path.read_text(encoding="utf-8")):
                meanings[name][meaning] = path.relative_to(ASSETS).as_posix()
    assert len(meanings) > 100
    assert not {name: list(found.values()) for name, found in meanings.items() if len(found) > 1}


@pytest.mark.parametrize(
    ("script", "names"),
    [
        ('/** A size. @typedef {{text: string, unit: "mm"}} Size */', [("Size", '{text: string, unit: "mm"}')]),
        (
            "/**\n * @typedef {readonly\n *   string[]} Words\n */\nclass Tag {}",
            [("Words", "readonly string[]"), ("Tag", "class Tag")],
        ),
        ('/** @typedef {import("./a.js").Size} Size */', []),
        ('/** @typedef {import("./a.js").Width} Size */', [("Size", 'import("./a.js").Width')]),
    ],
)
def test_names_are_found(script: str, names: list[tuple[str, str]]) -> None:
    assert list(named(script)) == names
