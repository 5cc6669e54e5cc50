"""The schemas: sound by the metaschema, described and exemplified throughout, the catalogue poured in."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from importlib import import_module
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kb.intake.json_schema import DIALECT
from kb.intake.models import KINDS
from kb.quantity import PLAIN_KEYS, VALUE_KEYS
from tests.support.schema_files import catalogue, frozen_schemas, properties_of, resolve


@pytest.mark.parametrize("kind", KINDS)
def test_schemas_are_valid_by_the_metaschema_and_say_who_they_are(kind: str) -> None:
    schema = frozen_schemas()[kind]
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == DIALECT == Draft202012Validator.META_SCHEMA["$id"]
    assert schema["$id"] == f"urn:stopscrew:schema:{kind}"
    assert schema["description"]


@pytest.mark.parametrize("kind", KINDS)
def test_every_property_has_a_description_and_examples_that_are_valid(kind: str) -> None:
    root = frozen_schemas()[kind]
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
    for where, schema in properties_of(frozen_schemas()[kind]):
        whole = resolve(schema, frozen_schemas()[kind])
        offered = whole.get("examples", [])
        assert "{" not in json.dumps(offered), where
        if not {"enum", "const"} & whole.keys() and whole["type"] != "array":
            assert len(offered) != 1 or whole["maximum"] == 0, where  # tdc is zero and nothing else


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
    schema = frozen_schemas()[kind]
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
    for schema in frozen_schemas().values():
        used = set(re.findall(r'"#/\$defs/([^"]+)"', json.dumps(schema)))
        assert used == set(schema.get("$defs", {}))


def test_the_catalogue_is_poured_in() -> None:
    family, report = frozen_schemas()["family"], frozen_schemas()["report"]
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
    definitions = frozen_schemas()["figure"]["$defs"]
    assert {f"value_{key}" for key in VALUE_KEYS} <= set(definitions)
    for key in PLAIN_KEYS:
        fraction = "7/64" in json.dumps(definitions[f"value_{key}"])
        assert fraction == (key in ("in", "turns"))
