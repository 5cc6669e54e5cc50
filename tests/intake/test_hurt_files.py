"""Whatever is wrong with a file, every rule bears it: findings come out, never an exception."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from itertools import islice
from typing import Any

import pytest

from kb.intake.check import whole_book as checking
from kb.intake.check.one_file import check_file, parse_file
from kb.intake.check.whole_book import finish_check, make_context
from kb.intake.rules import FAMILY
from kb.intake.yaml.reader import read
from tests.support.example_book import example_book
from tests.support.samples import tries

HURT = [
    FAMILY,
    "families/skerrow/other.yaml",
    "sources/handbook.yaml",
    "sources/reprint.yaml",
    "makers/skerrow.yaml",
    "catalogue/max-advance.yaml",
    "catalogue/plug-gap.yaml",
    "cautions/too-much-advance.yaml",
    "reports/skerrow/example/2026-05-12-slip.yaml",
    "routines/example.yaml",
    "retired.yaml",
    "withdrawn.yaml",
]
GONE = ...


@pytest.fixture(autouse=True, scope="module")
def _files_are_read_once() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(checking, "parse_file", lru_cache(maxsize=4096)(parse_file))
        yield


def hurts(node: Any) -> Iterator[Any]:
    """The document with each of its parts, in turn, taken out or put wrong in several ways."""
    parts = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for part, inner in parts:
        for other in (GONE, "", "x", ["x"], {"x": "y"}):
            yield _with(node, part, other)
        for hurt in hurts(inner):
            yield _with(node, part, hurt)


def _with(node: Any, part: Any, other: Any) -> Any:
    copied = node.copy()
    if other is GONE:
        del copied[part]
    else:
        copied[part] = other
    return copied


@pytest.mark.parametrize("file", HURT)
def test_no_rule_falls_over_a_hurt_file(file: str) -> None:
    sound = example_book()
    alone = file.startswith(("families/", "reports/"))  # nothing that others refer to
    readers = [name for name in sound if name.startswith(("families/", "reports/", "routines/", "retire", "withdraw"))]
    context = make_context(sound.keys(), sound.__getitem__)
    results = {name: check_file(name, sound[name], context) for name in {*readers, file}}
    for document in islice(hurts(read(sound[file]).data), 0, None, tries(4, 1)):
        files = {**sound, file: json.dumps(document).encode()}
        again, laid = {**results}, context
        if alone:
            again[file] = check_file(file, files[file], context)
        else:
            laid = make_context(files.keys(), files.__getitem__)
            again = {name: check_file(name, files[name], laid) for name in results}
        for finding in finish_check(again, laid, files.__getitem__):
            assert finding.what
            assert finding.do
            assert finding.place.line >= 1
