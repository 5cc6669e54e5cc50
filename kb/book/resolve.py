"""From what was typed to one family: by id, or by name with a serial number or a year to tell families apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.engines import Engine, range_holds_serial, range_holds_year
from kb.book.records import Family
from kb.errors import FamilyNotFound, FamilyRetired, SerialFitsNone, SeveralFamilies, YearFitsNone

if TYPE_CHECKING:
    from kb.book.book import Book


def resolve(book: Book, family: str, *, serial: str | int | None = None, year: int | None = None) -> Family:
    """The one family meant.

    Raises:
        FamilyNotFound: no id and no name is that; candidates are the nearest ids.
        FamilyRetired: the id was given up; candidates are where it went.
        SeveralFamilies: the name fits several, even with the serial number and year.
        SerialFitsNone, YearFitsNone: no range holds the serial number or year.
    """
    engine = Engine(None if serial is None else str(serial), year)
    if heading := book.get_heading(family):
        _require_fit(heading, engine)
        return heading
    if entry := book.retired.get(family):
        went = list(entry.get("to", ()))
        where = f"; it is now {' or '.join(went)}" if went else ""
        raise FamilyRetired(f"{family} was given up on {entry['since']}: {entry['because']}{where}", went)
    headings = [found for found in map(book.get_heading, book.named(family)) if found]
    if not headings:
        near = [hit.family for hit in book.find(family, 5)]
        raise FamilyNotFound(f"no family {family!r}" + (f"; did you mean {', '.join(near)}?" if near else ""), near)
    fitting = [found for found in headings if _fits(found, engine)]
    if len(fitting) == 1:
        return fitting[0]
    ids = [f"{found.id} ({'; '.join(map(str, found.fits)) or 'all'})" for found in fitting or headings]
    if fitting:
        raise SeveralFamilies(f"{family!r} is {len(fitting)} families; say the id, a serial number or a year", ids)
    if len(headings) == 1:
        _require_fit(headings[0], engine)
    raise SerialFitsNone(f"no family {family!r} holds {_words(engine)}", ids)


def _fits(family: Family, engine: Engine) -> bool:
    try:
        _require_fit(family, engine)
    except (SerialFitsNone, YearFitsNone):
        return False
    return True


def _require_fit(family: Family, engine: Engine) -> None:
    ranges = [fit for fit in family.fits if fit.serials or fit.years]
    if not ranges:
        return
    candidates = [str(fit) for fit in ranges]
    if engine.serial is not None and all(
        fit.serials and not range_holds_serial(fit.serials, engine.serial) for fit in ranges
    ):
        raise SerialFitsNone(f"no range of {family.id} holds the serial number {engine.serial}", candidates)
    if engine.year is not None and all(fit.years and not range_holds_year(fit.years, engine.year) for fit in ranges):
        raise YearFitsNone(f"{family.id} was not made in {engine.year}", candidates)
    if not any(
        (engine.serial is None or not fit.serials or range_holds_serial(fit.serials, engine.serial))
        and (engine.year is None or not fit.years or range_holds_year(fit.years, engine.year))
        for fit in ranges
    ):
        raise SerialFitsNone(f"no range of {family.id} holds {_words(engine)} together", candidates)


def _words(engine: Engine) -> str:
    words = [f"serial number {engine.serial}"] if engine.serial else []
    return " and ".join([*words, *([f"year {engine.year}"] if engine.year else [])])
