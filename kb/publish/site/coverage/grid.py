"""Pictures of what the book holds. Each standing has a shape, so that they can be read without colour too."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from markupsafe import Markup

from kb.publish.site.coverage.tally import STANDINGS, UNKNOWN, HeldFigures, Tally
from kb.publish.site.family.shared import line

_SHAPES = (
    "h8v8h-8z",
    "h8v8h-8zM{x} {y}m1 1v3h6v-3z",
    "m4 0l4 4l-4 4l-4-4z",
    "l8 8m0-8l-8 8",
    "m1 4h6",
    "m4 3v2",
    "h8v8h-8z",
)
"""The shape of each standing, from the upper left corner of a cell eight wide and high: full, half full, standing on a
corner, crossed out, a stroke, a dot, an empty frame."""
_LABELS, _PITCH, _ROW, _TOP = 128, 10, 14, 158
"""Of the grid: the width for names, the step between figures, the step between families, the height for figures."""
_WIDE, _BAR = 400, 30


def key() -> Markup:
    """The key of the shapes."""
    cell = '<svg class="held" viewBox="-1 -1 10 10" width="16" height="16" aria-hidden="true">'
    made = "".join(f"<li>{cell}{_path(number, [(0, 0)])}</svg>{words}</li>" for number, words in enumerate(STANDINGS))
    return Markup(f'<ul class="held-key">{made}</ul>')


def bars(tally: Tally) -> Markup:
    """One bar for each kind of figure, its parts the numbers of families by standing, surest first."""
    counted, whole, rows = tally.counted(), max(1, len(tally.families)), []
    for place, kind in enumerate(tally.kinds):
        top, left = place * _BAR, 0.0
        rows.append(f'<text x="0" y="{top + 13}">{escape(line(kind.label))}</text>')
        for number in range(len(STANDINGS)):
            wide = _WIDE * counted[kind.id][number] / whole
            if wide:
                rows.append(f'<rect class="b{number}" x="{left:.1f}" y="{top + 17}" width="{wide:.1f}" height="9"/>')
            left += wide
    return Markup(
        f'<svg class="bars" viewBox="-1 0 {_WIDE + 2} {len(tally.kinds) * _BAR}" role="img" '
        f'aria-label="For each figure a bar; the table below has its numbers">{"".join(rows)}</svg>'
    )


def grid(tally: Tally, families: Sequence[HeldFigures]) -> str:
    """A grid of families by figures in the order of the job, with the shape of the standing in each cell."""
    cells: list[list[tuple[int, int]]] = [[] for _ in STANDINGS]
    words = []
    for row, family in enumerate(families):
        y = _TOP + row * _ROW
        words.append(f'<text x="{_LABELS - 6}" y="{y + 8}" text-anchor="end">{escape(_short(family.called))}</text>')
        for column, standing in enumerate(family.standings):
            cells[standing].append((_LABELS + column * _PITCH, y))
    for column, kind in enumerate(tally.kinds):
        x = _LABELS + column * _PITCH + 7
        words.append(f'<text transform="translate({x} {_TOP - 6})rotate(-90)">{escape(line(kind.label))}</text>')
    shapes = "".join(_path(number, places) for number, places in enumerate(cells) if places)
    wide, high = _LABELS + len(tally.kinds) * _PITCH + 4, _TOP + len(families) * _ROW
    return (
        f'<svg class="held grid" viewBox="0 0 {wide} {high}" role="img" aria-label="{len(families)} families by '
        f'{len(tally.kinds)} figures; the table below says the same in words">{"".join(words)}{shapes}</svg>'
    )


def _path(standing: int, places: Sequence[tuple[int, int]]) -> str:
    """All cells of one standing as one path."""
    shape = _SHAPES[standing]
    drawn = "".join(f"M{x} {y}{shape.format(x=x, y=y)}" for x, y in places)
    ink = "frame" if standing == UNKNOWN else f"s{standing}"
    return f'<path class="{ink}" d="{drawn}"/>'


def _short(name: str) -> str:
    return name if len(name) <= 22 else f"{name[:21]}…"
