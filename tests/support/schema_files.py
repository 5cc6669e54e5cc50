"""The schemas of the frozen book, and its files with the kind of each, for the tests of schemas."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

import yaml
from jsonschema import Draft202012Validator

from kb.book.model.family import FigureKind
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.json_schema import render, schemas
from tests.support.folders import FROZEN


@cache
def catalogue() -> dict[str, FigureKind]:
    """The frozen catalogue, its scalars left as text."""
    files = sorted((FROZEN / "catalogue").glob("*.yaml"))
    texts = {file.stem: file.read_text(encoding="utf-8") for file in files}
    return {name: FigureKind(name, yaml.load(text, yaml.CBaseLoader)) for name, text in texts.items()}


@cache
def frozen_schemas() -> dict[str, dict[str, Any]]:
    """The schema of every kind of file, by its name; ``tests/specs`` holds the committed ones."""
    return {name: json.loads(render(schema)) for name, schema in schemas(catalogue()).items()}


@cache
def validator(kind: str) -> Draft202012Validator:
    """The validator of a kind of file, made once."""
    return Draft202012Validator(frozen_schemas()[kind])


def kind_of(file: str) -> str:
    """The kind of a file by its path below the book's folder."""
    found = kind_and_id(file)
    assert found is not None, file
    return found[0]


def book_files() -> dict[str, str]:
    """Every file of the frozen book as text, by its path below the folder."""
    files = sorted(FROZEN.rglob("*.yaml"))
    return {file.relative_to(FROZEN).as_posix(): file.read_text(encoding="utf-8") for file in files}


def resolve(schema: dict[str, Any], root: dict[str, Any]) -> dict[str, Any]:
    """A schema with its reference followed; what stands beside the reference comes first."""
    while "$ref" in schema:
        name = schema["$ref"].removeprefix("#/$defs/")
        schema = {**root["$defs"][name], **{key: value for key, value in schema.items() if key != "$ref"}}
    return schema


def properties_of(root: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every property of a schema wherever it is described, with a name to tell it by; references stay unfollowed."""
    waiting: list[tuple[str, Any]] = [("", root)]
    while waiting:
        where, here = waiting.pop()
        if isinstance(here, list):
            waiting.extend((where, entry) for entry in here)
        elif isinstance(here, dict):
            for key, value in here.items():
                if key in ("properties", "$defs") and isinstance(value, dict):
                    entries = [(f"{where}/{name}", entry) for name, entry in value.items() if isinstance(entry, dict)]
                    waiting.extend(entries)
                    yield from entries if key == "properties" else ()
                elif key not in ("examples", "enum", "const", "patternProperties"):
                    waiting.append((where, value))
