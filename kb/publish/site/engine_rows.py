"""Which rows of a page document hold for an engine, as far as it is known; like a look-up, and never the first of
several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from kb.book.answer import STRENGTHS
from kb.book.engines import Engine, engine_kinds
from kb.book.fits import Document, Fit
from kb.book.resolve import require_fit


class Told(NamedTuple):
    """A figure in one state under some conditions: the row, or where it depends on the engine each kind's own row.

    ``statements`` are those of every row that says the same, as in the page document.
    """

    figure: str
    row: Document
    statements: Sequence[Sequence[Any]]
    depends: Sequence[tuple[str, Document]] = ()


def told_figures(page: Document, figure: Document, serial: str = "") -> Iterator[Told]:
    """The figure's rows for an engine of that serial number, or without one for any.

    Raises:
        SerialFitsNone: no range of the family holds the serial number.
    """
    kinds = _kinds(page, figure, serial)
    groups: dict[str, list[tuple[int, Document]]] = {}
    for row in figure["rows"]:
        held = [kind for kind in row.get("in", range(len(figure.get("kinds", (0,))))) if kind in kinds]
        for kind in held:
            groups.setdefault(f"{row['state']} {row.get('conditions', '')}", []).append((kind, row))
    for told in groups.values():
        rows = list({id(row): row for _, row in told}.values())
        if len({_gist(row) for row in rows}) == 1 and {kind for kind, _ in told} == set(kinds):
            weakest = max(rows, key=_weakness)
            yield Told(figure["id"], weakest, _all_statements(weakest, rows))
        else:
            depends = [(_kind_words(figure, [kind for kind, one in told if one is row]), row) for row in rows]
            missing = sorted(set(kinds) - {kind for kind, _ in told})
            if missing:
                depends.append((_kind_words(figure, missing), {"printed": "nothing said", "statements": []}))
            yield Told(figure["id"], rows[0], _all_statements(rows[0], rows), depends)


def _kinds(page: Document, figure: Document, serial: str) -> Sequence[int]:
    held = figure.get("kinds", [[]])
    fits = [fit for fit in map(Fit.read, page["fits"]) if fit]
    engine = Engine(serial or None)
    if serial:
        require_fit(page["id"], fits, engine)
    if not serial or "parts" not in figure:
        return range(len(held))
    parts = [part for part in map(Fit.read, figure["parts"]) if part]
    may_be = {frozenset(parts.index(part) for part in kind) for kind in engine_kinds(fits, parts, engine)}
    return [number for number, kind in enumerate(held) if frozenset(kind) in may_be]


def _gist(row: Document) -> tuple[str, str]:
    return row.get("problem", ""), row.get("printed", "")


def _weakness(row: Document) -> tuple[int, int]:
    if "problem" in row:
        return 0, 0
    rests_on = row.get("rests_on")
    return STRENGTHS.index(row["standing"]), STRENGTHS.index(rests_on) if rests_on else 0


def _all_statements(first: Document, rows: Sequence[Document]) -> list[Sequence[Any]]:
    found = {one[0]: one for one in first["statements"]}
    for row in rows:
        for one in row["statements"]:
            found.setdefault(one[0], one)
    return list(found.values())


def _kind_words(figure: Document, kinds: Sequence[int]) -> str:
    """Which engines, in words: the parts that hold these kinds, or all others."""
    parts = {part for kind in kinds for part in figure["kinds"][kind]}
    words = [str(Fit.read(figure["parts"][part])) for part in sorted(parts)]
    return " and ".join(words) or "all others"
