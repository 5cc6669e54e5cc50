"""Ranges of years and serial numbers, as documents state which engines they are for. Light to import."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

Document = Mapping[str, "Any"]
"""The content of a file: scalars are text, and stay so until they are used."""


def as_list(raw: Any) -> Sequence[Any]:
    """A list as it is; None as an empty list."""
    return raw if isinstance(raw, (list, tuple)) else ()


def part(document: Document, *path: str) -> Any:
    """What stands in a document at a path of keys, or nothing."""
    here: Any = document
    for key in path:
        try:
            here = here[key]
        except (KeyError, TypeError):  # not there, or no mapping
            return None
    return here


def frozen(value: Any) -> Any:
    """A document value as a hashable one: mappings as sorted pairs, lists as tuples."""
    if type(value) is str:  # most are, and testing this first is far quicker
        return value
    if isinstance(value, Mapping):
        return tuple(sorted([(key, frozen(inner)) for key, inner in value.items()]))
    return tuple(map(frozen, value)) if isinstance(value, (list, tuple)) else value


def thawed(value: Any) -> Any:
    """A value from ``frozen`` as a document value again; mappings with sorted keys."""
    if not isinstance(value, tuple):
        return value
    if value and isinstance(value[0], tuple) and isinstance(value[0][0], str):  # a pair, and no mapping in a list
        return {key: thawed(inner) for key, inner in value}
    return [thawed(inner) for inner in value]


@record()
class Range:
    """An inclusive range of years or serial numbers as text; an end that is not given is open."""

    first: str | None
    last: str | None

    @classmethod
    def read(cls, raw: Any) -> Range | None:
        """From ``[1978, 1981]``, ``1978`` or ``{from: .., to: ..}``; None from None."""
        if raw is None:
            return None
        if isinstance(raw, Mapping):
            return cls(raw.get("from"), raw.get("to"))
        if isinstance(raw, (list, tuple)):
            return cls(raw[0], raw[1])
        return cls(raw, raw)

    def __str__(self) -> str:
        if self.first == self.last:
            return str(self.first)
        if self.first is None:
            return f"up to {self.last}"
        return f"{self.first} to {self.last}" if self.last else f"from {self.first}"


@record()
class Fit:
    """The engines that a family or a statement is for: years of make and serial numbers."""

    years: Range | None = None
    serials: Range | None = None
    note: str = ""

    @classmethod
    def read(cls, raw: Document | None) -> Fit | None:
        """From a mapping with ``years`` and ``serials``."""
        if not raw:
            return None
        return cls(Range.read(raw.get("years")), Range.read(raw.get("serials")), raw.get("note", ""))

    def __str__(self) -> str:
        words = []
        if self.years:
            words.append(str(self.years) if self.years.first and self.years.last else f"years {self.years}")
        if self.serials:
            words.append(f"serials {self.serials}")
        return ", ".join(words) or "all"
