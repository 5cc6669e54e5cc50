"""Examining one file: read, typed, and run past every rule that reads a file; and what it leaves for wider rules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from kb.book.model.family import as_list
from kb.book.model.statement_address import Address
from kb.finding import Finding, Part, Path, Slip
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import RuleContext, StatementCase
from kb.intake.models.parsing import type_document
from kb.intake.rules import Rule, rule_of, rules_reading
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.reader import ReadText, read


class Examined(NamedTuple):
    """What one file comes to: its findings, its exemptions, and its facts for rules that read more than one file."""

    findings: tuple[Finding, ...] = ()
    exemptions: tuple[AcceptedFinding, ...] = ()
    facts: Mapping[str, Any] = {}
    document: Mapping[str, Any] = {}


class Opened(NamedTuple):
    """One file read and typed: its reading, its typed rest, its faults, and if it is of a kind a bare case."""

    reading: ReadText
    document: Mapping[str, Any]
    faults: list[Fault]
    case: StatementCase | None


def open_file(file: str, raw: bytes) -> Opened:
    """Read and type one file."""
    reading = read(raw)
    faults = list(reading.faults)
    found = kind_and_id(file)
    if found is None:
        return Opened(reading, {}, [*faults, Fault("misplaced-file", (), file)], None)
    if reading.root is None:
        return Opened(reading, {}, faults, None)
    kind, key = found
    document, typing_faults, cuts = type_document(kind, reading.data, reading.cut)
    faults.extend(typing_faults)
    return Opened(reading, document, faults, StatementCase(file, kind, key, document, RuleContext(), cuts))


def examine(file: str, raw: bytes, desk: RuleContext) -> Examined:
    """Everything that can be said of one file by itself and what it refers to."""
    return examine_opened(file, open_file(file, raw), desk)


def examine_opened(file: str, opened: Opened, desk: RuleContext) -> Examined:
    """The same of a file that has been opened: rules of one file run, and facts are gathered for the others."""
    reading, document, faults, bare = opened
    slips = [(rule_of(fault.rule), slip) for fault in faults for slip in _in_words(fault)]
    facts: dict[str, Any] = {}
    exemptions: tuple[AcceptedFinding, ...] = ()
    if bare is not None and document:
        case = StatementCase(file, bare.kind, bare.id, document, desk, bare.cuts)
        for rule in rules_reading(case.kind):
            if rule.reads == "file":
                slips.extend((rule, _whole(case, slip)) for slip in rule.check(case))
            elif rule.gather is not None and (fact := rule.gather(case)) is not None:
                facts[rule.id] = fact
        exemptions = tuple(_exemptions(case, reading))
    findings = tuple(finding(file, rule, slip, reading) for rule, slip in slips)
    return Examined(findings, exemptions, facts, document)


def finding(file: str, rule: Rule, slip: Slip, reading: ReadText) -> Finding:
    """A slip with its rule's name and its place in the file."""
    place = slip.place or reading.place(slip.path, slip.part)
    severity = slip.severity or rule.severity
    return Finding(file, place, rule.id, severity, slip.what, rule.why, slip.do, reading.line(place.line), slip.path)


def _in_words(fault: Fault) -> Iterable[Slip]:
    slips: Iterable[Slip] = rule_of(fault.rule).check(fault)
    return slips


def _whole(case: StatementCase, slip: Slip) -> Slip:
    """The slip with its path in the file as it stands: the rules saw what was left after cutting."""
    return slip._replace(path=case.original(slip.path))


def _exemptions(case: StatementCase, reading: ReadText) -> Iterable[AcceptedFinding]:
    for index, entry in enumerate(as_list(case.document.get("exceptions"))):
        path = case.original(("exceptions", index))
        place = reading.place(path, Part.VALUE)
        covers = tuple(case.original(prefix) for prefix in _covers(case, entry.get("at")))
        yield AcceptedFinding(entry["rule"], covers, path, place, reading.line(place.line))


def _covers(case: StatementCase, at: Any) -> list[Path]:
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
