"""Two validators of one book must not drift apart: the models with the rules, and the schema that an editor reads.

Thousands of slips are made in the text of sound files, and each result is judged by both. Where one refuses what the
other accepts there must be a reason: every class of difference is named, shown by an example, and met.
"""

from __future__ import annotations

import random
from collections import Counter

import pytest

from tests.support.differential import (
    ACROSS,
    CLASSES,
    DATE,
    DECIMALS,
    DOUBLED,
    FEATURES,
    FRACTION,
    GUESSED,
    NEWLINE,
    ORDER,
    QUOTED,
    SPELLING,
    STRADDLE,
    TRUTH,
    Verdict,
    by_models,
    by_schemas,
    judge,
    sound_texts,
)
from tests.support.mutations import MUTATIONS, mutate
from tests.support.samples import tries
from tests.support.schema_files import kind_of

SLIPS = tries(1500, 5200)
SEED = 1902

FAMILY = "families/skerrow/example.yaml"
SOUND = """\
name: Example 31
maker: skerrow
invented: true
engine: {cycle: two-stroke, cylinders: 3, even_fire: true}
ignition: {type: capacitor-discharge}
figures:
  max-advance:
    - btdc: [22, 24]
      state: cranking
      source: handbook
      page: 42
      readings: [{by: mk, on: 2026-03-02}]
      note: read twice
  throttle-pickup:
    - from: {btdc: 2}
      to: {atdc: 3}
      state: cranking
      source: handbook
  linkage-rod-length:
    - in: 3 7/16
      source: plate
  cranking-correction:
    - by_rpm: [{rpm: 1000, cranking_earlier: 1}, {rpm: 5000, cranking_earlier: 2}]
      source: handbook
"""

EXAMPLES = [
    (SPELLING, "[22, 24]", "[010, 24]"),
    (SPELLING, "[22, 24]", "+24"),
    (SPELLING, "[22, 24]", "24."),
    (SPELLING, "cylinders: 3", "cylinders: 3.0"),
    (DECIMALS, "[22, 24]", "24.0000000001"),
    (TRUTH, "even_fire: true", "even_fire: TRUE"),
    (ORDER, "[22, 24]", "[24, 22]"),
    (ORDER, "{btdc: 2}", "{atdc: 4}"),
    (ORDER, "rpm: 5000", "rpm: 500"),
    (DATE, "2026-03-02", "2026-02-30"),
    (FRACTION, "3 7/16", "3 17/16"),
    (STRADDLE, "{btdc: 2}", "{btdc: {mm: 0.1}}"),
    (FEATURES, "state: cranking", "state: &s cranking"),
    (FEATURES, "[22, 24]", "!!str 24"),
    (FEATURES, "name: Example 31\n", "%YAML 1.2\n---\nname: Example 31\n"),
    (DOUBLED, "  max-advance:\n", "  max-advance: []\n  max-advance:\n"),
    (NEWLINE, "source: plate", "source: |\n        plate"),
    (ACROSS, "    - in: 3 7/16", "    - {absent: not-stated, source: plate}\n    - in: 3 7/16"),
    (GUESSED, "note: read twice", "note: null"),
    (GUESSED, "name: Example 31", "name: true"),
    (QUOTED, "invented: true", "invented: 'true'"),
]

AGREED = [
    ("sound as it is", "", "", False),
    ("digits in quotes", "[22, 24]", "['22', '24']", False),
    ("no digits in quotes", "[22, 24]", "'010'", True),
    ("blank words", "read twice", "' '", True),
    ("an unknown key", "note:", "nota:", True),
    ("two units", "page: 42", "atdc: 3", True),
    ("no unit", "btdc: [22, 24]", "page: 42", True),
    ("a unit of another figure", "in: 3 7/16", "Nm: 3", True),
    ("a fraction where there is none", "[22, 24]", "7/64", True),
    ("a state of another figure", "state: cranking", "state: at-rest", True),
    ("a state left out", "      state: cranking\n", "", True),
    ("a condition of another figure", "page: 42", "at: {octane: {ron: 90}}", True),
    ("an unknown figure", "max-advance", "max-advanced", True),
    ("a second unit of another dimension", "page: 42", "also: {mm: 2}", True),
    ("a second unit that is a piston position", "page: 42", "also: {btdc: {mm: [2.9, 3.5]}}", False),
    ("the same unit again", "in: 3 7/16", "in: 3 7/16\n      also: {in: 3.4375}", True),
    ("a further unit that is none", "page: 42", "also: {printed_so: true}", True),
    ("an empty mapping", "page: 42", "at: {}", True),
    ("absent beside a value", "page: 42", "absent: not-stated", True),
    ("half a straddling window", "      to: {atdc: 3}\n", "", True),
]


def _with(old: str, new: str) -> str:
    assert old in SOUND
    return SOUND.replace(old, new, 1)


@pytest.mark.parametrize(("named", "old", "new"), EXAMPLES, ids=lambda value: value[:40])
def test_each_class_of_difference_by_example(named: str, old: str, new: str) -> None:
    text = _with(old, new)
    assert judge(FAMILY, text) == Verdict(True, (named,)), (by_models(FAMILY, text)[1], list(by_schemas(FAMILY, text)))


def test_every_class_has_an_example() -> None:
    assert {named for named, _, _ in EXAMPLES} == set(CLASSES)


@pytest.mark.parametrize(("about", "old", "new", "refused"), AGREED, ids=[row[0] for row in AGREED])
def test_where_both_agree(about: str, old: str, new: str, refused: bool) -> None:
    text = _with(old, new)
    assert judge(FAMILY, text) == Verdict(refused), (by_models(FAMILY, text)[1], list(by_schemas(FAMILY, text)))


def test_the_texts_are_sound_and_of_every_kind() -> None:
    texts = sound_texts()
    assert [file for file, text in texts if judge(file, text) != Verdict(False)] == []
    assert {kind_of(file) for file, _ in texts} == {
        "family",
        "figure",
        "maker",
        "source",
        "caution",
        "routine",
        "report",
        "retired",
        "withdrawn",
    }


def test_thousands_of_slips_are_judged_alike_but_for_the_named_classes() -> None:
    draw = random.Random(SEED)
    by_kind: dict[str, list[tuple[str, str]]] = {}
    for file, text in sound_texts():
        by_kind.setdefault(kind_of(file), []).append((file, text))
    classes, slips, kinds, refused = Counter[str](), Counter[str](), Counter[str](), 0
    unexplained, apart = [], []
    while sum(slips.values()) < SLIPS:
        # families are most of a book, and hold most of what can be said
        kind = "family" if draw.random() < 0.6 else draw.choice(list(by_kind))
        file, text = draw.choice(by_kind[kind])
        slipped, name = mutate(draw, text)
        if slipped == text:
            continue
        slips[name] += 1
        kinds[kind] += 1
        verdict = judge(file, slipped)
        refused += verdict.refused
        classes.update(verdict.classes)
        if "" in verdict.classes:
            unexplained.append((file, name, by_models(file, slipped)[1], list(by_schemas(file, slipped))))
        if verdict.apart:
            apart.append((file, name, by_models(file, slipped)[1], list(by_schemas(file, slipped))))
    print(f"\n{SLIPS} slips, {refused} refused, {sum(classes.values())} judged differently:")
    print("\n".join(f"{count:6} {name}" for name, count in classes.most_common()))
    assert unexplained == []
    assert apart == [], "both refuse, but not for one place"
    assert set(slips) == {mutation.__name__ for mutation in MUTATIONS}
    assert min(slips.values()) > SLIPS // 104
    assert min(kinds.values()) > SLIPS // 52
    assert 0.5 < refused / SLIPS < 0.9
    for named in (SPELLING, ORDER, FEATURES, DOUBLED, GUESSED, QUOTED):
        assert classes[named] > 0, named
