"""A small builder of SVG: shapes and words on a sheet that is known by its title and description.

Ink is the colour of the text around the drawing and there is no ground, so that it stands on a light page and on a
dark one. Words stay words. What contributors wrote is escaped, and what XML cannot hold is left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree

from kb.publish.drawings.lettering import LINE_HEIGHT, Box, box_of, broken_into_lines

_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_IN_ID = re.compile("[^a-z0-9]+")

Point = tuple[float, float]


def clean(words: str) -> str:
    """Words without the characters that XML cannot hold."""
    return _NOT_IN_XML.sub("\ufffd", words)


def identifier(words: str) -> str:
    """Words as part of an id: small letters, digits and hyphens, a letter first.

    >>> identifier("skerrow/ketch-47")
    'skerrow-ketch-47'
    """
    made = _NOT_IN_ID.sub("-", words.lower()).strip("-")
    return made if made[:1].isalpha() else f"d-{made}".rstrip("-")


def number(value: float) -> str:
    """A coordinate to a ten-thousandth, without needless noughts.

    >>> number(2.50), number(-0.00001)
    ('2.5', '0')
    """
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Picture:
    """A drawing in the making. ``boxes`` are the rooms of all words on it, in the order in which they were written."""

    def __init__(self, prefix: str, width: float, unit: str = "") -> None:
        """``prefix`` begins every id; ``width`` is in the drawing's units, millimetres where ``unit`` says so."""
        self.prefix, self.width, self._unit = identifier(prefix), width, unit
        self.boxes: list[Box] = []
        self._root = ElementTree.Element("svg", {"xmlns": "http://www.w3.org/2000/svg"})
        self._title = self._add("title", {"id": f"{self.prefix}-title"})
        self._description = self._add("desc", {"id": f"{self.prefix}-desc"})
        self._patterns = self._add("defs", {})

    def _add(self, tag: str, attributes: dict[str, str]) -> ElementTree.Element:
        return ElementTree.SubElement(self._root, tag, attributes)

    def pattern(self, name: str, spacing: float, shape: str) -> str:
        """A fill that is told from others without colour; ``shape`` is a path within one spacing."""
        key = f"{self.prefix}-{name}"
        side = number(spacing)
        made = ElementTree.SubElement(
            self._patterns, "pattern", {"id": key, "width": side, "height": side, "patternUnits": "userSpaceOnUse"}
        )
        ElementTree.SubElement(made, "path", {"d": shape, "stroke": "currentColor", "stroke-width": "1.3"})
        return f"url(#{key})"

    def line(self, start: Point, end: Point, thickness: float = 1.0, dashes: str = "", kind: str = "") -> None:
        """A straight line; ``kind`` is its class, by which a program finds it again."""
        (x1, y1), (x2, y2) = start, end
        places = {"x1": number(x1), "y1": number(y1), "x2": number(x2), "y2": number(y2)}
        self._add("line", {**places, **_stroke(thickness, dashes), **_class(kind)})

    def path(self, shape: str, thickness: float = 1.0, *, fill: str = "none", dashes: str = "", kind: str = "") -> None:
        """A path, filled or drawn along its edge; no edge where the thickness is nought."""
        edge = _stroke(thickness, dashes) if thickness else {}
        self._add("path", {"d": shape, "fill": fill, **edge, **_class(kind)})

    def polygon(
        self, corners: Iterable[Point], *, fill: str = "currentColor", kind: str = "", thickness: float = 0.8
    ) -> None:
        """A closed shape with straight sides and a thin edge."""
        shape = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in corners) + "Z"
        self.path(shape, thickness, fill=fill, kind=kind)

    def circle(self, middle: Point, radius: float, thickness: float = 1.0, *, fill: str = "none") -> None:
        """A circle."""
        place = {"cx": number(middle[0]), "cy": number(middle[1]), "r": number(radius), "fill": fill}
        self._add("circle", {**place, **_stroke(thickness, "")})

    def rectangle(
        self, corner: Point, width: float, height: float, *, fill: str = "none", thickness: float = 1.0, kind: str = ""
    ) -> None:
        """An upright rectangle from its upper left corner."""
        place = {"x": number(corner[0]), "y": number(corner[1]), "width": number(width), "height": number(height)}
        self._add("rect", {**place, "fill": fill, **_stroke(thickness, ""), **_class(kind)})

    def text(
        self, place: Point, words: str, size: float, anchor: str = "start", *, bold: bool = False, kind: str = ""
    ) -> Box:
        """A line of type on its baseline; the room that it takes."""
        x, baseline = place
        words = clean(words)
        attributes = {"x": number(x), "y": number(baseline), "font-size": number(size)}
        attributes |= {} if anchor == "start" else {"text-anchor": anchor}
        attributes |= {"font-weight": "bold"} if bold else {}
        self._add("text", {**attributes, **_class(kind)}).text = words
        box = box_of(x, baseline, words, size, anchor, bold=bold)
        self.boxes.append(box)
        return box

    def paragraph(self, place: Point, words: str, size: float, width: float, *, bold: bool = False) -> float:
        """Words broken into lines below each other; the baseline of the line that would come next."""
        x, baseline = place
        for line in broken_into_lines(clean(words), size, width, bold=bold):
            self.text((x, baseline), line, size, bold=bold)
            baseline += size * LINE_HEIGHT
        return baseline

    def finish(self, height: float, title: str, description: str) -> str:
        """The drawing as a document of its own, which may also stand in a page."""
        self._title.text, self._description.text = clean(title), clean(description)
        if not len(self._patterns):
            self._root.remove(self._patterns)
        attributes = {"viewBox": f"0 0 {number(self.width)} {number(height)}"}
        if self._unit:
            attributes |= {"width": f"{number(self.width)}{self._unit}", "height": f"{number(height)}{self._unit}"}
        attributes |= {
            "role": "img", "aria-labelledby": f"{self.prefix}-title {self.prefix}-desc", "font-family": "sans-serif",
            "fill": "currentColor", "stroke-linejoin": "round",
        }  # fmt: skip
        self._root.attrib.update(attributes)
        ElementTree.indent(self._root)
        return ElementTree.tostring(self._root, encoding="unicode") + "\n"


def _stroke(thickness: float, dashes: str) -> dict[str, str]:
    dashed = {"stroke-dasharray": dashes} if dashes else {}
    return {"stroke": "currentColor", "stroke-width": number(thickness), **dashed}


def _class(kind: str) -> dict[str, str]:
    return {"class": kind} if kind else {}
