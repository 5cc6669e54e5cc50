"""Checks of the values under value keys; each fault names its rule and the place inside the value."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic_core import PydanticCustomError

from kb.errors import NumberNotPlain, QuantityError, WindowInverted
from kb.finding import Path
from kb.intake.models.key_help import EXAMPLES
from kb.intake.models.scalars import LONGEST_TEXT, fail
from kb.quantity import CRANK_KEYS, KEY_DIMENSIONS, SIDE_KEYS, UNITS, Dimension, Side, read_number, read_under

PLAIN_WORDS = "plain digits such as 24 or 0.030"
FRACTION_WORDS = f"{PLAIN_WORDS}, or a fraction such as 7/64 or 1 1/4"

_SHAPE = "a number, [smaller, larger], {at_least: n}, {at_most: n} or {nominal: n, plus_minus: m}"
_SHAPES = {
    "tdc": "0; away from top dead centre the key is btdc or atdc",
    "mark": "in words which mark lines up with which",
    "code": "the type or number as printed",
    "order": "a list of cylinder numbers, such as [1, 3, 2]",
    "cranking_earlier": "one number of degrees, such as 2",
    "cranking_later": "one number of degrees, such as 2",
    "by_rpm": "at least two rows, each at a higher speed, such as [{rpm: 1000, cranking_earlier: 1}, "
    "{rpm: 5000, cranking_earlier: 2}]",
}
_SHAPE_KEYS = ("at_least", "at_most", "nominal", "plus_minus", "plus", "minus")
_PISTON_KEYS = ("mm", "in")
_WORDS = ("mark", "code")
_NEVER_CONVERTED = (Dimension.ORDER, Dimension.MARK, Dimension.CODE, Dimension.CORRECTION)


def check_value(key: str, raw: Any) -> Any:
    """Check the value under a value key; the fault it raises names its rule and the place inside the value."""
    try:
        read_under(key, raw)
    except NumberNotPlain:
        raise _plain_fault(key, raw) from None
    except WindowInverted as error:
        inner = (next(iter(raw)),) if isinstance(raw, Mapping) else ()
        raise fail("window-inverted", inner, str(error), (_turned(raw),)) from None
    except QuantityError:
        raise _shape_fault(key, raw) from None
    if key in _WORDS and len(raw) > LONGEST_TEXT:
        raise fail("wrong-type", (), described(raw), (f"at most {LONGEST_TEXT} characters",))
    return raw


def _plain_fault(key: str, raw: Any) -> Exception:
    """The fault at the first number that is not plain, at any depth."""
    for path, text in _scalars(raw):
        unit = UNITS.get(str(path[0])) if path and path[0] in _PISTON_KEYS else UNITS.get(key)
        fractions = bool(unit and unit.fractions)
        signed = bool(unit and unit.signed) and path[-1:] not in (("plus",), ("minus",), ("plus_minus",))
        try:
            read_number(text, fractions=fractions, signed=signed)
        except NumberNotPlain:
            return fail("number-not-plain", path, text[:40], (FRACTION_WORDS if fractions else PLAIN_WORDS,))
    return fail("number-not-plain", (), described(raw), (PLAIN_WORDS,))


def _shape_fault(key: str, raw: Any) -> Exception:
    """The fault of a value that is not a number, window or bound: at its first unknown key, if it has one."""
    if isinstance(raw, Mapping) and key not in _SHAPES:
        piston = _PISTON_KEYS if key in SIDE_KEYS else ()
        for inner in raw:
            if inner not in (*_SHAPE_KEYS, *piston):
                return fail("unknown-key", (inner,), str(inner)[:40], (*piston, *_SHAPE_KEYS))
        units = [inner for inner in raw if inner in piston]
        if len(units) > 1:
            return fail("two-units", (units[1],), units[1], tuple(units))
    return fail("wrong-type", (), described(raw), (_SHAPES.get(key, _SHAPE),))


def _scalars(raw: Any, path: Path = ()) -> list[tuple[Path, str]]:
    if isinstance(raw, str):
        return [(path, raw)]
    inner = raw.items() if isinstance(raw, Mapping) else enumerate(raw) if isinstance(raw, (list, tuple)) else ()
    return [found for key, value in inner for found in _scalars(value, (*path, key))]


@dataclass(frozen=True, slots=True)
class Units:
    """The units of a field that is ``measured``; kept next to the check for the code that writes the schema.

    ``single`` says that it takes one plain number, and no window or bound.
    """

    keys: tuple[str, ...]
    single: bool = False


def measured(units: Units) -> Callable[[Any], Any]:
    """A check for a mapping of exactly one of these units to a value, such as ``{mm: 70}``."""
    keys = units.keys

    def check(raw: Any) -> Any:
        if not isinstance(raw, Mapping):
            raise fail(
                "wrong-type",
                (),
                described(raw),
                (f"a unit with its value, such as {{{keys[0]}: {EXAMPLES[keys[0]]}}}",),
            )
        for key in raw:
            if key not in keys:
                raise fail("unknown-key", (key,), str(key)[:40], keys)
        if not raw:
            raise fail("missing-key", (), "a unit", (f"{keys[0]}: {EXAMPLES[keys[0]]}",))
        if len(raw) > 1:
            raise fail("two-units", (list(raw)[1],), str(list(raw)[1]), keys)
        for key, value in raw.items():
            try:
                check_value(key, value)
            except PydanticCustomError as error:
                context = error.context or {}
                raise fail(context["rule"], (key, *context["path"]), context["found"], context["expected"]) from None
            if units.single and not isinstance(value, str):
                raise fail("wrong-type", (key,), described(value), ("one plain number, such as 2 or 0.5",))
        return raw

    return check


def _turned(raw: Any) -> str:
    texts = [text for _, text in _scalars(raw)]
    return f"[{texts[1]}, {texts[0]}]" if len(texts) == 2 else "the smaller number first"


def described(raw: Any) -> str:
    """A raw value, in words short enough to print."""
    if isinstance(raw, str):
        return repr(raw[:40])
    return "a list" if isinstance(raw, (list, tuple)) else "a mapping" if isinstance(raw, Mapping) else "nothing"


_END = "one side with one number, such as {btdc: 2}"


def check_end(raw: Any) -> Any:
    """Check one end of a straddling window: one side with one number; the model checks the two together."""
    if not isinstance(raw, Mapping) or len(raw) != 1 or next(iter(raw)) not in (*SIDE_KEYS, Side.CENTRE):
        raise fail("wrong-type", (), described(raw), (_END,))
    key = next(iter(raw))
    try:
        check_value(key, raw[key])
    except PydanticCustomError as error:
        context = error.context or {}
        raise fail(context["rule"], (key, *context["path"]), context["found"], context["expected"]) from None
    if len(_scalars(raw)) != 1:
        raise fail("wrong-type", (key,), described(raw[key]), (_END,))
    return raw


def check_pair(early: Any, late: Any) -> None:
    """Report two ends that do not go together; an end that is wrong by itself is left to ``check_end``."""
    try:
        check_end(early)
        check_end(late)
    except PydanticCustomError:
        return
    raise fail("wrong-type", ("to",), described(late), ("both ends in the same unit",))


def check_second(first: str, also: Mapping[str, Any]) -> None:
    """Check that a second unit differs from the first (a crank angle and a piston position share their keys)."""
    if KEY_DIMENSIONS[first] in _NEVER_CONVERTED:
        raise fail("wrong-type", ("also",), f"a second unit of {first}", ("a statement of its own",))
    if first in also and first not in CRANK_KEYS:
        raise fail(
            "wrong-type",
            ("also", first),
            described(also[first]),
            (f"a unit other than {first}, as the page prints it",),
        )
