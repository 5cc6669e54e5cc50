"""Reading pages made from the book: the cautions, and the catalogue of figures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from kb.book.book import Book
from kb.book.model.catalogue import FigureKind
from kb.publish.site.chapters import WrittenPage
from kb.publish.site.coverage.tally import STANDINGS, UNKNOWN, Tally
from kb.publish.site.family.shared import line
from kb.quantity import UNITS, read_value
from kb.vocabulary.catalogue import AimPoint, HazardTier, SafestEnd
from kb.vocabulary.work import CautionSeverity

_HAZARDS = {
    HazardTier.A: "if wrong, it can wreck the engine or hurt someone",
    HazardTier.B: "if wrong, it runs badly or is unsafe to handle",
    HazardTier.C: "if wrong, it costs time",
}
_AIMS = {
    AimPoint.LATE_END: "Where a window is printed, its late end is aimed at",
    AimPoint.EARLY_END: "Where a window is printed, its early end is aimed at",
    AimPoint.MIDDLE: "Where a window is printed, its middle is aimed at",
}
_UNITS = {
    "btdc": "degrees or piston travel before top dead centre",
    "atdc": "degrees or piston travel after it",
    "tdc": "top dead centre itself",
    "mark": "a mark, in words",
    "code": "a maker's code, as printed",
    "cranking_earlier": "degrees that it reads earlier while cranking than running",
    "cranking_later": "degrees that it reads later while cranking",
    "by_rpm": "a table of either by engine speed",
}
_MOST = 60
"""The most families of a figure that are listed by name; of more, numbers by maker are given."""


def environment_of(theme: Path) -> Environment:
    """The templates of the reading pages that are not written by hand; everything is escaped."""
    made = Environment(loader=FileSystemLoader(theme), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    made.filters["line"] = line
    return made


def caution_page(environment: Environment, book: Book) -> WrittenPage:
    """The page of every caution, the gravest first, with its source."""
    cautions = sorted(book.cautions.items(), key=lambda one: (CautionSeverity.words.index(one[1]["severity"]), one[0]))
    body = environment.get_template("cautions.html").render(cautions=cautions)
    return WrittenPage("read/cautions/", "Cautions", body)


def catalogue_pages(environment: Environment, book: Book, tally: Tally) -> Iterator[WrittenPage]:
    """The list of the kinds of figure in the order of the job, and a page for each."""
    counted = tally.counted()
    listed = [
        {"kind": kind, "stated": sum(counted[kind.id].values()) - counted[kind.id][UNKNOWN]} for kind in tally.kinds
    ]
    index = environment.get_template("figures.html")
    hazards = {key: words for key, words in _HAZARDS.items() if any(kind.hazard == key for kind in tally.kinds)}
    body = index.render(kinds=listed, families=len(tally.families), hazards=hazards)
    yield WrittenPage("figures/", "The figures", body)
    template = environment.get_template("figure.html")
    for place, kind in enumerate(tally.kinds):
        neighbours = tally.kinds[max(0, place - 1) : place], tally.kinds[place + 1 : place + 2]
        shown = template.render(**_figure(kind), **_stated(book, tally, kind), neighbours=neighbours)
        yield WrittenPage(f"figures/{kind.id}/", line(kind.label), shown)


def _figure(kind: FigureKind) -> dict[str, Any]:
    """The catalogue's entry of a kind of figure, in words."""
    document = kind.document
    plausible = [(_bounds(one), line(one.get("because", ""))) for one in document.get("plausible", ())]
    limit = document.get("margin_limit")
    safest = (
        "Neither end is the safe one: where sources do not agree there is no single number"
        if kind.safest_end == SafestEnd.NONE
        else f"Where sources do not agree the {kind.safest_end} is given, which does the least harm"
    )
    return {
        "kind": kind,
        "document": document,
        "units": [_UNITS.get(unit) or UNITS[unit].name for unit in kind.units],
        "states": [state.replace("-", " ") for state in kind.states],
        "plausible": plausible,
        "hazard": _HAZARDS[kind.hazard],
        "aim": _AIMS.get(kind.aim, ""),
        "safest": safest,
        "limit": str(read_value(limit)) if limit else "",
        "example": _bounds(document["example"]),
        "also_called": ", ".join(map(line, document.get("also_called", ()))),
    }


def _bounds(typed: Mapping[str, Any]) -> str:
    """A value as typed, in words, with its conditions."""
    value = {key: part for key, part in typed.items() if key not in ("because", "at", "also", "state")}
    conditions = ", ".join(str(part).replace("-", " ") for part in typed.get("at", {}).values())
    return " ".join(filter(None, (str(read_value(value)), conditions)))


def _stated(book: Book, tally: Tally, kind: FigureKind) -> dict[str, Any]:
    """The families that state a figure: by name, or where there are many by maker."""
    held = [(family, STANDINGS[standing]) for family, standing in tally.of_figure(kind.id) if standing != UNKNOWN]
    makers = Counter(family.id.partition("/")[0] for family, _ in held)
    named = {maker: line(book.makers[maker].name) if maker in book.makers else maker for maker in makers}
    return {
        "families": held if len(held) <= _MOST else [],
        "makers": sorted(makers.items()),
        "named": named,
        "stated": len(held),
        "whole": len(tally.families),
    }
