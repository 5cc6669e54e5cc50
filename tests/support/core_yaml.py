"""YAML as an editor takes it: the core schema of YAML 1.2, where numbers, truth values and null are guessed and all
else, dates too, is text."""

from __future__ import annotations

import re
from typing import Any

import yaml


class CoreLoader(yaml.CSafeLoader):
    """The loader; its table of guesses is filled below."""


CoreLoader.yaml_implicit_resolvers = {}  # none of those of YAML 1.1

_GUESSES = (
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", list("-+0123456789")),
    (
        "float",
        r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)",
        list("-+0123456789."),
    ),
)
for _kind, _pattern, _first in _GUESSES:
    CoreLoader.add_implicit_resolver(f"tag:yaml.org,2002:{_kind}", re.compile(rf"(?:{_pattern})\Z"), _first)


def _integer(loader: CoreLoader, node: yaml.ScalarNode) -> int:
    text = node.value
    return int(text, 0) if text[:2] in ("0o", "0x") else int(text)


def _float(loader: CoreLoader, node: yaml.ScalarNode) -> float:
    return float(node.value.replace(".inf", "inf").replace(".nan", "nan"))


def _mapping(loader: CoreLoader, node: yaml.MappingNode) -> dict[str, Any]:
    """Keys are text, as they are in JSON, whatever they look like."""
    return {
        key.value if isinstance(key, yaml.ScalarNode) else "?": loader.construct_object(value, deep=True)
        for key, value in node.value
    }


CoreLoader.add_constructor("tag:yaml.org,2002:map", _mapping)
CoreLoader.add_constructor("tag:yaml.org,2002:int", _integer)
CoreLoader.add_constructor("tag:yaml.org,2002:float", _float)


def guess(text: str) -> str:
    """What an unquoted text is taken for: null, bool, int, float or str."""
    return next((kind for kind, pattern, _ in _GUESSES if re.fullmatch(pattern, text)), "str")


def load(text: str) -> Any:
    """The one document of a text.

    Raises:
        yaml.YAMLError: it is no YAML.
    """
    return yaml.load(text, CoreLoader)
