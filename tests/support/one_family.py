"""A book with one family whose figures, flywheel and crank a test writes itself."""

from __future__ import annotations

from kb.book.store.in_memory import MemoryBook
from kb.intake.compiling import book_in_memory
from tests.support.example_book import example_book

FAMILY = "skerrow/subject"
FLYWHEEL = (
    "{rotation: clockwise, rim_diameter: {mm: 240}, marks_on: flywheel, "
    "numbered_marks: {btdc: [7, 14, 21], atdc: [7]}, division: {deg: 1}}"
)
CRANK = "bore: {mm: 70}, stroke: {mm: 70}, rod: {mm: 125}"
_ENGINE = (
    "engine: {{cycle: two-stroke, cylinders: 3, layout: in-line, firing_order: [1, 3, 2], even_fire: true, {}}}\n"
    "ignition: {{type: capacitor-discharge{}}}"
)


def one_family(
    figures: str, flywheel: str = FLYWHEEL, crank: str = CRANK, more: str = "", modules: str = ""
) -> MemoryBook:
    """The book; ``figures`` are lines of flow mappings such as ``max-advance: [{btdc: 20, state: cranking}]``, to
    each statement of which its source is added."""
    lines = [
        "name: Subject",
        "maker: skerrow",
        "invented: true",
        _ENGINE.format(crank, f", modules: [{modules}]" if modules else ""),
        f"flywheel: {flywheel}",
        more,
        "figures:",
        *(f"  {line}" for line in _with_source(figures).splitlines()),
    ]
    return book_in_memory({**example_book(), f"families/{FAMILY}.yaml": "\n".join(lines).encode()})


def _with_source(figures: str) -> str:
    """The source at the end of each outermost mapping."""
    written, depth = "", 0
    for character in figures:
        depth += {"{": 1, "}": -1}.get(character, 0)
        source = "" if "source:" in figures else ", source: handbook, page: 42"
        written += f"{source}}}" if character == "}" and depth == 0 else character
    return written
