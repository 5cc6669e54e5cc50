"""The check vectors: of the promised shape, fresh, and every row right by an oracle that reads the file alone."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kb import errors
from kb.publish.vectors.__main__ import main
from kb.publish.vectors.writing import vector_files, write
from tests.oracles import ORACLES, Oracle, Refused
from tests.oracles.digits import number
from tests.support.folders import SCHEMA

VECTORS = SCHEMA / "vectors"
FILES = sorted(path for path in VECTORS.glob("*.json") if path.name != "schema.json")
SHAPE = json.loads((VECTORS / "schema.json").read_text(encoding="utf-8"))


def load(path: Path) -> dict[str, Any]:
    held: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return held


def asked(oracle: Oracle, given: dict[str, Any]) -> tuple[dict[str, Any], str | None]:
    """What an oracle gives, or the name of the error that it wants."""
    try:
        return oracle(**given), None
    except Refused as refused:
        return {}, str(refused)


def agrees(found: Any, wanted: Any, relative: float, absolute: float) -> bool:
    """Whether a value of a row is what an oracle wants, numbers within the file's own tolerance."""
    if isinstance(wanted, dict):
        return set(found) == set(wanted) and all(
            agrees(found[name], wanted[name], relative, absolute) for name in wanted
        )
    if wanted is None or isinstance(wanted, bool | str):
        return type(found) is type(wanted) and bool(found == wanted)
    if isinstance(found, str):
        return bool(Fraction(found) == wanted)
    if not isinstance(found, int | float) or isinstance(found, bool):
        return False
    exact = number(wanted) if isinstance(wanted, Fraction | float | int) else wanted
    return bool(abs(number(found) - exact) <= max(absolute, relative * abs(exact)))


def test_the_schema_is_sound_and_strict() -> None:
    Draft202012Validator.check_schema(SHAPE)
    good = load(FILES[0])
    validator = Draft202012Validator(SHAPE)
    assert validator.is_valid(good)
    row = good["rows"][0]
    for broken in (
        {**good, "rows": []},
        {**good, "extra": 1},
        {**good, "rows": [{"in": row["in"]}]},
        {**good, "rows": [{**row, "out": {"x": 1}, "error": "GeometryImpossible"}]},
        {**good, "tolerance": {"relative": -1, "absolute": 0}},
        {name: value for name, value in good.items() if name != "about"},
    ):
        assert not validator.is_valid(broken)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_file_has_the_shape(path: Path) -> None:
    held = load(path)
    Draft202012Validator(SHAPE).validate(held)
    assert held["calculation"] == path.stem
    assert len(held["rows"]) >= 150
    for row in held["rows"]:
        assert set(row["in"]) == set(held["inputs"])
        assert "error" in row or set(row["out"]) == set(held["outputs"])
        assert issubclass(getattr(errors, row.get("error", "StopscrewError")), errors.StopscrewError)
    assert len({json.dumps(row["in"]) for row in held["rows"]}) == len(held["rows"]), "a row stands twice"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_row_is_right_by_the_oracle(path: Path) -> None:
    held = load(path)
    oracle, tolerance = ORACLES[held["calculation"]], held["tolerance"]
    for row in held["rows"]:
        wanted, refused = asked(oracle, row["in"])
        assert row.get("error") == refused, row
        assert refused or agrees(row["out"], wanted, tolerance["relative"], tolerance["absolute"]), (row, wanted)


def test_every_refusal_of_the_arithmetic_is_among_the_rows() -> None:
    refusals = Counter(row["error"] for path in FILES for row in load(path)["rows"] if "error" in row)
    assert set(refusals) == {
        "Extrapolation",
        "GeometryImpossible",
        "NoCorrectionKnown",
        "OddFire",
        "ReadingsContradict",
        "UnitsNotComparable",
        "WindowInverted",
    }


def test_every_oracle_has_a_file_and_the_other_way_round() -> None:
    assert {path.stem for path in FILES} == set(ORACLES)


def test_the_oracles_know_nothing_of_the_package() -> None:
    code = "import sys, tests.oracles; sys.exit(any(name.split('.')[0] == 'kb' for name in sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], cwd=VECTORS.parent.parent, check=False).returncode == 0


def same(one: Any, other: Any, absolute: float) -> bool:
    """Equal, but for the last places of a number: mathematical libraries differ there from machine to machine."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(same(one[name], other[name], absolute) for name in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(same(*pair, absolute) for pair in zip(one, other, strict=True))
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-13, abs_tol=absolute)
    return type(one) is type(other) and bool(one == other)


def test_the_files_are_fresh() -> None:
    made = vector_files()
    assert sorted(made) == sorted(path.name for path in VECTORS.iterdir()), "make golden rewrites the folder"
    for name, text in made.items():
        fresh = json.loads(text)
        absolute = fresh.get("tolerance", {}).get("absolute", 0.0)
        assert same(fresh, load(VECTORS / name), absolute), f"{name} is stale; make golden rewrites it"


def test_writing_is_the_same_every_time_and_clears_what_is_no_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "gone.json").write_text("{}")
    assert "gone.json" in write(tmp_path)
    first = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert "gone.json" not in first
    assert main([str(tmp_path)]) == 0
    assert capsys.readouterr().out == "the vectors are up to date\n"
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == first
    assert all(b"\r" not in raw and raw.endswith(b"\n") for raw in first.values())


def test_writing_wants_a_folder(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "Name one folder" in capsys.readouterr().err
