"""The value keys, for every model that states a value: a statement, a reading in a report, a bound in the catalogue."""

from __future__ import annotations

from functools import partial
from keyword import iskeyword
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema, create_model, model_validator

from kb.errors import NumberNotPlain, QuantityError, WindowInverted
from kb.intake.models.key_help import DESCRIPTIONS, example_of
from kb.intake.models.scalars import Document, fail
from kb.intake.models.value_checks import check_end, check_pair, check_second, check_value
from kb.quantity import VALUE_KEYS, read_value, value_keys

_VALUE_KEYS = frozenset(VALUE_KEYS)


def _value_field(key: str) -> tuple[Any, Any]:
    """The value under a value key; ``kb.intake.json_schema`` gives each key a schema of its own."""
    check = check_end if key in ("from", "to") else partial(check_value, key)
    alias = key if iskeyword(key) else None
    field = Field(None, description=DESCRIPTIONS[key], examples=[example_of(key)], alias=alias)
    return Annotated[Any, BeforeValidator(check), WithJsonSchema({})], field


class _ValueRules(Document):
    """What holds of every model that may have value keys."""

    @model_validator(mode="before")
    @classmethod
    def _whole(cls, data: Any) -> Any:
        if isinstance(data, dict) and ("from" in data or "to" in data):
            cls._check_straddle(data)
        return data

    @classmethod
    def _check_straddle(cls, data: dict[str, Any]) -> None:
        for key, other in (("from", "to"), ("to", "from")):
            if key in data and other not in data and not cls._unknown(data):
                raise fail("missing-key", (), other, (f"{other}: {{{'atdc: 3' if other == 'to' else 'btdc: 2'}}}",))
        if all(isinstance(data.get(key), dict) for key in ("from", "to")):
            try:
                read_value({"from": data["from"], "to": data["to"]})
            except WindowInverted as error:
                raise fail("window-inverted", ("from",), str(error), ("the earlier end under from",)) from None
            except NumberNotPlain:
                pass  # the field's own check reports it at the number
            except QuantityError:
                check_pair(data["from"], data["to"])

    @classmethod
    def _unknown(cls, data: dict[str, Any]) -> bool:
        """Whether there is a key that the model does not have; it is reported first, as it may be the missing one."""
        return not data.keys() <= {field.alias or name for name, field in cls.model_fields.items()}


if TYPE_CHECKING:

    class Valued(_ValueRules):
        """A model that may have any number of value keys: one flat list, so that one mistake gives one fault."""

else:
    Valued = create_model(
        "Valued",
        __base__=_ValueRules,
        **{f"{key}_" if iskeyword(key) else key: _value_field(key) for key in VALUE_KEYS},
    )


class OneValue(Valued):
    """A model that has exactly one value."""

    @model_validator(mode="before")
    @classmethod
    def _whole(cls, data: Any) -> Any:
        """In place of the check of ``Valued``, which it does too: each check costs a call for every statement."""
        if isinstance(data, dict):
            if len(keys := _VALUE_KEYS.intersection(data)) != 1 or "also" in data:
                cls._check_one(data)
            if "from" in keys or "to" in keys:
                cls._check_straddle(data)
        return data

    @classmethod
    def _check_one(cls, data: dict[str, Any]) -> None:
        if data.get("absent"):
            return
        keys = value_keys(data)
        if len(keys) > 1:
            raise fail("two-units", (keys[1],), keys[1], tuple(keys))
        if not keys and not cls._unknown(data):
            raise fail("missing-key", (), "a unit", ("btdc: 24",))
        if keys and isinstance(also := data.get("also"), dict):
            check_second(keys[0], also)
