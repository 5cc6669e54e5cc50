"""Checking a whole book in one process: every finding of every file, sorted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from kb.finding import Finding, Severity, Slip
from kb.intake.corpus import kind_and_id
from kb.intake.desk import REFERENCE_KINDS, Desk
from kb.intake.examine import Examined, examine, finding, open_file
from kb.intake.reader import read
from kb.intake.rules import Rule, rules

ReadFile = Callable[[str], bytes]


def check_files(files: Mapping[str, bytes]) -> list[Finding]:
    """Every finding of a book given as files by path below its folder, sorted by file and place."""
    desk = lay_desk(files.keys(), files.__getitem__)
    examined = {file: examine(file, files[file], desk) for file in sorted(files)}
    return conclude(examined, desk, files.__getitem__)


def lay_desk(names: Iterable[str], read_file: ReadFile) -> Desk:
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
            documents[found] = open_file(file, read_file(file))[1]
    return Desk.lay(documents, frozenset(families), names)


def conclude(examined: Mapping[str, Examined], desk: Desk, read_file: ReadFile) -> list[Finding]:
    """Run the rules that read more than one file, take the exceptions off, sort."""
    findings = {file: list(result.findings) for file, result in examined.items()}
    for rule in rules().values():
        for group in _groups(rule, examined):
            for file, slip in rule.check(group, desk):
                findings[file].append(place(file, rule, slip, read_file))
    for file, result in examined.items():
        if result.exemptions:
            findings[file] = settle(file, findings[file], result)
    return sorted((found for per_file in findings.values() for found in per_file), key=lambda found: found.sort_key)


def _groups(rule: Rule, examined: Mapping[str, Examined]) -> Iterator[Mapping[str, Any]]:
    """The facts that one run of a wider rule reads: of all files, or of each maker's."""
    if rule.gather is None:
        if rule.reads == "book":  # one that reads the names of the files alone
            yield {}
        return
    facts = {file: result.facts[rule.id] for file, result in examined.items() if rule.id in result.facts}
    if rule.reads == "book":
        yield facts
        return
    makers: dict[str, dict[str, Any]] = {}
    for file, fact in facts.items():
        makers.setdefault(file.split("/")[1], {})[file] = fact
    yield from makers.values()


def place(file: str, rule: Rule, slip: Slip, read_file: ReadFile) -> Finding:
    """A slip of a wider rule with its place; the file is read again for it."""
    return finding(file, rule, slip, read(read_file(file)))


def settle(file: str, findings: list[Finding], result: Examined) -> list[Finding]:
    """What is left of a file's findings after its exceptions, and the exceptions that were not needed.

    Where a part of the file could not be read, the warning that an exception accepts may lie there.
    """
    book_of_rules = rules()
    rule = book_of_rules["exception-not-needed"]
    unread = any(book_of_rules[found.rule].reads in ("text", "typing") for found in findings)
    kept = [found for found in findings if not any(exemption.covers_finding(found) for exemption in result.exemptions)]
    for exemption in result.exemptions:
        if not unread and not any(exemption.covers_finding(found) for found in findings):
            slips: Iterator[Slip] = rule.check(exemption)
            for slip in slips:
                severity = slip.severity or rule.severity
                kept.append(
                    Finding(file, exemption.place, rule.id, severity, slip.what, rule.why, slip.do, exemption.line_text,
                            slip.path)
                )
    return kept


def has_errors(findings: list[Finding]) -> bool:
    """Whether any finding is an error."""
    return any(found.severity is Severity.ERROR for found in findings)
