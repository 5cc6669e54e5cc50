"""The site's own arithmetic: the shared vectors, what they do not reach, and that a changed digit is seen."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

import pytest

from kb.calc import breaker, centre_pairs, coverage, dead_centre, plates, plug_hole, rim, screw
from kb.errors import StopscrewError
from kb.quantity import (
    UNITS,
    Toward,
    angle_in_words,
    decimal_step,
    plain,
    read_number,
    round_to_step,
    spoken_angle,
    write_number,
)
from tests.support.folders import ASSETS, SCHEMA
from tests.support.node import run_node

VECTORS = SCHEMA / "vectors"
TEXTS = [
    "24",
    "0.030",
    "7/64",
    "1 1/4",
    "010",
    "1e3",
    "1_000",
    "-3",
    "",
    " 5",
    "2 before",
    "1.5° ATDC",
    "0",
    "TDC",
    "at tdc",
    "3",
    "2 sideways",
    "٣ before",
    "0.5 deg after",
    "1 1/2 btdc",
    "12/7",
    "1234567890",
    "3.0123456789",
    "0 after",
]


def _fractions() -> list[str]:
    chance = Random(7)
    made = [Fraction(chance.randint(-900, 900), chance.choice([1, 2, 3, 7, 8, 10, 64, 1000])) for _ in range(80)]
    made += [Fraction(chance.uniform(-40, 40)) for _ in range(40)]
    made += [Fraction(chance.getrandbits(90) + 1, chance.getrandbits(70) + 1) for _ in range(40)]
    return [str(one) for one in made if one]


FREEDOMS = [998, 999, 1000, 1001, 4000]
FLOATS = ["0.1", "24", "-0.5", "1e-300", "120.00000000000001", "5e-324"]


@pytest.fixture(scope="module")
def found() -> dict[str, Any]:
    given = json.dumps({"floats": FLOATS, "fractions": _fractions(), "texts": TEXTS, "freedoms": FREEDOMS})
    done = run_node("exercise.mjs", ASSETS, given=given)
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


def test_every_vector_holds() -> None:
    done = run_node("check_vectors.mjs", ASSETS, VECTORS)
    assert done.returncode == 0, done.stdout
    assert done.stdout.startswith(f"{len(list(VECTORS.glob('*.json'))) - 1} files, ")


def test_a_changed_digit_or_sign_is_seen(tmp_path: Path) -> None:
    files = "calc/target.js,calc/correction.js,calc/premix.js,calc/speed.js"
    done = run_node("mutate.mjs", ASSETS, VECTORS, tmp_path, files)
    count, *unnoticed = done.stdout.splitlines()
    assert int(count.split()[0]) > 20, done.stderr
    assert not unnoticed


def test_the_units_are_those_of_the_package(found: dict[str, Any]) -> None:
    assert found["units"] == {
        key: {
            "dimension": unit.dimension.value,
            "symbol": unit.symbol,
            "name": unit.name,
            "factor": str(unit.factor),
            "offset": str(unit.offset),
            "fractions": unit.fractions,
            "signed": unit.signed,
        }
        for key, unit in UNITS.items()
    }
    assert list(found["units"]) == list(UNITS)


def test_what_is_taken_when_nothing_is_said(found: dict[str, Any]) -> None:
    assert found["stop"] == dead_centre.STOP_JOB_BEYOND
    assert found["standard"] == pytest.approx(dead_centre.dead_centre(31, -27).standard)
    for name, pairs in (("pair", [(31, -27)]), ("pairs", [(31, -27), (30.5, -26.75)])):
        wanted, scatter = centre_pairs.mean_dead_centre(pairs)
        got = found[name]
        assert [got["reading"], got["standard"], got["expanded"], got["scatter"]] == pytest.approx(
            [wanted.reading, wanted.standard, wanted.expanded, scatter]
        )
    assert found["none"] == "ReadingsContradict"
    assert found["plate"] == pytest.approx(
        [plates.open_part(20), plates.air_ratio(30, 31), plates.angle_for_part(0.0456420322017)]
    )
    assert found["hole"] == pytest.approx([plug_hole.position_of_travel(2, 30), plug_hole.travel_of_position(2, 30)])
    assert found["rim"] == pytest.approx([rim.arc(10, 240), rim.angle_of_arc(62, 240)])
    assert found["rod"] == pytest.approx([screw.rod_turn_degrees(1, 30), screw.lever_moved(30, 40, 50, 1)])
    assert breaker.first_contact([(0, 1), (1, 0)]) == (0, 1)


def test_the_series_for_many_degrees_of_freedom_keeps_its_last_terms(found: dict[str, Any]) -> None:
    """Closer than the vectors ask: the fourth term is some 1e-11 of the whole."""
    assert found["coverage"] == pytest.approx([coverage.coverage_factor(0.999, one) for one in FREEDOMS], rel=1e-13)


def test_what_is_no_finite_number_is_refused(found: dict[str, Any]) -> None:
    assert found["notFinite"] == [["NotFinite"] * 4] * 3


def test_numbers_are_exact_and_rounded_alike(found: dict[str, Any]) -> None:
    fractions = [Fraction(text) for text in _fractions()]
    assert found["floats"] == [str(Fraction(float(text))) for text in FLOATS]
    assert found["numbers"] == [float(one) for one in fractions]
    assert found["plain"] == [[plain(one), plain(one, 2), angle_in_words(one)] for one in fractions]
    step, fine = Fraction(3, 8), Fraction(1, 100)
    assert found["rounded"] == [
        [text for way in Toward for text in (str(round_to_step(one, step, way)), write_number(one, fine, way).text)]
        for one in fractions
    ]
    assert found["steps"] == [str(decimal_step(abs(one))) for one in fractions]


def test_what_is_typed_is_read_alike(found: dict[str, Any]) -> None:
    def tried(read: Callable[[], Any]) -> Any:
        try:
            return read()
        except StopscrewError as refusal:
            return type(refusal).__name__

    def number(text: str) -> list[str]:
        read = read_number(text, fractions=True)
        return [str(read.value), str(read.step)]

    def spoken(text: str) -> str:
        return str(spoken_angle(text))

    assert found["read"] == [tried(partial(number, text)) for text in TEXTS]
    assert found["spoken"] == [tried(partial(spoken, text)) for text in TEXTS]
