"""The list of hazards: every hazard has a control, every control something that shows it, every caution a hazard."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

from kb.errors import BookError
from kb.intake.rules import rule_of
from kb.publish.site.build import SITE
from kb.publish.site.reading.from_the_book import environment_of
from kb.publish.site.reading.hazard_page import FILE, Cause, Control, Hazard, hazard_page, read_hazards
from kb.vocabulary.work import CautionSeverity, ControlKind
from tests.specs.book import specs_book
from tests.support.folders import ROOT
from tests.walk.faults import FAULTS

HAZARDS = read_hazards(SITE)
BOOK = specs_book()
CAUSES = [(hazard, cause) for hazard in HAZARDS for cause in hazard.causes]
CONTROLS = [(hazard, control) for hazard, cause in CAUSES for control in cause.controls]


@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda hazard: hazard.id)
def test_every_hazard_has_causes_and_every_cause_a_control(hazard: Hazard) -> None:
    assert hazard.causes
    assert all(cause.controls for cause in hazard.causes)


def test_words_are_never_all_that_stands_in_the_way_of_the_worst() -> None:
    assert [(hazard.id, cause.words) for hazard, cause in CAUSES if worst(hazard) and cause.only_words] == []


def worst(hazard: Hazard) -> bool:
    return hazard.severity == CautionSeverity.DANGER


@pytest.mark.parametrize("cause", [cause for _, cause in CAUSES], ids=lambda cause: cause.words)
def test_controls_stand_in_the_order_in_which_they_count(cause: Cause) -> None:
    places = [ControlKind.words.index(control.kind) for control in cause.controls]
    assert places == sorted(places)


def test_slips_of_the_person_at_work_are_among_the_causes() -> None:
    assert {cause.slip for _, cause in CAUSES} == {True, False}


@pytest.mark.parametrize(("hazard", "control"), CONTROLS, ids=[f"{one.id}: {two.what}" for one, two in CONTROLS])
def test_every_control_is_shown_by_something_that_exists(hazard: Hazard, control: Control) -> None:
    assert control.shown, hazard.id
    assert [name for name in control.shown if not exists(name)] == []


def exists(name: str) -> bool:
    """Whether there is such a test, such a rule with examples that it reports, or such a fault that walks find."""
    if name.startswith("fault "):
        return any(fault.does == name.removeprefix("fault ") for fault in FAULTS)
    if name.startswith("rule "):
        return bool(rule_of(name.removeprefix("rule ")).bad)
    path, _, test = name.partition("::")
    return (ROOT / path).is_file() and (not test or test in names_in(path))


@cache
def names_in(path: str) -> frozenset[str]:
    """The names of the tests in a file."""
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    return frozenset(node.name for node in tree.body if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))


TICKED = [
    (name, gate, words)
    for name, routine in sorted(BOOK.routines.items())
    for gate, words in sorted({tick for _, control in CONTROLS for tick in control.ticks.items()})
    if any(step["id"] == gate for step in routine["steps"])
]
"""Every routine, with the gate and the words of its line that a control counts on."""


@pytest.mark.parametrize(("routine", "gate", "words"), TICKED)
def test_the_line_that_a_control_counts_on_stands_in_the_gate_of_every_routine(
    routine: str, gate: str, words: tuple[str, ...]
) -> None:
    (step,) = [step for step in BOOK.routines[routine]["steps"] if step["id"] == gate]
    assert [line for line in step["gate"] if any(part in line["tick"] for part in words)]


def test_only_a_gate_has_a_line_to_tick_and_no_gate_is_made_up() -> None:
    known = {step["id"] for routine in BOOK.routines.values() for step in routine["steps"] if step.get("gate")}
    named = {gate for _, control in CONTROLS for gate in control.ticks}
    assert named <= known
    assert all(control.kind == ControlKind.GATE for _, control in CONTROLS if control.ticks)


def test_every_caution_belongs_to_a_hazard_and_every_hazard_knows_its_cautions() -> None:
    told = {caution for hazard in HAZARDS for caution in hazard.cautions}
    assert set(BOOK.cautions) - told == set()
    assert told - set(BOOK.cautions) == set()


def test_a_caution_is_no_graver_than_its_hazard() -> None:
    for caution, document in BOOK.cautions.items():
        gravest = min(CautionSeverity.words.index(hazard.severity) for hazard in HAZARDS if caution in hazard.cautions)
        assert CautionSeverity.words.index(document["severity"]) >= gravest, caution


def test_the_page_has_every_hazard_with_its_causes_controls_and_cautions() -> None:
    page = hazard_page(environment_of(SITE / "theme"), SITE, BOOK)
    for hazard in HAZARDS:
        assert f'id="{hazard.id}"' in page.body
        assert all(f'"../cautions/#{caution}"' in page.body for caution in hazard.cautions)
    assert page.body.count("<dt>") == len(CAUSES)
    assert page.body.count('<span class="control') == len(CONTROLS)
    assert [hazard.severity for hazard in HAZARDS] == sorted(
        (hazard.severity for hazard in HAZARDS), key=CautionSeverity.words.index
    )


_SOUND = "- hazard: a\n  title: t\n  harm: h\n  befalls: b\n  severity: danger\n  cautions: []\n  causes: []\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (_SOUND.replace("danger", "dire"), "dire is none of danger, warning, care"),
        (_SOUND.replace("  harm: h\n", ""), "'harm'"),
        ("hazard: a\n", "string indices"),
        ("- [\n", "while parsing"),
        (
            _SOUND.replace("[]\n  causes: []", "[]\n  causes: [{cause: c, slip: true, controls: [{kind: luck}]}]"),
            "luck",
        ),
    ],
)
def test_a_damaged_list_says_what_is_wrong(text: str, said: str, tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(_SOUND)
    assert [hazard.id for hazard in read_hazards(tmp_path)] == ["a"]
    (tmp_path / FILE).write_text(text)
    with pytest.raises(BookError, match=f"(?s)is not a list of hazards: .*{said}"):
        read_hazards(tmp_path)
