"""Scalars as text: the pattern of each, and the JSON Schema that says the same to an editor.

The reader leaves every scalar as text: a flag is the text ``true``, a count the text ``3``. An editor's YAML parser
guesses types before it validates, so the schema also admits what the guess makes of the same characters.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Annotated, Any, Literal, cast

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from kb.finding import Path
from kb.quantity import DECIMAL_PATTERN
from kb.vocabulary.words import WordList

_PART = r"[a-z0-9]+(?:-[a-z0-9]+)*"
ID_PATTERN = f"^{_PART}$"
FAMILY_ID_PATTERN = f"^{_PART}/{_PART}$"
ANY_ID_PATTERN = f"^{_PART}(?:/{_PART})?$"
PAGE_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9 .,-]{0,20}$"
SERIAL_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9 ./-]{0,30}$"
YEAR_PATTERN = r"^(?:18|19|20)[0-9]{2}$"
COUNT_PATTERN = r"^[1-9][0-9]{0,4}$"
DATE_PATTERN = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
PLAIN_PATTERN = f"^{DECIMAL_PATTERN}$"
TEXT_PATTERN = r"\S"
LONGEST_TEXT = 600

PATTERN_WORDS: dict[str, str] = {
    TEXT_PATTERN: "text that is not empty",
    ID_PATTERN: "an id of lower-case letters, digits and hyphens, such as skerrow-handbook-3",
    FAMILY_ID_PATTERN: "a family's id, such as skerrow/ketch-47",
    ANY_ID_PATTERN: "an id, such as skerrow/ketch-47 or skerrow-handbook-3",
    PAGE_PATTERN: "a page, such as 42 or 4-12",
    SERIAL_PATTERN: "a serial number of letters and digits, such as 300100 or B 20417",
    YEAR_PATTERN: "a year of four digits, such as 1978",
    COUNT_PATTERN: "a whole number of 1 or more, such as 3",
    DATE_PATTERN: "a date, such as 2026-03-02",
    PLAIN_PATTERN: "plain digits, such as 24 or 0.5",
}
"""What each pattern wants, in words."""


class Document(BaseModel):
    """The base of all models: frozen, without unknown keys, and with no input in its error messages.

    Models only check: what a document says stays in the document, as text.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True, defer_build=True)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """To check a document, and to build nothing of it: that takes half the time."""
        schema: dict[str, Any] = dict(handler.resolve_ref_schema(handler(source)))
        return cast("CoreSchema", {**_checked_only(schema["schema"]), "ref": schema["ref"]})


def _checked_only(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema of a model's fields, and of the checks around them, as that of a mapping that has the same keys."""
    if schema["type"] != "model-fields":
        return {**schema, "schema": _checked_only(schema["schema"])}
    fields = {name: _key(field) for name, field in schema["fields"].items()}
    return {"type": "typed-dict", "fields": fields, "extra_behavior": "forbid"}


def _key(field: dict[str, Any]) -> dict[str, Any]:
    inner = field["schema"]
    required = inner["type"] != "default"
    key = {"type": "typed-dict-field", "schema": inner if required else inner["schema"], "required": required}
    return {**key, "validation_alias": field["validation_alias"]} if "validation_alias" in field else key


def fail(rule: str, path: Path = (), found: str = "", expected: tuple[str, ...] = ()) -> PydanticCustomError:
    """An error that names its rule and the place of the fault inside the value being checked."""
    context: dict[str, Any] = {"rule": rule, "path": path, "found": found, "expected": expected}
    return PydanticCustomError("stopscrew", "{rule}", context)


class Filled(Document):
    """A mapping in which every key is optional, but which must not be empty."""

    @model_validator(mode="before")
    @classmethod
    def _not_empty(cls, data: Any) -> Any:
        if isinstance(data, dict) and not data:
            raise fail("wrong-type", (), "an empty mapping", ("at least one key under it, or delete it",))
        return data


def _date(text: str) -> str:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        raise fail("wrong-type", (), text[:40], ("a date, such as 2026-03-02",)) from None
    return text


@dataclass(frozen=True, slots=True)
class OfCatalogue:
    """Marks an id as a figure's, so that the schema lists the figures."""


@dataclass(frozen=True, slots=True)
class OneOf:
    """Marks text that must be one of a list of words, which pydantic and the schema take from here."""

    words: type[WordList]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """What pydantic holds the text to."""
        return core_schema.literal_schema(list(self.words.words))


def _schema(kind: str, pattern: str, **limits: int) -> WithJsonSchema:
    """The schema of text of this pattern, or of the number that a parser makes of it when it is digits."""
    kinds = ["string", kind] if kind != "string" else "string"
    least = {"minimum": 0, **limits} if kind != "string" else {}  # a pattern applies to text alone
    words = f"write {PATTERN_WORDS[pattern]}"
    return WithJsonSchema({"type": kinds, "pattern": pattern, **least, "patternErrorMessage": words})


Text = Annotated[
    str,
    StringConstraints(pattern=TEXT_PATTERN, max_length=LONGEST_TEXT),
    WithJsonSchema({"type": ["string", "number"], "pattern": TEXT_PATTERN, "maxLength": LONGEST_TEXT}),
]
Id = Annotated[str, StringConstraints(pattern=ID_PATTERN), _schema("integer", ID_PATTERN)]
FigureId = Annotated[Id, OfCatalogue()]
FamilyId = Annotated[str, StringConstraints(pattern=FAMILY_ID_PATTERN), _schema("string", FAMILY_ID_PATTERN)]
AnyId = Annotated[str, StringConstraints(pattern=ANY_ID_PATTERN), _schema("integer", ANY_ID_PATTERN)]
Page = Annotated[str, StringConstraints(pattern=PAGE_PATTERN), _schema("number", PAGE_PATTERN)]
Serial = Annotated[str, StringConstraints(pattern=SERIAL_PATTERN), _schema("number", SERIAL_PATTERN)]
Year = Annotated[
    str, StringConstraints(pattern=YEAR_PATTERN), _schema("integer", YEAR_PATTERN, minimum=1800, maximum=2099)
]
Count = Annotated[
    str, StringConstraints(pattern=COUNT_PATTERN), _schema("integer", COUNT_PATTERN, minimum=1, maximum=99999)
]
Date = Annotated[str, StringConstraints(pattern=DATE_PATTERN), AfterValidator(_date), _schema("string", DATE_PATTERN)]
Plain = Annotated[
    str, StringConstraints(pattern=PLAIN_PATTERN), _schema("number", PLAIN_PATTERN, exclusiveMaximum=10**9)
]
Flag = Annotated[
    Literal["true", "false"], WithJsonSchema({"type": ["boolean", "string"], "pattern": "^(?:true|false)$"})
]
Invented = Annotated[
    Literal["true"] | None,
    Field(None, description="True for invented demonstration data; every answer says so.", examples=[True]),
    WithJsonSchema({"type": "boolean", "const": True}),
]
