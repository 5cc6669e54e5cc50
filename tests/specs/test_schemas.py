"""The committed schemas: those of the models and of the catalogue in ``specs/``, true to every file there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from kb.intake.json_schema.__main__ import main
from kb.intake.models import KINDS
from tests.support.core_yaml import load
from tests.support.folders import ROOT, SCHEMA, SPECS
from tests.support.schema_files import kind_of

FILES = sorted(file.relative_to(SPECS).as_posix() for file in SPECS.rglob("*.yaml"))


def test_the_command_writes_the_committed_schemas_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(SPECS), str(tmp_path)]) == 0
    written = {file.stem: file.read_text(encoding="utf-8") for file in tmp_path.iterdir()}
    committed = {kind: (SCHEMA / f"{kind}.json").read_text(encoding="utf-8") for kind in KINDS}
    assert [kind for kind in KINDS if written[kind] != committed[kind]] == [], "stale: run `make golden`"
    assert set(written) == set(KINDS)
    assert capsys.readouterr().out.count("written") == len(KINDS)
    assert main([str(SPECS), str(tmp_path)]) == 0
    assert capsys.readouterr().out == ""
    assert main([]) == 2
    assert capsys.readouterr().err.startswith("usage:")


@cache
def validator(kind: str) -> Draft202012Validator:
    return Draft202012Validator(load((SCHEMA / f"{kind}.json").read_text(encoding="utf-8")))


@pytest.mark.parametrize("file", FILES)
def test_every_file_is_valid_and_its_first_line_leads_to_its_schema(file: str) -> None:
    text = (SPECS / file).read_text(encoding="utf-8")
    errors = validator(kind_of(file)).iter_errors(load(text))
    assert [f"{error.json_path}: {error.message}" for error in errors] == []
    path = text.partition("# yaml-language-server: $schema=")[2].partition("\n")[0]
    assert (ROOT / "specs" / file).parent.joinpath(path).resolve() == SCHEMA / f"{kind_of(file)}.json"
