"""Checking a whole book in one process: every finding of every file, sorted."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from kb.finding import Finding, Slip
from kb.intake.check.failures import FAILED_FACT, rule_failed, without_doubtful
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.one_file import FileResult, check_file, finding, parse_file
from kb.intake.check.tracked_context import TrackedContext
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import REFERENCE_KINDS, RuleContext
from kb.intake.rules import Rule, multi_file_rules, rule_of
from kb.intake.yaml.reader import read

ReadFile = Callable[[str], bytes]


def check_files(files: Mapping[str, bytes]) -> list[Finding]:
    """Every finding of a book, given as files by relative path, sorted by file and place."""
    context = TrackedContext(make_context(files.keys(), files.__getitem__))
    results = {}
    for file in sorted(files):
        found = check_file(file, files[file], context)
        # facts are plain JSON, and rules see them as they come back from JSON
        results[file] = found._replace(facts=json.loads(json.dumps(found.facts)), document={})
    return finish_check(results, context, files.__getitem__)


def make_context(names: Iterable[str], read_file: ReadFile) -> RuleContext:
    """The context of a book, from its reference files; their broken parts are left out here and reported elsewhere."""
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
            documents[found] = parse_file(file, read_file(file)).document
    return RuleContext.from_documents(documents, frozenset(families), names)


def finish_check(results: Mapping[str, FileResult], context: RuleContext, read_file: ReadFile) -> list[Finding]:
    """Run the multi-file rules, apply the exceptions, and sort the findings."""
    findings = {file: list(result.findings) for file, result in results.items()}
    for rule in multi_file_rules() if results else ():
        facts = {file: result.facts[rule.id] for file, result in results.items() if rule.id in result.facts}
        for group in _groups(rule, facts):
            for found in run_multi_file_rule(rule, group, context, read_file):
                findings[found.file].append(found)
    settled = (apply_exceptions(file, findings[file], result.exemptions) for file, result in results.items())
    return sorted_findings(without_doubtful([found for per_file in settled for found in per_file]))


def group_of(rule: Rule, file: str) -> str:
    """The run of a multi-file rule that reads a file: the one for its maker, or the only one, which has no name."""
    return file.split("/")[1] if rule.reads == "maker" else ""


def _groups(rule: Rule, facts: Mapping[str, Any]) -> Iterable[Mapping[str, Any]]:
    """The facts for each run of a multi-file rule. A rule that reads the book runs even if there are none."""
    groups: dict[str, dict[str, Any]] = {"": {}} if rule.reads == "book" else {}
    for file, fact in facts.items():
        groups.setdefault(group_of(rule, file), {})[file] = fact
    return groups.values()


def run_multi_file_rule(
    rule: Rule, facts: Mapping[str, Any], context: RuleContext, read_file: ReadFile
) -> Iterator[Finding]:
    """The findings of a multi-file rule; each file with a finding is read again for its places.

    It does not run on facts of which one could not be extracted: that is reported already, and what the others say
    without it may be wrong.
    """
    if FAILED_FACT in facts.values():
        return
    slips: dict[str, list[Slip]] = {}
    try:
        for file, slip in rule.check(facts, context):
            slips.setdefault(file, []).append(slip)
    except Exception as error:
        files = [*facts] or sorted(context.files)
        yield rule_failed(files[0], rule, error, len(files))
    for file, of_file in slips.items():
        text = read(read_file(file))
        try:
            for slip in of_file:
                yield finding(file, rule, slip, text)
        except Exception as error:
            yield rule_failed(file, rule, error)


def apply_exceptions(file: str, findings: Sequence[Finding], exemptions: Sequence[AcceptedFinding]) -> list[Finding]:
    """A file's findings without those that its exceptions accept, and with exceptions that are not needed.

    If a part of the file could not be read, no exception is reported: the warning it accepts may be in that part.
    """
    if not exemptions:
        return list(findings)
    rule = rule_of("exception-not-needed")
    unread = any(rule_of(found.rule).reads in ("text", "typing") for found in findings)
    kept = [found for found in findings if not any(exemption.covers_finding(found) for exemption in exemptions)]
    for exemption in exemptions:
        if not unread and not any(exemption.covers_finding(found) for found in findings):
            try:
                kept.extend(_not_needed(file, rule, slip, exemption) for slip in rule.check(exemption))
            except Exception as error:
                kept.append(rule_failed(file, rule, error))
    return kept


def _not_needed(file: str, rule: Rule, slip: Slip, exemption: AcceptedFinding) -> Finding:
    severity = slip.severity or rule.severity
    place, line_text = exemption.place, exemption.line_text
    return Finding(file, place, rule.id, severity, slip.what, rule.why, slip.do, line_text, slip.path)


def sorted_findings(findings: Iterable[Finding]) -> list[Finding]:
    """Sorted by file, place, rule and then all texts, so that the order of work makes no difference."""
    return sorted(findings, key=lambda found: (found.sort_key, found.do, [str(part) for part in found.path]))
