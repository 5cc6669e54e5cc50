"""Finds the one family that is meant: by id, or by name with a serial number or a year to distinguish families."""

from __future__ import annotations

from kb.book.model.engine_kinds import range_holds_serial, range_holds_year
from kb.errors import FamilyNotFound, FamilyRetired, SerialFitsNone, SeveralFamilies, YearFitsNone

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.book.model.book_reader import BookReader
    from kb.book.model.engine_on_the_stand import EngineOnTheStand
    from kb.book.model.engine_ranges import Fit
    from kb.book.model.family import Family, Heading


def resolve(book: BookReader, family: str, engine: EngineOnTheStand) -> Heading:
    """The one family meant.

    Raises:
        FamilyNotFound: no id and no name is that; candidates are the nearest ids.
        FamilyRetired: the id is retired; candidates are where it went.
        SeveralFamilies: the name fits several, even with the serial number and year; candidates are their ids.
        SerialFitsNone, YearFitsNone: no range holds the serial number or year; candidates are the ranges, or of
            families of one name their ids.
    """
    if heading := book.get_heading(family):
        require_fit(heading.id, heading.fits, engine)
        return heading
    entry = book.retired.get(family)
    if entry and entry["kind"] == "family":
        went = list(entry.get("to", ()))
        where = f"; it is now {' or '.join(went)}" if went else ""
        raise FamilyRetired(f"{family} was retired on {entry['since']}: {entry['because']}{where}", went)
    headings = [found for found in map(book.get_heading, book.named(family)) if found]
    if not headings:
        near = [hit.family for hit in book.find(family, 5)]
        raise FamilyNotFound(f"no family {family!r}" + (f"; did you mean {', '.join(near)}?" if near else ""), near)
    if len(headings) == 1:
        require_fit(headings[0].id, headings[0].fits, engine)
        return headings[0]
    fitting = [found for found in headings if _fits(found, engine)]
    if len(fitting) == 1:
        return fitting[0]
    ids = [found.id for found in fitting or headings]
    ranges = "; ".join(f"{found.id} ({'; '.join(map(str, found.fits)) or 'all'})" for found in fitting or headings)
    if fitting:
        both_known = engine.serial is not None and engine.year is not None
        ask = "give the id" if both_known else "give the id, a serial number or a year"
        raise SeveralFamilies(f"{family!r} is {len(fitting)} families; {ask}: {ranges}", ids)
    kind = SerialFitsNone if engine.serial is not None else YearFitsNone
    raise kind(f"no family {family!r} holds {_words(engine)}: {ranges}", ids)


def require_family(book: BookReader, family: str, engine: EngineOnTheStand) -> Family:
    """The one family with that id or name.

    Raises:
        FamilyNotFound, FamilyRetired, SeveralFamilies, SerialFitsNone, YearFitsNone: as ``resolve``.
    """
    if engine.serial is None and engine.year is None and (found := book.get_family(family)):
        return found
    heading = resolve(book, family, engine)
    if found := book.get_family(heading.id):
        return found
    raise FamilyNotFound(f"no family {heading.id!r}")  # it has been retired since


def _fits(family: Heading, engine: EngineOnTheStand) -> bool:
    try:
        require_fit(family.id, family.fits, engine)
    except (SerialFitsNone, YearFitsNone):
        return False
    return True


def require_fit(family: str, fits: Sequence[Fit], engine: EngineOnTheStand) -> None:
    """Raise unless a family that fits these engines may hold this one.

    Raises:
        SerialFitsNone: no range holds the serial number, or none that holds it is of that year.
        YearFitsNone: no range holds the year.
    """
    ranges = [fit for fit in fits if fit.serials or fit.years]
    if not ranges:
        return
    candidates = [str(fit) for fit in ranges]
    by_serial = [fit for fit in ranges if _holds_serial(fit, engine.serial)]
    by_year = [fit for fit in ranges if _holds_year(fit, engine.year)]
    if not by_serial:
        raise SerialFitsNone(f"no range of {family} holds the serial number {engine.serial}", candidates)
    if not by_year:
        raise YearFitsNone(f"{family} was not made in {engine.year}", candidates)
    if not any(fit in by_year for fit in by_serial):
        raise SerialFitsNone(f"no range of {family} holds {_words(engine)} together", candidates)


def _holds_serial(fit: Fit, serial: str | None) -> bool:
    return serial is None or fit.serials is None or range_holds_serial(fit.serials, serial)


def _holds_year(fit: Fit, year: int | None) -> bool:
    return year is None or fit.years is None or range_holds_year(fit.years, year)


def _words(engine: EngineOnTheStand) -> str:
    words = [f"serial number {engine.serial}"] if engine.serial else []
    return " and ".join([*words, *([f"year {engine.year}"] if engine.year is not None else [])])
