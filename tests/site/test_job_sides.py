"""A side is chosen by hand in every form of a job; one that contradicts what was read before is asked about again."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.support.frozen import frozen_book
from tests.support.job_entries import begin, job_states
from tests.support.node import run_module

CALLS = """
import { byStops, byPointer, doubt } from ASSETS/job/reading/dead-centre-reading.js;
import { degreesAlong } from ASSETS/job/reading/along-the-rim.js;
import { typedValue } from ASSETS/job/reading/number-pad.js;
import { readAll } from ASSETS/bench/field-value.js;
import { Fraction } from ASSETS/quantity/fraction.js;
const said = (work) => {
  try {
    return work();
  } catch (error) {
    return error.message;
  }
};
const degrees = (text) => Fraction.of(text);
const calls = {
  typed: (text, side) => typedValue({ text, unit: "deg", side }, ["btdc", "atdc", "tdc"]),
  bench: (text, side) => `${readAll([{ name: "a", kind: "angle", label: "It reads", raw: { text, side } }]).a}`,
  stops: (first, second) => byStops(degrees(first), degrees(second)).said,
  along: (text, unit, side, diameter, round) =>
    `${degreesAlong({ text, unit, side }, diameter ?? undefined, { text: round, unit, side: "" }).toNumber()}`,
  pointer: (reading) => byPointer(degrees(reading)).said,
  doubt,
};
const asked = JSON.parse(process.argv[2]);
console.log(JSON.stringify(asked.map(([name, ...given]) => said(() => calls[name](...given)))));
"""
ONE_SIDE = (
    "are on one side: one of the contacts is before top dead centre and the other after; if the pointer really shows "
    "both on one side, look at the flywheel key and whether this is the right flywheel"
)
ROWS: list[tuple[str, list[Any], Any]] = [
    ("typed", ["5", ""], "choose before TDC or after TDC for 5"),
    ("typed", ["5", "btdc"], {"btdc": "5"}),
    ("typed", ["0 tdc", ""], {"tdc": "0"}),
    ("typed", ["TDC", "btdc"], {"tdc": "0"}),
    ("typed", ["2 tdc", "btdc"], "'2 tdc' is not a plain number; write plain digits such as 24 or 0.030"),
    ("bench", ["0 tdc", ""], "0"),
    ("bench", ["at TDC", ""], "0"),
    ("bench", ["5", ""], "It reads: choose one of the two keys beside 5"),
    ("stops", ["31", "-27"], {"reads": "2", "stops": ["31", "-27"]}),
    ("stops", ["-27", "31"], {"reads": "2", "stops": ["-27", "31"]}),
    ("stops", ["27", "-31"], {"reads": "-2", "stops": ["27", "-31"]}),
    ("stops", ["31", "27"], f"31 before and 27 before {ONE_SIDE}"),
    ("stops", ["-31", "-27"], f"31 after and 27 after {ONE_SIDE}"),
    ("stops", ["31", "31"], "both contacts read 31 before: turn the other way for the second one, and read again"),
    ("along", ["65", "mm", "btdc", {"mm": "240"}, ""], "31.04"),  # 65 x 360 / (240 pi)
    ("along", ["56.5", "mm", "atdc", {"mm": "240"}, ""], "-26.98"),
    ("along", ["2 9/16", "in", "btdc", {"mm": "240"}, ""], "31.08"),
    ("along", ["65", "mm", "btdc", None, "754"], "31.03"),  # 65 x 360 / 754
    ("along", ["0", "mm", "", {"mm": "240"}, ""], "0"),
    ("along", ["65", "mm", "", {"mm": "240"}, ""], "choose before TDC or after TDC for 65"),
    ("along", ["65", "mm", "btdc", None, ""], "it is empty: type a number first"),
    ("along", ["65", "mm", "btdc", None, "65"], "once round the rim is longer than that: measure it with the tape"),
    ("pointer", ["-1.5"], {"reads": "-1.5"}),
    ("doubt", [[], "-2"], ""),
    ("doubt", [["2"], "-2"], ""),
    ("doubt", [["2", "1.5"], "0"], ""),
    ("doubt", [["2", "-1"], "-2"], ""),
    ("doubt", [["-1", "2", "1.5"], "1"], ""),
    (
        "doubt",
        [["2", "1.5"], "-2"],
        "the pointer would show 2 after, and both earlier readings were before: is it really after? "
        "Look at the rim again; if it is, note it once more",
    ),
    (
        "doubt",
        [["2", "-2", "-1.5"], "2"],
        "the pointer would show 2 before, and both earlier readings were after: is it really before? "
        "Look at the rim again; if it is, note it once more",
    ),
]


@pytest.fixture(scope="module")
def answers() -> list[Any]:
    return list(json.loads(run_module(CALLS, json.dumps([[name, *given] for name, given, _ in ROWS]))))


@pytest.mark.parametrize("place", range(len(ROWS)), ids=[f"{name} {given}" for name, given, _ in ROWS])
def test_what_is_typed_with_its_side(answers: list[Any], place: int) -> None:
    assert answers[place] == ROWS[place][2]


def test_no_form_of_any_job_has_a_side_chosen_beforehand() -> None:
    families = frozen_book().family_ids()
    states = job_states(*([begin(key, "an engine", serial="", year="", margin="")] for key in families))
    assert [state["sides"] for state in states] == [[]] * len(families)
    assert any(state["targets"] for state in states)
