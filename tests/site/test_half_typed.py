"""What is half typed at a step survives a reload of its window, and nothing else does."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.support.node import run_module

HOUR = 3_600_000
MADE = {"typed": {"text": "", "side": ""}, "conditions": {}}
TYPED = {"typed": {"text": "23", "side": "btdc"}, "conditions": {"gear": "neutral"}}
LOAD = """
let text = process.argv[2], refuses = process.argv[4] === "refuses";
const store = {
  getItem: () => text || null,
  setItem: (_, words) => { text = words; },
  removeItem: () => { text = ""; },
};
Object.defineProperty(globalThis, "sessionStorage", { get() {
  if (refuses) throw new Error("no");
  return store;
} });
Date.now = () => 100_000_000;
const { HalfTyped, forgetHalfTyped } = await import(ASSETS/job/half-typed.js);
const opened = (job) => new HalfTyped(job);
const made = () => (%s);
const of = (page, name = "maximum") => page.draft(name, made, ({ typed }) => typed.text !== "" || typed.side !== "");
const type = (draft) => Object.assign(draft, %s);
let said;
{ %s }
console.log(JSON.stringify({ said, text }));
"""


def asked(lines: str, stored: Any = "", *, refuses: bool = False) -> Any:
    """What ``said`` is after these lines, and what is then stored."""
    text = stored if isinstance(stored, str) else json.dumps(stored)
    source = LOAD % (json.dumps(MADE), json.dumps(TYPED), lines)
    return json.loads(run_module(source, text, "", "refuses" if refuses else ""))


def stored(draft: Any, at: int = 100_000_000 - HOUR, job: str = "one") -> Any:
    return {job: {"at": at, "drafts": {"maximum": draft}}}


def test_digits_and_side_are_there_again_after_a_reload() -> None:
    lines = "const page = opened('one'); type(of(page)); page.keep(); said = of(opened('one'));"
    assert asked(lines)["said"] == TYPED


def test_another_job_and_another_step_begin_empty() -> None:
    lines = "said = [of(opened('two')), of(opened('one'), 'pickup')];"
    assert asked(lines, stored(TYPED))["said"] == [MADE, MADE]


def test_what_is_noted_is_stored_no_longer() -> None:
    lines = "const page = opened('one'); Object.assign(of(page), made()); page.keep();"
    assert asked(lines, stored(TYPED))["text"] == ""
    clears = "const page = opened('one'); type(of(page)); page.keep(); Object.assign(of(page), made()); page.keep();"
    assert asked(clears)["text"] == ""


def test_a_step_that_was_not_opened_since_keeps_what_is_typed_there() -> None:
    lines = "const page = opened('one'); type(of(page, 'pickup')); page.keep(); said = of(opened('one'));"
    assert asked(lines, stored(TYPED))["said"] == TYPED


def test_a_job_that_is_removed_takes_its_digits_along() -> None:
    told = asked("forgetHalfTyped('one');", {**stored(TYPED), **stored(TYPED, job="two")})
    assert list(json.loads(told["text"])) == ["two"]


@pytest.mark.parametrize(
    "held",
    [
        "{",
        "[]",
        "7",
        {"one": 7},
        {"one": {"at": "now", "drafts": {}}},
        {"one": {"at": 99_000_000, "drafts": []}},
        stored(TYPED, 100_000_000 - 13 * HOUR),
        stored(TYPED, 100_000_000 + HOUR),
        stored({"typed": {"text": 23, "side": "btdc"}, "conditions": {}}),
        stored({"typed": {"text": "23"}, "conditions": {}}),
        stored({**TYPED, "more": ""}),
        stored({**TYPED, "typed": "23"}),
        stored({**TYPED, "conditions": {"gear": {"in": "gear"}}}),
        stored({"typed": {"text": "2" * 2001, "side": ""}, "conditions": {}}),
        stored(None),
    ],
    ids=str,
)
def test_what_is_stored_otherwise_is_ignored(held: Any) -> None:
    assert asked("said = of(opened('one'));", held)["said"] == MADE


def test_only_the_last_jobs_are_kept() -> None:
    lines = "for (const job of 'abcdef') { const page = opened(job); type(of(page)); page.keep(); }"
    assert sorted(json.loads(asked(lines)["text"])) == ["c", "d", "e", "f"]


def test_where_storage_is_refused_the_page_still_holds_it() -> None:
    lines = "const page = opened('one'); type(of(page)); page.keep(); said = of(page);"
    assert asked(lines, refuses=True) == {"said": TYPED, "text": ""}
