"""The value keys, for every model that states a value: a statement, a reading in a report, a bound in the catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, model_validator

from kb.errors import NumberNotPlain, QuantityError, WindowInverted
from kb.intake.models.key_help import DESCRIPTIONS, EXAMPLES
from kb.intake.models.scalars import Document, fail
from kb.intake.models.value_checks import check_end, check_pair, check_second, check_value
from kb.quantity import read_value, value_keys


def _check_field(raw: Any, info: ValidationInfo) -> Any:
    key = str(info.field_name).rstrip("_")
    return check_end(raw) if key in ("from", "to") else check_value(key, raw)


def _key(key: str) -> Any:
    alias = key if key in ("from", "in") else None
    return Field(None, description=DESCRIPTIONS[key], examples=[EXAMPLES[key]], alias=alias)


Shape = Annotated[Any, BeforeValidator(_check_field), WithJsonSchema({})]
"""The value under a value key; ``kb.intake.json_schema`` gives each key a schema of its own."""


class Valued(Document):
    """A model that may have any number of value keys. They are one flat list, so that one mistake gives one fault."""

    btdc: Shape = _key("btdc")
    atdc: Shape = _key("atdc")
    tdc: Shape = _key("tdc")
    from_: Shape = _key("from")
    to: Shape = _key("to")
    deg: Shape = _key("deg")
    mm: Shape = _key("mm")
    in_: Shape = _key("in")
    m: Shape = _key("m")
    ft: Shape = _key("ft")
    rpm: Shape = _key("rpm")
    kW: Shape = _key("kW")
    hp: Shape = _key("hp")
    PS: Shape = _key("PS")
    kPa: Shape = _key("kPa")
    bar: Shape = _key("bar")
    psi: Shape = _key("psi")
    kgf_cm2: Shape = _key("kgf_cm2")
    Nm: Shape = _key("Nm")
    lbf_ft: Shape = _key("lbf_ft")
    lbf_in: Shape = _key("lbf_in")
    kgf_m: Shape = _key("kgf_m")
    cm3: Shape = _key("cm3")
    mL: Shape = _key("mL")
    L: Shape = _key("L")
    us_gal: Shape = _key("us_gal")
    imp_gal: Shape = _key("imp_gal")
    us_fl_oz: Shape = _key("us_fl_oz")
    imp_fl_oz: Shape = _key("imp_fl_oz")
    V: Shape = _key("V")
    to_one: Shape = _key("to_one")
    turns: Shape = _key("turns")
    s: Shape = _key("s")
    ms: Shape = _key("ms")
    us: Shape = _key("us")
    min: Shape = _key("min")
    h: Shape = _key("h")
    degC: Shape = _key("degC")
    degF: Shape = _key("degF")
    delta_degC: Shape = _key("delta_degC")
    delta_degF: Shape = _key("delta_degF")
    mark: Shape = _key("mark")
    code: Shape = _key("code")
    order: Shape = _key("order")
    cranking_earlier: Shape = _key("cranking_earlier")
    cranking_later: Shape = _key("cranking_later")
    by_rpm: Shape = _key("by_rpm")

    @model_validator(mode="before")
    @classmethod
    def _straddle(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and ("from" in data or "to" in data):
            for key, other in (("from", "to"), ("to", "from")):
                if key in data and other not in data and not cls._unknown(data):
                    raise fail("missing-key", (), other, (f"{other}: {{{'atdc: 3' if other == 'to' else 'btdc: 2'}}}",))
            if all(isinstance(data.get(key), Mapping) for key in ("from", "to")):
                try:
                    read_value({"from": data["from"], "to": data["to"]})
                except WindowInverted as error:
                    raise fail("window-inverted", ("from",), str(error), ("the earlier end under from",)) from None
                except NumberNotPlain:
                    pass  # the field's own check reports it at the number
                except QuantityError:
                    check_pair(data["from"], data["to"])
        return data

    @classmethod
    def _unknown(cls, data: Mapping[str, Any]) -> bool:
        """Whether there is a key that the model does not have; it is reported first, as it may be the missing one."""
        return not data.keys() <= {field.alias or name for name, field in cls.model_fields.items()}


class OneValue(Valued):
    """A model that has exactly one value."""

    @model_validator(mode="before")
    @classmethod
    def _exactly_one(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and not data.get("absent"):
            keys = value_keys(data)
            if len(keys) > 1:
                raise fail("two-units", (keys[1],), keys[1], tuple(keys))
            if not keys and not cls._unknown(data):
                raise fail("missing-key", (), "a unit", ("btdc: 24",))
            if keys and isinstance(also := data.get("also"), Mapping):
                check_second(keys[0], also)
        return data
