"""Every rule's examples are its tests: each bad one is reported at the marked text, each near miss is not."""

from __future__ import annotations

import pytest

from kb.intake.check.whole_book import check_files
from kb.intake.rules import OWN_FAULTS, Bad, Good, rules
from kb.intake.yaml.reader import read
from tests.support.example_book import example_book, lay

BAD = [(rule, index) for rule, found in rules().items() for index in range(len(found.bad))]
GOOD = [(rule, index) for rule, found in rules().items() for index in range(len(found.good))]


def test_the_example_book_is_sound() -> None:
    assert check_files(example_book()) == []


@pytest.mark.parametrize(("rule", "index"), BAD, ids=lambda value: str(value))
def test_a_bad_example_is_reported_where_it_stands(rule: str, index: int) -> None:
    example: Bad = rules()[rule].bad[index]
    files = lay(example)
    found = [finding for finding in check_files(files) if finding.rule == rule]
    assert len(found) == example.count, [f"{finding.file}: {finding.what}" for finding in check_files(files)]
    if example.where:
        texts = []
        for finding in found:
            lines = read(files[finding.file]).text.split("\n")[finding.place.line - 1 : finding.place.end_line]
            lines[-1] = lines[-1][: finding.place.end_column - 1]
            lines[0] = lines[0][finding.place.column - 1 :]
            texts.append("\n".join(lines))
        assert example.where in texts
    for finding in found:
        assert finding.severity is (example.severity or rules()[rule].severity)
        assert finding.what
        assert finding.do
        assert finding.why


@pytest.mark.parametrize(("rule", "index"), GOOD, ids=lambda value: str(value))
def test_a_near_miss_stays_silent(rule: str, index: int) -> None:
    example: Good = rules()[rule].good[index]
    assert [finding for finding in check_files(lay(example)) if finding.rule == rule] == []


# no file can be an example of a rule that fails; tests/intake/test_failures.py makes rules fail
READING_FILES = sorted(name for name, rule in rules().items() if rule.reads != OWN_FAULTS)


@pytest.mark.parametrize("rule", READING_FILES)
def test_a_rule_has_enough_examples_to_fail_when_emptied(rule: str) -> None:
    assert len(rules()[rule].bad) >= 3
    assert len(rules()[rule].good) >= 2
    assert rules()[rule].about
