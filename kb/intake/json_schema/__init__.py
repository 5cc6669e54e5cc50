"""JSON Schemas for editors and other validators, made from the models and the catalogue.

``python -m kb.intake.json_schema specs schema`` writes them all.

Files import downward in this order: editor_view, one_unit, values, models, figures, __main__.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from kb.book.model.catalogue import in_job_order
from kb.book.model.family import FigureKind
from kb.intake.json_schema.editor_view import Schema
from kb.intake.json_schema.figures import CatalogueAuthor
from kb.intake.models import KINDS

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_WIDTH = 118

_ABOUT = {
    "figure": "A kind of figure: specs/catalogue/<figure>.yaml.",
    "maker": "A maker of engines: specs/makers/<maker>.yaml.",
    "source": "Where statements come from: specs/sources/<source>.yaml.",
    "caution": "Something that can hurt someone: specs/cautions/<caution>.yaml.",
    "routine": "The order of work for one kind of linkage: specs/routines/<routine>.yaml.",
    "family": "Engines that are set by the same figures: specs/families/<maker>/<family>.yaml.",
    "report": "One job on one engine: specs/reports/<maker>/<family>/<date>-<slug>.yaml.",
    "retired": "Retired ids: specs/retired.yaml.",
    "withdrawn": "Statements found wrong: specs/withdrawn.yaml.",
}


def schemas(catalogue: Mapping[str, FigureKind]) -> dict[str, Schema]:
    """A JSON Schema (2020-12) for each kind of file, by its name; figures are in the order of the job."""
    figures = in_job_order(catalogue.values())
    return {name: _schema(name, figures) for name in KINDS}


def _schema(name: str, figures: list[FigureKind]) -> Schema:
    head = {"$schema": DIALECT, "$id": f"urn:stopscrew:schema:{name}", "description": _ABOUT[name]}
    return head | CatalogueAuthor(figures).document(KINDS[name].model)


def render(schema: Any, indent: int = 0) -> str:
    """A schema as text: what fits is on one line, the rest has one entry a line."""
    flat = json.dumps(schema, ensure_ascii=False)
    if indent + len(flat) <= _WIDTH or not isinstance(schema, (dict, list)) or not schema:
        return flat
    inside = " " * (indent + 1)
    if isinstance(schema, dict):
        entries = [f"{json.dumps(key)}: {render(value, indent + 1)}" for key, value in schema.items()]
    else:
        entries = [render(value, indent + 1) for value in schema]
    opening, closing = "{}" if isinstance(schema, dict) else "[]"
    return f"{opening}\n{inside}" + f",\n{inside}".join(entries) + f"\n{' ' * indent}{closing}"


def write(folder: Path, catalogue: Mapping[str, FigureKind]) -> list[Path]:
    """Write every schema into a folder and return the files that changed."""
    changed = []
    for name, schema in schemas(catalogue).items():
        file, text = folder / f"{name}.json", render(schema) + "\n"
        if not file.exists() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")
            changed.append(file)
    return changed
