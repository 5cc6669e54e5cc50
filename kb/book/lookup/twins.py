"""Twins: families of one maker under one name. Years, serial numbers and what to look for tell them apart."""

from __future__ import annotations

from kb.book.model.engine_ranges import Range

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

    from kb.book.model.book_reader import BookReader
    from kb.book.model.family import Heading


def twins_of(book: BookReader, family: Heading) -> list[Heading]:
    """The other families of the same maker and name, by id; empty for most."""
    maker = book.makers.get(family.maker)
    name = f"{maker.name} {family.name}" if maker else family.name
    others = (book.get_heading(key) for key in book.named(name) if key != family.id)
    return [other for other in others if other and other.maker == family.maker]


def made_words(family: Heading) -> str:
    """Years and serial numbers in words, each range once: ``1978 to 1984, serials PS11000 to PS29999``."""
    years = _once(fit.years for fit in family.fits)
    serials = _once(fit.serials for fit in family.fits)
    return ", ".join([*years, *([f"serials {', '.join(serials)}"] if serials else [])])


def told_apart_words(family: Heading) -> str:
    """All that tells a family from its twins: years, serial numbers, what to look for; empty if nothing is known."""
    look_for = " ".join(str(family.part("look_for") or "").split())
    return "; ".join(filter(None, (made_words(family), f"look for {look_for}" if look_for else "")))


def apart_lines(book: BookReader, family: Heading) -> list[str]:
    """What tells a family from its twins, and then a line for each of them; none without twins."""
    twins = twin_lines(book, family)
    return [told_apart_words(family), *twins] if twins else []


def twin_lines(book: BookReader, family: Heading) -> list[str]:
    """A line for each twin of a family: its id, and what tells it apart."""
    return [
        f"not to be taken for {other.id}: {told_apart_words(other) or 'the book does not say how to recognise it'}"
        for other in twins_of(book, family)
    ]


def _once(ranges: Iterable[Range | None]) -> list[str]:
    """The ranges in words, each once; of those that meet, as 1 to 9 and 10 to 19, the whole."""
    joined: list[Range] = []
    for held in dict.fromkeys(filter(None, ranges)):
        if joined and _meet(joined[-1], held):
            joined[-1] = Range(joined[-1].first, held.last)
        else:
            joined.append(held)
    return list(map(str, joined))


def _meet(one: Range, other: Range) -> bool:
    last, first = one.last or "", other.first or ""
    return last.isdecimal() and first.isdecimal() and int(first) - int(last) == 1
