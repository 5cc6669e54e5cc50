"""Checking one file: reading, parsing, every rule that reads a single file, and the facts for multi-file rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from kb.book.model.family import Address, as_list
from kb.finding import Finding, Part, Path, Slip
from kb.intake.check.failures import FAILED_FACT, failed, rule_failed
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.models.parsing import validate_document
from kb.intake.rules import Rule, rule_of, rules_reading
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.reader import ReadText, read


class FileResult(NamedTuple):
    """The result of checking one file: its findings, its exceptions, and its facts for multi-file rules."""

    findings: tuple[Finding, ...] = ()
    exemptions: tuple[AcceptedFinding, ...] = ()
    facts: Mapping[str, Any] = {}
    document: Mapping[str, Any] = {}


class ParsedFile(NamedTuple):
    """One file as parsed: its text, its valid part, its faults and, if its kind is known, its case without context.

    ``failure`` is that of the model, if it stopped with an exception.
    """

    text: ReadText
    document: Mapping[str, Any]
    faults: list[Fault]
    case: FileCase | None
    failure: Finding | None = None


def parse_file(file: str, raw: bytes) -> ParsedFile:
    """Read one file and validate it against its model."""
    text = read(raw)
    faults = list(text.faults)
    found = kind_and_id(file)
    if found is None:
        return ParsedFile(text, {}, [*faults, Fault("misplaced-file", (), file)], None)
    if text.root is None:
        return ParsedFile(text, {}, faults, None)
    kind, key = found
    try:
        document, typing_faults, cuts = validate_document(kind, text.data, text.cut)
    except Exception as error:
        return ParsedFile(text, {}, faults, None, failed(file, f"the model of a {kind}", error))
    faults.extend(typing_faults)
    return ParsedFile(text, document, faults, FileCase(file, kind, key, document, RuleContext(), cuts))


def check_file(file: str, raw: bytes, context: RuleContext) -> FileResult:
    """Check one file by itself and with what it refers to."""
    return check_parsed_file(file, parse_file(file, raw), context)


def check_parsed_file(file: str, parsed: ParsedFile, context: RuleContext) -> FileResult:
    """Check a file that is already parsed: run the rules of one file, and extract facts for the multi-file rules.

    What a rule has found before it fails is kept.
    """
    text, document, faults, parsed_case, failure = parsed
    findings = [failure] if failure else []
    for fault in faults:
        rule = rule_of(fault.rule)
        try:
            findings.extend(finding(file, rule, slip, text) for slip in rule.check(fault))
        except Exception as error:
            findings.append(rule_failed(file, rule, error))
    facts: dict[str, Any] = {}
    exemptions: tuple[AcceptedFinding, ...] = ()
    if parsed_case is not None and document:
        case = FileCase(file, parsed_case.kind, parsed_case.id, document, context, parsed_case.cuts)
        for rule in rules_reading(case.kind):
            try:
                if rule.reads == "file":
                    findings.extend(
                        finding(file, rule, _with_original_path(case, slip), text) for slip in rule.check(case)
                    )
                elif rule.extract_facts is not None and (fact := rule.extract_facts(case)) is not None:
                    facts[rule.id] = fact
            except Exception as error:
                findings.append(rule_failed(file, rule, error))
                facts.update({rule.id: FAILED_FACT} if rule.extract_facts else {})
        try:
            exemptions = tuple(_accepted_findings(case, text))
        except Exception as error:
            findings.append(failed(file, "the reading of exceptions", error))
    return FileResult(tuple(findings), exemptions, facts, document)


def finding(file: str, rule: Rule, slip: Slip, text: ReadText) -> Finding:
    """A slip as a finding, with its rule and its place in the file."""
    place = slip.place or text.place(slip.path, slip.part)
    severity = slip.severity or rule.severity
    return Finding(file, place, rule.id, severity, slip.what, rule.why, slip.do, text.line(place.line), slip.path)


def _with_original_path(case: FileCase, slip: Slip) -> Slip:
    """The slip with its path in the file as written; rules see the file after broken parts are cut."""
    return slip._replace(path=case.original(slip.path))


def _accepted_findings(case: FileCase, text: ReadText) -> Iterable[AcceptedFinding]:
    for index, entry in enumerate(as_list(case.document.get("exceptions"))):
        path = case.original(("exceptions", index))
        place = text.place(path, Part.VALUE)
        covers = tuple(case.original(prefix) for prefix in _covered_paths(case, entry.get("at")))
        yield AcceptedFinding(entry["rule"], covers, path, place, text.line(place.line))


def _covered_paths(case: FileCase, at: Any) -> list[Path]:
    if at is None:
        return [()]
    if isinstance(at, str):
        return [("figures", at), (at,)]
    address = Address.read(at)
    return [
        ("figures", statement.figure, statement.index)
        for statements in case.family.statements.values()
        for statement in statements
        if address.matches(statement)
    ]
