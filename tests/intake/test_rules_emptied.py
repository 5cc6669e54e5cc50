"""Emptying any rule's check makes at least three of its examples fail: no rule is tested by luck or by another one."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import pytest

from kb.finding import Finding, Severity
from kb.intake.check import whole_book as checking
from kb.intake.check.one_file import FileResult, check_file, parse_file
from kb.intake.check.whole_book import finish_check, make_context
from kb.intake.rules import OWN_FAULTS, Bad, Rule, rules
from tests.support.example_book import example_book, lay

NAMES = sorted(name for name, rule in rules().items() if rule.reads != OWN_FAULTS)
"""Every rule that reads files; the one of failures is tested by ``test_failures.py``, since no file is its example."""


@pytest.fixture(autouse=True, scope="module")
def _files_are_read_once() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(checking, "parse_file", lru_cache(maxsize=None)(parse_file))
        yield


def found_by(rule: Rule, example: Bad) -> list[Finding]:
    """What a rule finds in an example, of which only the files are examined that it can speak of."""
    files, sound = lay(example), example_book()
    context = make_context(files.keys(), files.__getitem__)
    wide = rule.reads in ("maker", "book")
    results = {
        file: check_file(file, raw, context) if wide or sound.get(file) != raw else FileResult()
        for file, raw in files.items()
    }
    return [finding for finding in finish_check(results, context, files.__getitem__) if finding.rule == rule.id]


def nothing(*_: Any) -> Iterator[Any]:
    return iter(())


@pytest.fixture
def emptied(name: str) -> Iterator[Rule]:
    """A rule that finds nothing; it is emptied itself, as others may hold it already."""
    rule = rules()[name]
    check = rule.check
    object.__setattr__(rule, "check", nothing)
    try:
        yield rule
    finally:
        object.__setattr__(rule, "check", check)


@pytest.mark.parametrize("name", NAMES)
def test_an_emptied_rule_fails_at_least_three_of_its_examples(emptied: Rule, name: str) -> None:
    failing = [example for example in emptied.bad if len(found_by(emptied, example)) != example.count]
    assert len(failing) >= 3


@pytest.mark.parametrize("name", [name for name in NAMES if rules()[name].severity is Severity.ERROR])
def test_a_rule_of_errors_that_sometimes_warns_says_so(name: str) -> None:
    rule = rules()[name]
    if rule.reads in ("text", "typing", "exceptions"):
        assert not rule.may_warn
        return
    warns = any(finding.severity is Severity.WARNING for example in rule.bad for finding in found_by(rule, example))
    assert rule.may_warn is warns
