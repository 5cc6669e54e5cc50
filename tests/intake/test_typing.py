"""Typing: a half-broken document still gives every other fault, and what is cut leads back to where it stood."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from kb.finding import Path
from kb.intake.models import KINDS
from kb.intake.models.parsing import Cuts, validate_document
from kb.intake.models.validation_errors import RULES, known_keys
from kb.intake.rules import rules

FAMILY: dict[str, Any] = {
    "name": "Example 31",
    "maker": "skerrow",
    "fits": [{"years": ["1978", "1981"]}, {"years": "1983"}],
    "engine": {"cycle": "two-stroke", "cylinders": "3", "firing_order": ["1", "3", "2"], "power": {"hp": "31"}},
    "ignition": {"type": "capacitor-discharge"},
    "figures": {
        "max-advance": [
            {"btdc": "24", "state": "cranking", "source": "handbook", "page": "42"},
            {"btdc": "22", "state": "running", "at": {"rpm": "5000"}, "source": "handbook", "page": "42"},
            {"btdc": "24", "state": "cranking", "source": "manual", "page": "7-3"},
        ],
        "plug-gap": [{"mm": "0.9", "source": "plate"}],
    },
    "exceptions": [{"rule": "memory-only", "because": "nobody else knows"}],
}

Change = tuple[Path, Any]
GONE = ...  # one and the same in every process, so that tests are named alike


def changed(document: Any, *changes: Change) -> Any:
    """The document with something else at each of some paths; ``GONE`` takes the entry out."""
    document = copy.deepcopy(document)
    for path, value in changes:
        holder = document
        for part in path[:-1]:
            holder = holder[part]
        if value is GONE:
            del holder[path[-1]]
        else:
            holder[path[-1]] = value
    return document


FIRST: Path = ("figures", "max-advance", 0)
GAP: Path = ("figures", "plug-gap", 0)

ONE_SLIP: list[tuple[Change, tuple[str, Path], Path | None]] = [
    # what is changed, the one fault that is told, what is cut (or the key is taken for another one, or nothing is cut)
    (((*FIRST, "btdc"), "1e3"), ("number-not-plain", (*FIRST, "btdc")), FIRST),
    (((*FIRST, "btdc"), ""), ("missing-key", (*FIRST, "btdc")), FIRST),
    (((*FIRST, "btdc"), ["24"]), ("wrong-type", (*FIRST, "btdc")), FIRST),
    (((*FIRST, "btdc"), ["24", "22"]), ("window-inverted", (*FIRST, "btdc")), FIRST),
    (((*FIRST, "btdc"), {"mm": ["3", "2"]}), ("window-inverted", (*FIRST, "btdc", "mm")), FIRST),
    (((*FIRST, "btdc"), {"mm": "3", "in": "1/8"}), ("two-units", (*FIRST, "btdc", "in")), FIRST),
    (((*FIRST, "btdc"), GONE), ("missing-key", FIRST), FIRST),
    (((*FIRST, "source"), GONE), ("missing-key", FIRST), FIRST),
    (((*FIRST, "state"), "runing"), ("unknown-word", (*FIRST, "state")), FIRST),
    (((*FIRST, "at"), {"rpm": "fast"}), ("number-not-plain", (*FIRST, "at", "rpm")), FIRST),
    (((*FIRST, "at"), {"rpm": ["9", "8"]}), ("window-inverted", (*FIRST, "at", "rpm")), FIRST),
    (((*FIRST, "also"), {"furlong": "1"}), ("unknown-key", (*FIRST, "also", "furlong")), FIRST),
    (((*FIRST, "mm"), "3"), ("two-units", (*FIRST, "mm")), (*FIRST, "mm")),
    (((*FIRST, "colour"), "red"), ("unknown-key", (*FIRST, "colour")), (*FIRST, "colour")),
    (((*FIRST, "notes"), "in red"), ("unknown-key", (*FIRST, "notes")), None),
    (((*GAP, "mm"), "nought"), ("number-not-plain", (*GAP, "mm")), ("figures", "plug-gap")),
    ((("figures", "plug-gap"), {"mm": "0.9"}), ("wrong-type", ("figures", "plug-gap")), ("figures", "plug-gap")),
    ((("figures", "plug-gap"), []), ("wrong-type", ("figures", "plug-gap")), ("figures", "plug-gap")),
    ((("figures",), "none"), ("wrong-type", ("figures",)), ("figures",)),
    ((("figures",), GONE), ("missing-key", ()), None),
    ((("name",), GONE), ("missing-key", ()), None),
    ((("name",), ""), ("missing-key", ("name",)), ("name",)),
    ((("maker",), "Skerrow & Sons"), ("wrong-type", ("maker",)), ("maker",)),
    ((("engine",), "three cylinders"), ("wrong-type", ("engine",)), ("engine",)),
    ((("engine",), GONE), ("missing-key", ()), None),
    ((("engine", "cylinders"), GONE), ("missing-key", ("engine",)), None),
    ((("engine", "cylinders"), "three"), ("wrong-type", ("engine", "cylinders")), ("engine", "cylinders")),
    ((("engine", "power", "kW"), "23"), ("two-units", ("engine", "power", "kW")), ("engine", "power", "kW")),
    ((("engine", "firing_order", 1), "x"), ("wrong-type", ("engine", "firing_order", 1)), ("engine", "firing_order")),
    ((("ignition", "type"), "CDI"), ("unknown-word", ("ignition", "type")), ("ignition", "type")),
    ((("fits", 0, "years"), ["1978"]), ("wrong-type", ("fits", 0, "years")), ("fits", 0)),
    ((("fits", 1, "years"), "83"), ("wrong-type", ("fits", 1, "years")), ("fits", 1)),
    ((("exceptions", 0, "because"), GONE), ("missing-key", ("exceptions", 0)), ("exceptions",)),
    ((("linkage",), "loose"), ("unknown-word", ("linkage",)), ("linkage",)),
]


def test_the_document_is_sound() -> None:
    rest, faults, cuts = validate_document("family", FAMILY)
    assert rest is FAMILY
    assert not faults
    assert not cuts.touched(())


@pytest.mark.parametrize(("change", "told", "cut"), ONE_SLIP, ids=str)
def test_one_slip_is_one_fault_and_the_smallest_part_is_cut(
    change: Change, told: tuple[str, Path], cut: Path | None
) -> None:
    broken = changed(FAMILY, change)
    before = copy.deepcopy(broken)
    rest, faults, cuts = validate_document("family", broken)
    assert broken == before
    assert [(fault.rule, fault.path) for fault in faults] == [told]
    if cut is None:
        assert not cuts.touched(())
    else:
        assert rest == changed(broken, (cut, GONE))
        assert cuts.touched(cut)


MISSPELLED: list[tuple[Path, str, str]] = [
    (FIRST, "btdc", "bdtc"),
    (FIRST, "btdc", "BTDC"),
    (FIRST, "source", "sorce"),
    (FIRST, "state", "stat"),
    (FIRST, "page", "pages"),
    ((), "engine", "engin"),
    ((), "figures", "figure"),
    ((), "exceptions", "exemptions"),
    (("engine",), "cylinders", "cyclinders"),
    (("engine",), "power", "powers"),
    (("engine", "power"), "hp", "HP"),
    (("ignition",), "type", "typ"),
    (("fits", 0), "years", "year"),
    (("exceptions", 0), "because", "becuase"),
    (("figures",), "plug-gap", "Plug gap"),
]


@pytest.mark.parametrize(("holder", "key", "typed"), MISSPELLED)
def test_a_misspelled_key_is_one_fault_and_taken_for_the_one_that_is_meant(holder: Path, key: str, typed: str) -> None:
    value: Any = FAMILY
    for part in (*holder, key):
        value = value[part]
    broken = changed(FAMILY, ((*holder, typed), value), ((*holder, key), GONE))
    rest, faults, cuts = validate_document("family", broken)
    assert [(fault.path, fault.meant) for fault in faults] == [((*holder, typed), key)]
    assert rest == FAMILY
    assert cuts.original((*holder, key, "below")) == (*holder, typed, "below")


@pytest.mark.parametrize("key", ["[key]", "~mapping", "0", " "])
@pytest.mark.parametrize("holder", [(), ("figures",), ("engine",), FIRST, ("fits", 0)])
def test_a_key_that_looks_like_a_mark_of_the_models_is_a_key(holder: Path, key: str) -> None:
    _, faults, _ = validate_document("family", changed(FAMILY, ((*holder, key), ["x"])))
    assert all(key in fault.path and fault.rule in ("unknown-key", "wrong-type") for fault in faults)
    assert faults


def test_a_key_is_not_taken_for_one_that_stands_there() -> None:
    rest, faults, _ = validate_document("family", changed(FAMILY, ((*FIRST, "sorce"), "manual")))
    assert [fault.rule for fault in faults] == ["unknown-key"]
    assert rest == FAMILY


def test_a_half_broken_family_gives_every_fault_in_it() -> None:
    slips: list[tuple[Change, tuple[str, Path]]] = [
        ((("maker",), "Skerrow & Sons"), ("wrong-type", ("maker",))),
        ((("colour",), "red"), ("unknown-key", ("colour",))),
        ((("linkage",), "loose"), ("unknown-word", ("linkage",))),
        ((("fits", 0, "years"), ["1978"]), ("wrong-type", ("fits", 0, "years"))),
        ((("engine", "cylinders"), "three"), ("wrong-type", ("engine", "cylinders"))),
        ((("engine", "power"), {"hp": "31", "kW": "23"}), ("two-units", ("engine", "power", "kW"))),
        ((("ignition", "type"), GONE), ("missing-key", ("ignition",))),
        (((*FIRST, "btdc"), ["24", "22"]), ("window-inverted", (*FIRST, "btdc"))),
        ((("figures", "max-advance", 1, "sorce"), "manual"), ("unknown-key", ("figures", "max-advance", 1, "sorce"))),
        ((("figures", "max-advance", 2, "source"), GONE), ("missing-key", ("figures", "max-advance", 2))),
        (((*GAP, "mm"), "0,9"), ("number-not-plain", (*GAP, "mm"))),
        ((("exceptions", 0, "because"), ""), ("missing-key", ("exceptions", 0, "because"))),
    ]
    rest, faults, _ = validate_document("family", changed(FAMILY, *(change for change, _ in slips)))
    assert {(fault.rule, fault.path) for fault in faults} == {told for _, told in slips}
    assert len(faults) == len(slips)
    assert rest == {
        "name": "Example 31",
        "fits": [{"years": "1983"}],
        "engine": {"cycle": "two-stroke", "firing_order": ["1", "3", "2"], "power": {"hp": "31"}},
        "ignition": {},
        "figures": {"max-advance": [FAMILY["figures"]["max-advance"][1]]},
    }


@pytest.mark.parametrize(
    ("cut", "path", "whole"),
    [
        ([("a", 0)], ("a", 0), ("a", 1)),
        ([("a", 1)], ("a", 0), ("a", 0)),
        ([("a", 2), ("a", 0)], ("a", 0), ("a", 1)),
        ([("a", 2), ("a", 0)], ("a", 1), ("a", 3)),
        ([("a", 0), ("a", 0)], ("a", 0), ("a", 2)),
        ([("a", 0), ("a", 0), ("a", 1)], ("a", 1), ("a", 4)),
        ([("a", 1, "b", 0)], ("a", 1, "b", 0), ("a", 1, "b", 1)),
        ([("a", 1, "b", 0), ("a", 0)], ("a", 0, "b", 0), ("a", 1, "b", 1)),
        ([("a", "b")], ("a", "c"), ("a", "c")),
    ],
)
def test_a_path_in_the_rest_leads_to_its_place_in_the_whole(cut: list[Path], path: Path, whole: Path) -> None:
    cuts = Cuts()
    for one in cut:  # each is a path in what the earlier cuts left
        cuts.add(one)
    assert cuts.original(path) == whole


@pytest.mark.parametrize("gone", [(0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2)])
def test_the_statements_that_are_left_lead_back_to_where_they_stood(gone: tuple[int, ...]) -> None:
    broken = changed(FAMILY, *((("figures", "max-advance", index, "btdc"), "x") for index in gone))
    rest, faults, cuts = validate_document("family", broken)
    left = [index for index in range(3) if index not in gone]
    assert [fault.path[2] for fault in faults] == list(gone)
    kept = rest["figures"].get("max-advance", [])
    assert kept == [broken["figures"]["max-advance"][index] for index in left]
    assert [cuts.original(("figures", "max-advance", index))[-1] for index in range(len(kept))] == left


def _hurt(node: Any, path: Path = ()) -> Iterator[Change]:
    for part, inner in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        for other in (GONE, "", "x", [], ["x", "y"], {}, {"x": "y"}):
            yield (*path, part), other
        yield from _hurt(inner, (*path, part))


EXAMPLES: dict[str, Any] = {
    "family": FAMILY,
    "source": {"kind": "plate", "title": "Plate", "seen": "paper", "exceptions": FAMILY["exceptions"]},
    "maker": {"name": "Skerrow", "also_called": ["Skerrow Marine"]},
    "figure": {
        "label": "Plug gap",
        "about": "Between the electrodes.",
        "dimension": "length",
        "units": ["in", "mm"],
        "states": ["at-rest"],
        "hazard": "C",
        "aim": "middle",
        "safest_end": "none",
        "job_order": "10",
        "plausible": [{"mm": ["0.4", "1.8"], "because": "no plug goes beyond"}],
        "example": {"mm": "0.9"},
        "outlier": {"mm": "0.3"},
    },
    "caution": {"title": "Open flywheel", "text": "No loose sleeves.", "severity": "danger", "behind": "sense"},
    "routine": {
        "name": "Example",
        "linkage": "fixed-spark",
        "steps": [
            {"id": "one", "do": "Do.", "when": {"modules": "none"}},
            {"id": "two", "do": "Do.", "gate": [{"tick": "a"}]},
        ],
    },
    "report": {"by": "mk", "on": "2026-05-12", "as_found": {"plug-gap": [{"mm": "0.9"}]}, "engine": {"year": "1979"}},
    "retired": {"retired": [{"id": "a/b", "kind": "family", "to": ["a/c"], "since": "2026-02-01", "because": "so"}]},
    "withdrawn": {
        "withdrawn": [
            {
                "statement": {"family": "a/b", "figure": "plug-gap", "source": "plate"},
                "since": "2026-02-01",
                "because": "so",
                "severity": "care",
            }
        ]
    },
}


@pytest.mark.parametrize("kind", KINDS)
def test_whatever_is_hurt_the_rest_is_right_and_little_is_said(kind: str) -> None:
    document = EXAMPLES[kind]
    assert validate_document(kind, document)[1] == []
    for change in _hurt(document):
        rest, faults, cuts = validate_document(kind, changed(document, change))
        assert {fault.rule for fault in faults} <= set(RULES), change
        # one slip is one fault, except where one value holds several slips of its own
        if change[1] not in (["x", "y"], {"x": "y"}):
            assert len(faults) <= max(1, _needed(document, change)), (change, faults)
        again, left, _ = validate_document(kind, rest)
        assert all(fault.rule == "missing-key" and len(fault.path) <= 1 for fault in left), (change, left)
        assert again == rest
        for path in _paths(rest):
            there: Any = changed(document, change)
            for part in cuts.original(path):
                there = there[part]


def _needed(document: Any, change: Change) -> int:
    """How many keys an empty mapping in this place would lack."""
    return 9 if change[1] == {} else 1


def _paths(node: Any, path: Path = ()) -> Iterator[Path]:
    for part, inner in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        yield (*path, part)
        yield from _paths(inner, (*path, part))


@pytest.mark.parametrize("layers", [1, 3, 60])
def test_a_document_with_many_broken_layers_is_cut_or_given_up(layers: int) -> None:
    keys = {f"unit-{index}": "1" for index in range(layers)} | {"mm": "1", "in": "1", "V": "1", "deg": "x"}
    rest, faults, _ = validate_document("family", changed(FAMILY, (GAP, {**keys, "source": "plate"})))
    assert [fault.rule for fault in faults].count("unknown-key") == layers
    assert [fault.rule for fault in faults].count("two-units") == 3
    assert rest["figures"]["plug-gap"] == [{"mm": "1", "source": "plate"}]


@pytest.mark.parametrize("data", ["text", ["a", "list"], [], ""])
def test_a_document_that_is_no_mapping_is_one_fault(data: Any) -> None:
    rest, faults, _ = validate_document("family", data)
    assert rest == {}
    assert len(faults) == 1


@pytest.mark.parametrize("rule", RULES)
def test_every_fault_that_typing_can_tell_has_a_rule_that_says_it(rule: str) -> None:
    assert rules()[rule].reads == "typing"


def test_every_rule_of_typing_is_told_by_typing_or_by_the_place_of_a_file() -> None:
    assert {key for key, rule in rules().items() if rule.reads == "typing"} == {*RULES, "misplaced-file"}


@pytest.mark.parametrize(
    ("kind", "path", "some"),
    [
        ("family", (), {"name", "maker", "figures"}),
        ("family", ("figures", "max-advance"), {"btdc", "in", "from", "source", "page"}),
        ("family", ("figures", "max-advance", "only", "serials"), {"from", "to"}),
        ("family", ("adjusters", "max-advance"), {"part", "pitch"}),
        ("report", ("as_found", "max-advance", "at"), {"rpm", "gear"}),
        ("routine", ("steps", "when"), {"ignition", "modules"}),
    ],
)
def test_the_keys_that_may_stand_at_a_path(kind: str, path: tuple[str, ...], some: set[str]) -> None:
    assert some <= set(known_keys(kind, path))
