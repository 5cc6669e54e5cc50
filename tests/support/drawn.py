"""Reading a drawing back: its elements, where they lie, and whether it may stand in a page."""

from __future__ import annotations

import re
from math import atan2, degrees
from xml.etree import ElementTree

from kb.publish.drawings.lettering import Box

SVG = "{http://www.w3.org/2000/svg}"
TAGS = {"svg", "title", "desc", "defs", "pattern", "path", "line", "circle", "rect", "text"}
ATTRIBUTES = {
    "viewBox",
    "width",
    "height",
    "role",
    "aria-labelledby",
    "font-family",
    "fill",
    "stroke-linejoin",
    "id",
    "d",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "class",
    "x",
    "y",
    "x1",
    "x2",
    "y1",
    "y2",
    "cx",
    "cy",
    "r",
    "font-size",
    "text-anchor",
    "font-weight",
    "patternUnits",
}
PAINTS = re.compile(r"none|currentColor|url\(#[a-z0-9-]+\)")


def read(drawing: str) -> ElementTree.Element:
    return ElementTree.fromstring(drawing)


def tag(element: ElementTree.Element) -> str:
    return element.tag.removeprefix(SVG)


def of_class(drawing: str, kind: str) -> list[ElementTree.Element]:
    return [element for element in read(drawing).iter() if element.get("class") == kind]


def number(element: ElementTree.Element, name: str) -> float:
    return float(element.get(name, "nan"))


def texts(drawing: str) -> list[str]:
    return [element.text or "" for element in read(drawing).iter(f"{SVG}text")]


def description(drawing: str) -> str:
    return read(drawing).findtext(f"{SVG}desc") or ""


def clockwise_of_pointer(middle: tuple[float, float], x: float, y: float) -> float:
    """How far clockwise of the lowest point of a circle a place lies, in degrees from -180 to 180."""
    return degrees(atan2(middle[0] - x, y - middle[1]))


def require_fit_for_a_page(drawing: str) -> None:
    """Only known elements and attributes, no colour, no reference but to its own ids, a name and a description."""
    root = read(drawing)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert root.get("role") == "img"
    named = (root.get("aria-labelledby") or "").split()
    assert [tag(child) for child in root][:2] == ["title", "desc"]
    assert named == [child.get("id") for child in root][:2]
    assert all(child.text for child in root[:2])
    for element in root.iter():
        assert tag(element) in TAGS
        assert set(element.attrib) <= ATTRIBUTES
        for paint in ("fill", "stroke"):
            value = element.get(paint, "none")
            assert PAINTS.fullmatch(value), f"{value} is a colour of its own"
            if value.startswith("url("):
                assert value[5:-1] in ids
        if tag(element) != "text":
            assert not (element.text or "").strip() or tag(element) in ("title", "desc")
    assert root.get("font-family") == "sans-serif"


def overlapping(boxes: list[Box]) -> list[tuple[str, str]]:
    """Every two labels that have room in common."""
    return [(one.words, other.words) for at, one in enumerate(boxes) for other in boxes[:at] if one.overlaps(other)]
