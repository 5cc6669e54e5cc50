"""The rows of a page document that hold for an engine, as far as it is known. Like a look-up it never picks the first
of several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from kb.book.lookup.which_family import require_fit
from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.book.model.engine_ranges import Fit
from kb.errors import SerialFitsNone
from kb.vocabulary.evidence import HowSure

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import PageDocument, PageFigure, PageRow, Shown

_ONE_KIND = (0,)
_UNPUBLISHED: PageRow = {"state": "", "statements": [], "printed": "no figure published"}


class EngineRow(NamedTuple):
    """A row that holds for some of the engines only: which, in words; the row; and the numbers of their kinds."""

    engines: str
    row: PageRow
    kinds: frozenset[int]


class FigureRows(NamedTuple):
    """A figure in one state under some conditions: its row, or where it depends on the engine the row of each kind.

    ``statements`` are those of all rows with the same answer, as in the page document; ``kinds`` the numbers of the
    kinds of engine asked about.
    """

    figure: str
    row: PageRow
    statements: Sequence[Shown]
    depends: Sequence[EngineRow] = ()
    kinds: frozenset[int] = frozenset(_ONE_KIND)


def figure_rows(page: PageDocument, figure: PageFigure, serial: str = "") -> Iterator[FigureRows]:
    """The figure's rows for an engine of that serial number, or without one for any.

    Raises:
        SerialFitsNone: no range of the family holds the serial number.
    """
    kinds = kinds_of(page, figure, serial)
    rows = figure["rows"]
    if "kinds" not in figure and len({(row["state"], row.get("conditions", "")) for row in rows}) == len(rows):
        for row in rows:
            yield FigureRows(figure["id"], row, row["statements"])
        return
    groups: dict[tuple[str, str], list[tuple[int, PageRow]]] = {}
    for row in rows:
        for kind in kinds.intersection(row.get("in", kinds)):
            groups.setdefault((row["state"], row.get("conditions", "")), []).append((kind, row))
    for pairs in groups.values():
        yield _figure_rows(figure, kinds, pairs)


def _figure_rows(figure: PageFigure, kinds: frozenset[int], pairs: Sequence[tuple[int, PageRow]]) -> FigureRows:
    rows = list({id(row): row for _, row in pairs}.values())
    if len({_answer_key(row) for row in rows}) == 1 and {kind for kind, _ in pairs} == kinds:
        weakest = max(rows, key=_weakness)
        return FigureRows(figure["id"], weakest, _all_statements(weakest, rows), (), kinds)
    held = [(frozenset(kind for kind, one in pairs if one is row), row) for row in rows]
    depends = [EngineRow(_kind_words(figure, own), row, own) for own, row in held]
    if missing := kinds - {kind for kind, _ in pairs}:
        depends.append(EngineRow(_kind_words(figure, missing), {**_UNPUBLISHED, "state": rows[0]["state"]}, missing))
    return FigureRows(figure["id"], rows[0], _all_statements(rows[0], rows), depends, kinds)


def kinds_of(page: PageDocument, figure: PageFigure, serial: str) -> frozenset[int]:
    """The kinds of engine, of those that a figure distinguishes, that an engine of a serial number may be.

    Raises:
        SerialFitsNone: no range of the family holds the serial number.
    """
    held = figure["kinds"] if "kinds" in figure else [list[int]()]
    if not serial:
        return frozenset(range(len(held)))
    fits = [fit for fit in map(Fit.read, page["fits"]) if fit]
    engine = EngineOnTheStand(serial)
    require_fit(page["id"], fits, engine)
    if "parts" not in figure:
        return frozenset(range(len(held)))
    parts = [part for part in map(Fit.read, figure["parts"]) if part]
    may_be = {frozenset(parts.index(part) for part in kind) for kind in engine_kinds(fits, parts, engine)}
    return frozenset(number for number, kind in enumerate(held) if frozenset(kind) in may_be)


def was_one_of(page: PageDocument, figure: PageFigure, serial: str, kinds: frozenset[int]) -> bool:
    """Whether an engine of that serial number, or one without a noted number, was certainly of these kinds."""
    if "kinds" not in figure:
        return True
    try:
        return kinds_of(page, figure, serial) <= kinds
    except SerialFitsNone:
        return False


def _answer_key(row: PageRow) -> tuple[str, str]:
    return row.get("problem", ""), row.get("printed", "")


def _weakness(row: PageRow) -> tuple[int, int]:
    if "problem" in row:
        return 0, 0
    rests_on = row.get("rests_on")
    return HowSure.words.index(row["standing"]), HowSure.words.index(rests_on) if rests_on else 0


def _all_statements(first: PageRow, rows: Sequence[PageRow]) -> list[Shown]:
    found = {one[0]: one for one in first["statements"]}
    for row in rows:
        for one in row["statements"]:
            found.setdefault(one[0], one)
    return list(found.values())


def _kind_words(figure: PageFigure, kinds: frozenset[int]) -> str:
    """The engines of these kinds in words: the parts of the family that hold them, or "all others"."""
    parts = {part for kind in kinds for part in figure["kinds"][kind]}
    words = [str(Fit.read(figure["parts"][part])) for part in sorted(parts)]
    return " and ".join(words) or "all others"
