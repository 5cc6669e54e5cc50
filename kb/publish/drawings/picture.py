"""A small builder of SVG: shapes and text in a drawing with a title and a description.

Ink is the colour of the text around the drawing and the background is transparent, so that it suits a light page and a
dark one. Text stays text. What contributors wrote is escaped, and characters that XML cannot hold are left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from kb.publish.drawings.lettering import LINE_HEIGHT, Box, box_of, broken_into_lines

_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_IN_ID = re.compile("[^a-z0-9]+")

Point = tuple[float, float]


def clean(words: str) -> str:
    """Words without the characters that XML cannot hold."""
    return _NOT_IN_XML.sub("\ufffd", words)


def identifier(words: str) -> str:
    """Words as part of an id: lower-case letters, digits and hyphens, a letter first.

    >>> identifier("skerrow/ketch-47")
    'skerrow-ketch-47'
    """
    made = _NOT_IN_ID.sub("-", words.lower()).strip("-")
    return made if made[:1].isalpha() else f"d-{made}".rstrip("-")


@lru_cache(maxsize=8192)
def number(value: float) -> str:
    """A coordinate to a ten-thousandth, without trailing zeros.

    >>> number(2.50), number(-0.00001)
    ('2.5', '0')
    """
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def points(corners: Iterable[Point], end: str = "") -> str:
    """A path along straight lines through these points."""
    return "M" + "L".join([f"{number(x)} {number(y)}" for x, y in corners]) + end


class Picture:
    """A drawing in the making.

    ``shapes`` are the SVG elements in the order drawn. They are text from the start: a tree of elements would take
    several times as long, and a site has ten thousand drawings.
    """

    def __init__(self, prefix: str, width: float, unit: str = "") -> None:
        """``prefix`` begins every id; ``width`` is in the drawing's units, millimetres where ``unit`` says so."""
        self.prefix, self.width, self._unit = identifier(prefix), width, unit
        self._lines: list[tuple[float, float, str, float, str, bool]] = []
        self._patterns: list[str] = []
        self.shapes: list[str] = []

    def pattern(self, name: str, spacing: float, shape: str) -> str:
        """A fill that differs from others without colour; ``shape`` is a path within one spacing."""
        key, side = f"{self.prefix}-{name}", number(spacing)
        self._patterns += (
            f'    <pattern id="{key}" width="{side}" height="{side}" patternUnits="userSpaceOnUse">',
            f'      <path d="{shape}" stroke="currentColor" stroke-width="1.3" />',
            "    </pattern>",
        )
        return f"url(#{key})"

    def line(self, start: Point, end: Point, thickness: float = 1.0, dashes: str = "", kind: str = "") -> None:
        """A straight line; ``kind`` is its class, by which a program finds it again."""
        self.shapes.append(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" y2="{number(end[1])}"'
            f"{_stroke(thickness, dashes)}{_class(kind)} />"
        )

    def path(self, shape: str, thickness: float = 1.0, *, fill: str = "none", dashes: str = "", kind: str = "") -> None:
        """A path, filled or drawn along its edge; no edge where the thickness is 0."""
        edge = _stroke(thickness, dashes) if thickness else ""
        self.shapes.append(f'<path d="{shape}" fill="{_attribute(fill)}"{edge}{_class(kind)} />')

    def polygon(
        self, corners: Iterable[Point], *, fill: str = "currentColor", kind: str = "", thickness: float = 0.8
    ) -> None:
        """A closed shape with straight sides and a thin edge."""
        self.path(points(corners, "Z"), thickness, fill=fill, kind=kind)

    def circle(self, middle: Point, radius: float, thickness: float = 1.0, *, fill: str = "none") -> None:
        """A circle."""
        self.shapes.append(
            f'<circle cx="{number(middle[0])}" cy="{number(middle[1])}" r="{number(radius)}" '
            f'fill="{_attribute(fill)}"{_stroke(thickness, "")} />'
        )

    def rectangle(
        self, corner: Point, width: float, height: float, *, fill: str = "none", thickness: float = 1.0, kind: str = ""
    ) -> None:
        """An upright rectangle from its upper left corner."""
        self.shapes.append(
            f'<rect x="{number(corner[0])}" y="{number(corner[1])}" width="{number(width)}" height="{number(height)}" '
            f'fill="{_attribute(fill)}"{_stroke(thickness, "")}{_class(kind)} />'
        )

    def text(
        self, place: Point, words: str, size: float, anchor: str = "start", *, bold: bool = False, kind: str = ""
    ) -> None:
        """A line of text on its baseline."""
        self._line_of_type(place, clean(words), size, anchor, bold, kind)

    def paragraph(self, place: Point, words: str, size: float, width: float, *, bold: bool = False) -> float:
        """Draw words broken into lines; returns the baseline of the line that would come next."""
        x, baseline = place
        for line in broken_into_lines(clean(words), size, width, bold=bold):
            self._line_of_type((x, baseline), line, size, "start", bold, "")
            baseline += size * LINE_HEIGHT
        return baseline

    def _line_of_type(self, place: Point, words: str, size: float, anchor: str, bold: bool, kind: str) -> None:
        x, baseline = place
        where = "" if anchor == "start" else f' text-anchor="{anchor}"'
        weight = ' font-weight="bold"' if bold else ""
        head = f'<text x="{number(x)}" y="{number(baseline)}" font-size="{number(size)}"{where}{weight}{_class(kind)}'
        self.shapes.append(f"{head}>{_content(words)}</text>" if words else f"{head} />")
        self._lines.append((x, baseline, words, size, anchor, bold))

    @property
    def boxes(self) -> list[Box]:
        """The boxes of all words in the drawing, in the order in which they were written."""
        return [
            box_of(x, baseline, words, size, anchor, bold=bold)
            for x, baseline, words, size, anchor, bold in self._lines
        ]

    def finish(self, height: float, title: str, description: str) -> str:
        """The drawing as an SVG document, which can also be put into a page."""
        wide, high = number(self.width), number(height)
        size = f' width="{wide}{self._unit}" height="{high}{self._unit}"' if self._unit else ""
        patterns = ["  <defs>", *self._patterns, "  </defs>"] if self._patterns else []
        return "\n".join(
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}"{size} role="img" '
                f'aria-labelledby="{self.prefix}-title {self.prefix}-desc" font-family="sans-serif" '
                'fill="currentColor" stroke-linejoin="round">',
                f'  <title id="{self.prefix}-title">{_content(clean(title))}</title>',
                f'  <desc id="{self.prefix}-desc">{_content(clean(description))}</desc>',
                *patterns,
                *[f"  {shape}" for shape in self.shapes],
                "</svg>\n",
            )
        )


def _content(words: str) -> str:
    """Words escaped for use between tags."""
    if "&" in words:
        words = words.replace("&", "&amp;")
    if "<" in words or ">" in words:
        words = words.replace("<", "&lt;").replace(">", "&gt;")
    return words


@lru_cache(maxsize=1024)
def _attribute(words: str) -> str:
    """Words escaped for an attribute. Cached: drawings repeat the same few."""
    return _content(clean(words)).replace('"', "&quot;")


@lru_cache(maxsize=1024)
def _stroke(thickness: float, dashes: str) -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f' stroke="currentColor" stroke-width="{number(thickness)}"{dashed}'


def _class(kind: str) -> str:
    return f' class="{_attribute(kind)}"' if kind else ""
