"""Checking a whole book in one process: every finding of every file, sorted."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from kb.finding import Finding, Slip
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.one_file import Examined, examine, finding, open_file
from kb.intake.check.tracked_context import TrackedContext
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import REFERENCE_KINDS, RuleContext
from kb.intake.rules import Rule, rule_of, wide_rules
from kb.intake.yaml.reader import read

ReadFile = Callable[[str], bytes]


def check_files(files: Mapping[str, bytes]) -> list[Finding]:
    """Every finding of a book given as files by path below its folder, sorted by file and place."""
    desk = TrackedContext(make_context(files.keys(), files.__getitem__))
    examined = {}
    for file in sorted(files):
        found = examine(file, files[file], desk)
        # facts are plain JSON, and rules see them as JSON hands them back
        examined[file] = found._replace(facts=json.loads(json.dumps(found.facts)), document={})
    return conclude(examined, desk, files.__getitem__)


def make_context(names: Iterable[str], read_file: ReadFile) -> RuleContext:
    """The desk of a book, from its reference files; what is broken in them is left out here and reported elsewhere."""
    names = frozenset(names)
    documents: dict[tuple[str, str], Mapping[str, Any]] = {}
    families = set()
    for file in sorted(names):
        found = kind_and_id(file)
        if found is None:
            continue
        if found[0] == "family":
            families.add(found[1])
        elif found[0] in REFERENCE_KINDS:
            documents[found] = open_file(file, read_file(file)).document
    return RuleContext.lay(documents, frozenset(families), names)


def conclude(examined: Mapping[str, Examined], desk: RuleContext, read_file: ReadFile) -> list[Finding]:
    """Run the rules that read more than one file, take the exceptions off, sort."""
    findings = {file: list(result.findings) for file, result in examined.items()}
    for rule in wide_rules():
        facts = {file: result.facts[rule.id] for file, result in examined.items() if rule.id in result.facts}
        for group in _groups(rule, facts):
            for found in run_wide(rule, group, desk, read_file):
                findings[found.file].append(found)
    settled = (settle(file, findings[file], result.exemptions) for file, result in examined.items())
    return in_order(found for per_file in settled for found in per_file)


def group_of(rule: Rule, file: str) -> str:
    """Which run of a wider rule reads a file: the one for its maker, or the only one, which has no name."""
    return file.split("/")[1] if rule.reads == "maker" else ""


def _groups(rule: Rule, facts: Mapping[str, Any]) -> Iterable[Mapping[str, Any]]:
    """The facts that each run of a wider rule reads. One that reads the book runs even where there are none."""
    groups: dict[str, dict[str, Any]] = {"": {}} if rule.reads == "book" else {}
    for file, fact in facts.items():
        groups.setdefault(group_of(rule, file), {})[file] = fact
    return groups.values()


def run_wide(rule: Rule, facts: Mapping[str, Any], desk: RuleContext, read_file: ReadFile) -> Iterator[Finding]:
    """What a wider rule finds, with its places; each file that it has a finding in is read once more for them."""
    slips: dict[str, list[Slip]] = {}
    for file, slip in rule.check(facts, desk):
        slips.setdefault(file, []).append(slip)
    for file, of_file in slips.items():
        reading = read(read_file(file))
        yield from (finding(file, rule, slip, reading) for slip in of_file)


def settle(file: str, findings: Sequence[Finding], exemptions: Sequence[AcceptedFinding]) -> list[Finding]:
    """What is left of a file's findings after its exceptions, and the exceptions that were not needed.

    Where a part of the file could not be read, the warning that an exception accepts may lie there.
    """
    if not exemptions:
        return list(findings)
    rule = rule_of("exception-not-needed")
    unread = any(rule_of(found.rule).reads in ("text", "typing") for found in findings)
    kept = [found for found in findings if not any(exemption.covers_finding(found) for exemption in exemptions)]
    for exemption in exemptions:
        if not unread and not any(exemption.covers_finding(found) for found in findings):
            slips: Iterator[Slip] = rule.check(exemption)
            for slip in slips:
                severity = slip.severity or rule.severity
                kept.append(
                    Finding(
                        file,
                        exemption.place,
                        rule.id,
                        severity,
                        slip.what,
                        rule.why,
                        slip.do,
                        exemption.line_text,
                        slip.path,
                    )
                )
    return kept


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Sorted by file, place, rule and words, down to the last of them, so that no order of work shows."""
    return sorted(findings, key=lambda found: (found.sort_key, found.do, [str(part) for part in found.path]))
