"""The schemas: as committed, sound by the metaschema, described and exemplified throughout, true to the real files."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kb.intake.json_schema import DIALECT, render, schemas
from kb.intake.json_schema.__main__ import main
from kb.intake.models import KINDS
from kb.quantity import PLAIN_KEYS, VALUE_KEYS
from tests.support.core_yaml import load
from tests.support.folders import SCHEMA, SPECS
from tests.support.schema_files import book_files, catalogue, committed, kind_of, properties_of, resolve, validator


@pytest.mark.parametrize("kind", KINDS)
def test_committed_schemas_are_those_of_the_models(kind: str) -> None:
    text = (SCHEMA / f"{kind}.json").read_text(encoding="utf-8")
    assert text == render(schemas(catalogue())[kind]) + "\n", f"schema/{kind}.json is stale: run `make golden`"


def test_the_command_writes_every_schema_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(SPECS), str(tmp_path)]) == 0
    assert {file.stem: file.read_text(encoding="utf-8") for file in tmp_path.iterdir()} == {
        kind: (SCHEMA / f"{kind}.json").read_text(encoding="utf-8") for kind in KINDS
    }
    assert capsys.readouterr().out.count("written") == len(KINDS)
    assert main([str(SPECS), str(tmp_path)]) == 0
    assert capsys.readouterr().out == ""
    assert main([]) == 2
    assert capsys.readouterr().err.startswith("usage:")


@pytest.mark.parametrize("kind", KINDS)
def test_schemas_are_valid_by_the_metaschema_and_say_who_they_are(kind: str) -> None:
    schema = committed()[kind]
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == DIALECT == Draft202012Validator.META_SCHEMA["$id"]
    assert schema["$id"] == f"urn:stopscrew:schema:{kind}"
    assert schema["description"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_property_has_a_description_and_examples_that_are_valid(kind: str) -> None:
    root = committed()[kind]
    for where, schema in properties_of(root):
        whole = resolve(schema, root)
        assert len(whole["description"]) > 3, where
        examples = [*whole.get("examples", ()), *whole.get("then", {}).get("examples", ())]
        assert examples, where
        alone = Draft202012Validator({"$schema": DIALECT, "$defs": root.get("$defs", {}), **schema})
        faults = [error.message for example in examples for error in alone.iter_errors(example)]
        assert faults == [], where


@pytest.mark.parametrize("kind", KINDS)
def test_no_example_is_typed_for_the_contributor(kind: str) -> None:
    # an editor types the only example there is, and offers a mapping as [object Object]
    for where, schema in properties_of(committed()[kind]):
        whole = resolve(schema, committed()[kind])
        offered = whole.get("examples", [])
        assert "{" not in json.dumps(offered), where
        if not {"enum", "const"} & whole.keys() and whole["type"] != "array":
            assert len(offered) != 1 or whole["maximum"] == 0, where  # tdc is nought and nothing else


def _everything(schema: Any) -> Iterator[tuple[str, Any]]:
    """Every keyword with its value; names of properties and definitions are no keywords."""
    if isinstance(schema, list):
        for entry in schema:
            yield from _everything(entry)
    elif isinstance(schema, dict):
        for key, value in schema.items():
            yield key, value
            named = isinstance(value, dict) and key in ("properties", "$defs", "dependentSchemas", "patternProperties")
            if key not in ("examples", "enum", "const"):
                yield from _everything(list(value.values()) if named else value)


def class_names() -> set[str]:
    names = ("catalogue", "retired", "family", "statement", "scalars", "value_keys", "routine")
    modules = [import_module(f"kb.intake.models.{name}") for name in names]
    return {name for module in modules for name, value in vars(module).items() if isinstance(value, type)}


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_of_the_machinery_shows(kind: str) -> None:
    schema = committed()[kind]
    keywords = list(_everything(schema))
    assert "title" not in {key for key, _ in keywords}
    assert not {"anyOf", "oneOf", "not", "nullable", "default"} & {key for key, _ in keywords}
    assert "null" not in json.dumps([value for key, value in keywords if key in ("type", "const", "enum", "examples")])
    assert "StatementEntry" in class_names()
    names = schema.get("$defs", {}).keys()
    assert not names & class_names()
    for name in names:
        assert name.removeprefix("value_") in VALUE_KEYS or re.fullmatch(r"[a-z]+(?:[-_][a-z]+)*", name)


def test_every_definition_is_used() -> None:
    for schema in committed().values():
        used = set(re.findall(r'"#/\$defs/([^"]+)"', json.dumps(schema)))
        assert used == set(schema.get("$defs", {}))


FILES = book_files()


@pytest.mark.parametrize("file", FILES)
def test_every_real_file_is_valid(file: str) -> None:
    errors = validator(kind_of(file)).iter_errors(load(FILES[file]))
    assert [f"{error.json_path}: {error.message}" for error in errors] == []


def test_the_catalogue_is_poured_in() -> None:
    family, report = committed()["family"], committed()["report"]
    in_order = sorted(catalogue(), key=lambda figure: catalogue()[figure].job_order)
    for holder in (family["properties"]["figures"], family["properties"]["adjusters"], *_readings(report)):
        assert list(holder["properties"]) == in_order
        assert holder["additionalProperties"] is False
    for name, kind in catalogue().items():
        figure = family["properties"]["figures"]["properties"][name]
        assert figure["description"].startswith(kind.label)
        assert kind.document["about"] in figure["description"]
        statement = family["$defs"][name]["properties"]
        units = {key for key in statement if key in VALUE_KEYS}
        assert units - {"from", "to"} == set(kind.units)
        assert statement["state"]["enum"] == list(kind.states)
        assert tuple(statement.get("at", {"properties": {}})["properties"]) == tuple(
            key for key in family["$defs"]["at"]["properties"] if key in kind.conditions
        )


def _readings(report: dict[str, Any]) -> list[dict[str, Any]]:
    return [report["properties"][key] for key in ("as_found", "as_left")]


def test_every_value_key_has_a_definition() -> None:
    definitions = committed()["figure"]["$defs"]
    assert {f"value_{key}" for key in VALUE_KEYS} <= set(definitions)
    for key in PLAIN_KEYS:
        fraction = "7/64" in json.dumps(definitions[f"value_{key}"])
        assert fraction == (key in ("in", "turns"))
