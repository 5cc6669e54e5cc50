"""Findings as SARIF 2.1.0, the interchange format of static analysis, for code scanning services and editors."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import quote

from kb.finding import WHOLE_FILE, Finding
from kb.intake.reporters.wording import encodable
from kb.intake.rules import Rule, rules

_SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"


def print_sarif(findings: Sequence[Finding], folder: str, files: int) -> str:
    """All findings as one SARIF log with the rules that they break; ``files`` is a property of the run."""
    known = rules()
    broken = sorted({finding.rule for finding in findings})
    numbers = {rule: number for number, rule in enumerate(broken)}
    driver = {"name": "stopscrew", "rules": [_rule(known[rule]) for rule in broken]}
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "originalUriBaseIds": {"SPECS": {"description": {"text": "the parent of the book's folder"}}},
        "results": [_result(finding, folder, numbers) for finding in findings],
        "properties": {"files": files},
    }
    log = {"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}
    return encodable(json.dumps(log, ensure_ascii=False, indent=1)) + "\n"


def _rule(rule: Rule) -> dict[str, Any]:
    help_text = f"{rule.about}\n\nIt matters because {rule.why}.\n\nMore: stopscrew rule {rule.id}"
    return {
        "id": rule.id,
        "name": "".join(word.capitalize() for word in rule.id.split("-")),
        "shortDescription": {"text": rule.summary},
        "fullDescription": {"text": rule.about},
        "help": {"text": help_text},
        "defaultConfiguration": {"level": rule.severity.value},
    }


def _result(finding: Finding, folder: str, numbers: Mapping[str, int]) -> dict[str, Any]:
    location: dict[str, Any] = {"artifactLocation": {"uri": _uri(folder + finding.file), "uriBaseId": "SPECS"}}
    if finding.place != WHOLE_FILE:
        place = finding.place
        location["region"] = {
            "startLine": place.line,
            "startColumn": place.column,
            "endLine": place.end_line,
            "endColumn": place.end_column,
            "snippet": {"text": finding.line_text},
        }
    return {
        "ruleId": finding.rule,
        "ruleIndex": numbers[finding.rule],
        "level": finding.severity.value,
        "message": {"text": f"{finding.what}; {finding.do}"},
        "locations": [{"physicalLocation": location}],
        "partialFingerprints": {"stopscrew/v1": _fingerprint(finding)},
        "properties": {"why": finding.why, "do": finding.do, "path": list(finding.path)},
    }


def _uri(file: str) -> str:
    return quote(file, errors="surrogateescape")


def _fingerprint(finding: Finding) -> str:
    """A fingerprint that stays the same when the fault's line moves."""
    same = json.dumps([finding.file, finding.rule, list(finding.path), finding.what])
    return hashlib.blake2b(same.encode(), digest_size=16).hexdigest()
