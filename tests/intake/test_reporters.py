"""Printing findings: whole outputs as golden files, SARIF against its published schema, hostile text made harmless."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from typing import Any

import jsonschema
import pytest

from kb.finding import WHOLE_FILE, Finding, Place, Severity
from kb.intake.reporters.github import print_github
from kb.intake.reporters.json import print_json
from kb.intake.reporters.sarif import print_sarif
from kb.intake.reporters.text import print_text
from kb.intake.rules import rules
from tests.support.folders import TESTS

Golden = Callable[[str, str], None]

SCHEMA = json.loads((TESTS / "published" / "sarif-schema-2.1.0.json").read_text())

WINDOW = Finding(
    "families/skerrow/ketch-47.yaml",
    Place(31, 13, 31, 19),
    "window-inverted",
    Severity.ERROR,
    "the first number, 6, is greater than the second, 4",
    "an engine may be set anywhere between the two ends; the wrong way round there is no such place",
    "write [4, 6] if page 41 of skerrow-handbook-3 agrees",
    "    - atdc: [6, 4]",
    ("figures", "throttle-pickup", 0, "atdc"),
)
SPANNING = Finding(
    "families/skerrow/ketch 47.yaml",
    Place(40, 7, 42, 12),
    "window-inverted",
    Severity.WARNING,
    "50 % of it: this, that",
    "a reason",
    "type é or 𝄞 there",
    "    - {btdc: 24,",
    ("figures", "max-advance", 1),
)
WHOLE = Finding(
    "makers/skerrow.yaml", WHOLE_FILE, "window-inverted", Severity.ERROR, "the file is empty", "a reason", "fill it", ""
)
HOSTILE = Finding(
    "families/skerrow/\x1b[2J\udcff.yaml",
    Place(7, 3, 7, 9),
    "window-inverted",
    Severity.ERROR,
    "found\x1b[31m red\r\n::error::injected",
    "a reason",
    "mend \u202eit\u2066",
    "\t\x07btdc\u200b: 24",
    (),
)
LONG = Finding(
    "families/skerrow/long.yaml",
    Place(1, 5001, 1, 5006),
    "window-inverted",
    Severity.ERROR,
    "a long line",
    "a reason",
    "break it",
    "x" * 5000 + "fault" + "y" * 5000,
)
ALL = (WINDOW, SPANNING, WHOLE, HOSTILE, LONG)

PRINTERS = {"text": print_text, "json": print_json, "sarif": print_sarif, "github": print_github}


@pytest.mark.parametrize("way", PRINTERS)
def test_whole_output(way: str, golden: Golden) -> None:
    golden(f"printing/findings.{way}", PRINTERS[way](ALL, "specs/", 41))


@pytest.mark.parametrize("way", PRINTERS)
def test_whole_output_of_nothing(way: str, golden: Golden) -> None:
    golden(f"printing/nothing.{way}", PRINTERS[way]((), "specs/", 1))


def test_colour_only_when_asked(golden: Golden) -> None:
    golden("printing/findings-in-colour.text", print_text((WINDOW, SPANNING), "specs/", 2, colour=True))
    assert "\x1b" not in print_text(ALL, "specs/", 41)


@pytest.mark.parametrize(
    ("findings", "last"),
    [
        ((), "nothing found in 3 files"),
        ((WINDOW,), "1 error in 3 files"),
        ((SPANNING,), "1 warning in 3 files"),
        ((WINDOW, WHOLE, SPANNING), "2 errors, 1 warning in 3 files"),
    ],
)
def test_text_ends_with_a_count(findings: Sequence[Finding], last: str) -> None:
    assert print_text(findings, "", 3).splitlines()[-1] == last


@pytest.mark.parametrize("way", PRINTERS)
def test_every_output_is_utf_8_and_obeyed_by_no_terminal(way: str) -> None:
    text = PRINTERS[way]((HOSTILE,), "specs/", 1)
    assert text.encode("utf-8")
    assert way != "text" or not set(text) & set("\x1b\x07\r\t\u202e\u2066\u200b")


def test_a_long_line_is_cut_around_its_fault() -> None:
    line = print_text((LONG,), "", 1).splitlines()[1]
    assert "fault" in line
    assert len(line) < 160


def test_a_message_cannot_smuggle_a_command() -> None:
    lines = print_github((HOSTILE,), "", 1).splitlines()
    assert len(lines) == 2
    assert "%0D%0A::error::injected" in lines[0]


@pytest.mark.parametrize("findings", [(), *((found,) for found in ALL), ALL])
def test_sarif_is_valid_by_the_published_schema(findings: Sequence[Finding]) -> None:
    jsonschema.Draft4Validator(SCHEMA).validate(json.loads(print_sarif(findings, "specs/", 41)))


def test_the_published_schema_refuses_what_is_no_sarif() -> None:
    log = json.loads(print_sarif(ALL, "specs/", 41))
    log["runs"][0]["results"][0]["level"] = "fatal"
    with pytest.raises(jsonschema.ValidationError, match="fatal"):
        jsonschema.Draft4Validator(SCHEMA).validate(log)


def test_sarif_can_carry_every_rule() -> None:
    findings = [Finding("f.yaml", Place(1, 1, 1, 2), rule, Severity.ERROR, "a", "b", "c", "d") for rule in rules()]
    log = json.loads(print_sarif(findings, "specs/", 1))
    jsonschema.Draft4Validator(SCHEMA).validate(log)
    run = log["runs"][0]
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]


def test_sarif_keeps_its_fingerprint_when_the_line_moves() -> None:
    def fingerprint(found: Finding) -> Any:
        return json.loads(print_sarif((found,), "", 1))["runs"][0]["results"][0]["partialFingerprints"]

    moved = Finding(
        WINDOW.file,
        Place(99, 13, 99, 19),
        WINDOW.rule,
        WINDOW.severity,
        WINDOW.what,
        WINDOW.why,
        WINDOW.do,
        WINDOW.line_text,
        WINDOW.path,
    )
    assert fingerprint(moved) == fingerprint(WINDOW)
    assert fingerprint(SPANNING) != fingerprint(WINDOW)
