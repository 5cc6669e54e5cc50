"""Slips that would turn a maximum earlier, each planted in a family whose bulletin supersedes its handbook's page."""

from __future__ import annotations

import pytest

from kb.finding import Finding
from kb.intake.check.file_kinds import read_files
from kb.intake.check.one_file import check_file
from kb.intake.check.whole_book import finish_check, make_context
from tests.support.folders import FROZEN

FILE = "families/skerrow/ketch-47.yaml"
CRANKING = "    - btdc: 24\n      also: {btdc: {mm: 3.47}}\n      state: "
CORRECTION = "    - cranking_earlier: 2\n      at: {rpm: 5000}\n"
ONLY = "      only: {serials: {from: 350000}}\n"
SUPERSEDES = "      supersedes: {source: skerrow-handbook-3, page: 42}\n"
SLIPS = [
    (CORRECTION, CORRECTION.replace("earlier", "later"), "correction-disagrees", "- cranking_later: 2"),
    (f"{CRANKING}cranking", f"{CRANKING}running", "correction-out-of-step", "state: running"),
    (ONLY, ONLY.replace("350000", "305000"), "reach-stated-once", "only: {serials: {from: 305000}}"),
    (ONLY, "", "reach-stated-once", SUPERSEDES.strip()),
    (SUPERSEDES, "", "part-beside-whole", ONLY.strip()),
    (CORRECTION, CORRECTION.replace("5000", "500"), "correction-out-of-step", "at: {rpm: 500}"),
    (CORRECTION, CORRECTION.replace("5000", "500"), "running-speed-implausible", "at: {rpm: 500}"),
    (
        "    - btdc: 22\n      also: {btdc: {mm: 2.93}}\n",
        "    - btdc: 26\n",
        "correction-disagrees",
        CORRECTION.split("\n")[0],
    ),
]


def check_with(written: str, typed: str) -> list[Finding]:
    files = read_files(FROZEN)
    text = files[FILE].decode()
    assert text.count(written) == 1
    files = {**files, FILE: text.replace(written, typed).encode()}
    context = make_context(files, files.__getitem__)
    results = {file: check_file(file, raw, context) for file, raw in files.items()}
    return finish_check(results, context, files.__getitem__)


@pytest.mark.parametrize(("written", "typed", "rule", "line"), SLIPS)
def test_a_slip_at_a_maximum_is_found_at_its_line(written: str, typed: str, rule: str, line: str) -> None:
    found = [finding for finding in check_with(written, typed) if finding.file == FILE]
    assert (rule, line.strip()) in {(finding.rule, finding.line_text.strip()) for finding in found}


def test_the_family_without_a_slip_is_clean() -> None:
    assert check_with(ONLY, ONLY) == []
