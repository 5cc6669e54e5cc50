"""The known facts of a family, one line each: the label that is shown, and the words by which the family is found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Any

from kb.book.find.words import YEARS, name_key, words_of
from kb.book.model.catalogue import Maker
from kb.book.model.engine_ranges import Document, Range, frozen, thawed
from kb.book.model.family import Heading
from kb.book.model.hit import ID, NAME, OLD_ID, OTHER_NAME
from kb.quantity import UNITS, Quantity, read_value
from kb.vocabulary.engine import Layout

_CYLINDERS = {"1": "single", "2": "twin", "3": "triple"}
_SPARKS = {"breaker": ("points",), "capacitor": ("cdi", "cd")}
_COMMON_WORDS = {
    "a",
    "an",
    "the",
    "of",
    "in",
    "on",
    "with",
    "by",
    "for",
    "from",
    "and",
    "or",
    "but",
    "is",
    "are",
    "it",
    "its",
    "to",
    "at",
    "as",
    "that",
    "which",
    "one",
}


@dataclass(frozen=True, slots=True)
class KnownFact:
    """One known fact of a family.

    ``names`` are texts that, typed whole, mean the family, with ``score``. ``seen`` marks what is seen on the engine.
    ``serials`` are ranges of serial numbers, ``old_id`` is a retired id.
    """

    label: str
    words: Sequence[str]
    names: Sequence[str] = ()
    score: int = 0
    seen: bool = False
    serials: Sequence[Range] = ()
    old_id: str = ""


@dataclass(frozen=True, slots=True)
class RetiredIds:
    """The retired ids, and for each family or maker those that were retired in its favour."""

    entries: Mapping[str, Document]
    given_up_for: Mapping[str, Sequence[str]]

    @classmethod
    def read(cls, entries: Mapping[str, Document]) -> RetiredIds:
        """From a book's retired ids; an id whose successor was retired too leads to that one's successor."""
        old: dict[str, list[str]] = {}
        for old_id, entry in sorted(entries.items()):
            waiting, known = list(entry.get("to") or ()), {old_id}
            while waiting:
                new = waiting.pop(0)
                if new not in known:
                    known.add(new)
                    old.setdefault(new, []).append(old_id)
                    waiting += entries[new].get("to") or () if new in entries else ()
        return cls(dict(entries), old)


def lines_of(family: Heading, maker: Maker, retired: RetiredIds) -> list[KnownFact]:
    """All known facts of a family, in the order in which they are shown."""
    return [*_names(family, maker), *_properties(family), *_seen_and_serials(family), *_given_up(family, retired)]


def power_of(family: Heading) -> str:
    """The rated power as printed, or empty."""
    return _power(family)[0]


def years_of(family: Heading) -> str:
    """The years of make as printed, each range once, or empty."""
    return ", ".join(dict.fromkeys(str(fit.years) for fit in family.fits if fit.years))


def _names(family: Heading, maker: Maker) -> Iterator[KnownFact]:
    name, own = family.name, family.id.rpartition("/")[2]
    yield KnownFact(f"name {name}", _with_joined(name), (name, f"{maker.name} {name}", f"{family.maker} {name}"), NAME)
    for called in (maker.name, *maker.also_called):
        aka = "" if called == maker.name else f", also called {called}"
        yield KnownFact(f"maker {maker.name}{aka}", _with_joined(called))
    for called in family.part("also_called") or ():
        yield KnownFact(f"also called {called}", _with_joined(called), (called, f"{maker.name} {called}"), OTHER_NAME)
    short = (own,) if name_key(own) != name_key(name) else ()  # an id that is also a name may mean several families
    yield KnownFact(f"id {family.id}", words_of(family.id), (family.id, *short), ID)


def _with_joined(name: str) -> list[str]:
    """The words of a name; also neighbouring words joined, its letters without blanks, its numbers without points."""
    words = words_of(name)
    letters = [word for word in words if word.isalpha()]
    joined = ["".join(letters)] if len(letters) > 1 else []
    together = [f"~{one}~{other}" for one, other in pairwise(words)]
    return [*words, *together, *joined, *(f"~{word.replace('.', '')}" for word in words if "." in word)]


def _properties(family: Heading) -> Iterator[KnownFact]:
    power, words = _power(family)
    if power:
        yield KnownFact(power, words)
    for held in (fit.years for fit in family.fits if fit.years):
        first, last = int(held.first or YEARS.start), int(held.last or YEARS.stop)
        yield KnownFact(f"made {held}", [f"~{first}~{last}", *(str(year) for year in YEARS if first <= year <= last)])
    cylinders = str(family.part("engine", "cylinders") or "")
    if cylinders:
        in_v = family.part("engine", "layout") == Layout.V
        known_as = [_CYLINDERS[cylinders]] if cylinders in _CYLINDERS else []
        yield KnownFact(
            f"{cylinders} cylinder{'' if cylinders == '1' else 's'}{' in a V' if in_v else ''}",
            [f"~{cylinders}cyl", *known_as, *([f"~v{cylinders}", "v"] if in_v else [])],
        )
    if kind := str(family.part("ignition", "type") or ""):
        parts = kind.split("-")
        yield KnownFact(f"{kind} ignition", [*parts, *(word for part in parts for word in _SPARKS.get(part, ()))])


def _power(family: Heading) -> tuple[str, tuple[str, ...]]:
    raw = family.part("engine", "power")
    return _read_power(frozen(raw)) if raw else ("", ())


@lru_cache(maxsize=4096)
def _read_power(raw: Any) -> tuple[str, tuple[str, ...]]:
    """A power as printed; and its index words, in each unit to the whole number and to one decimal, as it is typed."""
    power = read_value(thawed(raw))
    if not isinstance(power, Quantity):
        return "", ()
    words: dict[str, None] = {}
    for number in power.numbers[: 2 if power.form == "window" else 1]:
        printed = words_of(number.text)[0]
        words |= dict.fromkeys((printed, f"~{printed}{power.unit.key.lower()}"))
        for key in ("hp", "kW", "PS"):
            value = power.unit.convert(number.value, UNITS[key])
            words |= dict.fromkeys(f"~{_rounded(value, parts)}{key.lower()}" for parts in (1, 10))
    return str(power), tuple(words)


def _rounded(value: Fraction, parts: int) -> str:
    whole, part = divmod(int(value * parts + Fraction(1, 2)), parts)
    return f"{whole}.{part}" if part else str(whole)


def _seen_and_serials(family: Heading) -> Iterator[KnownFact]:
    if look_for := " ".join(str(family.part("look_for") or "").split()):
        yield KnownFact(
            f"look for: {look_for}", [word for word in words_of(look_for) if word not in _COMMON_WORDS], seen=True
        )
    for held in (fit.serials for fit in family.fits if fit.serials):
        yield KnownFact(f"serial numbers {held}", (), serials=(held,))


def _given_up(family: Heading, retired: RetiredIds) -> Iterator[KnownFact]:
    for new, kind in ((family.id, "family"), (family.maker, "maker")):
        for old_id in retired.given_up_for.get(new, ()):
            entry = retired.entries[old_id]
            if entry.get("kind", kind) == kind:
                said = " ".join(f"was {old_id} until {entry.get('since', '')}: {entry.get('because', '')}".split())
                names = (old_id, old_id.rpartition("/")[2]) if kind == "family" else ()
                yield KnownFact(said, words_of(old_id), names, OLD_ID, old_id=old_id)
