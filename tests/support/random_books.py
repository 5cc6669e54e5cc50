"""Books made at random: one family of the example book with any statements of a few figures that a check lets pass.

Statements are drawn in every form, state and condition, for parts of the family, from originals, reprints and hearsay,
some superseding or withdrawn; so there is agreement, dispute and silence in every mixture. What the check calls an
error is taken out again, as a contributor would.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from hypothesis import strategies as st

from kb.book.store.in_memory import MemoryBook
from kb.finding import Severity
from kb.intake.check.one_file import FileResult, check_file
from kb.intake.check.whole_book import make_context
from kb.intake.compiling import book_in_memory
from kb.intake.facts.rule_context import RuleContext
from tests.support.example_book import example_book
from tests.support.frozen import frozen_book

FAMILY = "skerrow/random"
FILE = f"families/{FAMILY}.yaml"
SERIALS = ("300100", "349999", "350000", "418999", "500000")
YEARS = (1978, 1980, 1981, 1999)

VALUES = {
    "max-advance": (
        "btdc: 24",
        "btdc: 22",
        "btdc: 22.5",
        "btdc: [20, 24]",
        "btdc: {at_most: 26}",
        "btdc: {at_least: 18}",
        "btdc: {nominal: 23, plus_minus: 1}",
        "btdc: {in: 0.150}",
        "btdc: {mm: [3.0, 4.0]}",
        "tdc: 0",
    ),
    "cranking-correction": (
        "cranking_earlier: 2",
        "cranking_earlier: 2.5",
        "cranking_later: 1",
        "by_rpm: [{rpm: 1000, cranking_earlier: 1}, {rpm: 5000, cranking_later: 2}]",
    ),
    "throttle-pickup": ("atdc: [4, 6]", "atdc: 5", "tdc: 0", "from: {btdc: 2}, to: {atdc: 3}", "atdc: {mm: 0.30}"),
    "idle-timing": ("atdc: [6, 8]", "atdc: {at_least: 5}", "btdc: 1"),
    "idle-speed": ("rpm: [650, 750]", "rpm: 700", "rpm: [820, 910]", "rpm: {at_most: 900}"),
    "main-jet": ("code: 68", "code: 66"),
    "plug-gap": ("mm: 0.9", "in: 0.035", "mm: [0.7, 1.0]"),
    "full-throttle-plate": ("deg: 84", "deg: {nominal: 84, plus_minus: 2}", "mark: wide open"),
    "compression": ("psi: [100, 120]", "kPa: {at_least: 700}"),
    "premix": ("to_one: 50", "to_one: 40"),
}
"""Values of each figure that are drawn, as they are typed."""

ABSENT = ("absent: not-stated", "absent: not-applicable")
CONDITIONS = {
    "rpm": ("5000", "4000", "[4000, 5500]"),
    "gear": ("in-gear", "neutral"),
    "cylinder": ("1", "2"),
    "module": ("connected", "disconnected"),
    "engine": ("cold", "warm"),
    "plugs": ("in", "out"),
    "carburettor": ("1", "2"),
    "altitude": ("{m: [0, 900]}", "{m: {at_least: 900}}", "{ft: [0, 3000]}", "{m: {nominal: 500, plus_minus: 100}}"),
    "octane": ("{ron: 90}", "{ron: [90, 95]}", "{aki: 87}"),
}
FIGURES = tuple(VALUES)
PARTS = (
    "{serials: {from: 350000}}",
    "{serials: {to: 349999}}",
    "{years: [1978, 1979]}",
    "{years: [1980, 1981], serials: {from: 320000}}",
)
SOURCES = ("handbook", "manual", "leaflet", "reprint", "plate", "bench", "custom", "recollection")
PAGED = SOURCES[:4]
HEADS = {
    "fits": (
        "",
        "fits: [{years: [1978, 1981], serials: {from: 300100, to: 418999}}]",
        "fits: [{years: [1978, 1979], serials: {to: 349999}}, {years: [1980, 1981], serials: {from: 350000}}]",
    ),
    "crank": ("", "stroke: {mm: 58}, rod: {mm: 108}"),
    "flywheel": (
        "",
        "flywheel: {rotation: clockwise, marks_on: flywheel, rim_diameter: {mm: 230}}",
        "flywheel: {rotation: anticlockwise, marks_on: fixed-scale, numbered_marks: {btdc: [9, 18], atdc: [9]},"
        " division: {deg: 1.5}}",
        "flywheel: {numbered_marks: {btdc: [10]}, division: {deg: [1, 2]}}",
    ),
    "linkage": ("", "linkage: cam-touches-at-idle", "linkage: fixed-spark"),
    "adjusters": ("", "adjusters: {max-advance: {part: upper stop screw, turning_in: later, locknut: true}}"),
}
_TOP = """\
name: Random 31
maker: skerrow
invented: true
{fits}
engine: {{cycle: two-stroke, cylinders: 3, firing_order: [1, 3, 2], even_fire: true, carburettors: 3, {crank}}}
ignition: {{type: capacitor-discharge, modules: [idle-advance]}}
{flywheel}
{linkage}
{adjusters}
cautions: [open-flywheel, too-much-advance]
figures:
"""

Statements = dict[str, list[str]]


@cache
def _example() -> tuple[MemoryBook, RuleContext]:
    files = example_book()
    book = replace(book_in_memory(files), routines=frozen_book().routines)
    return book, make_context([*files, FILE], files.__getitem__)


@st.composite
def statements(draw: st.DrawFn, figure: str) -> list[str]:
    """Statements of one figure, as they are typed: in few situations, so that there are several of each."""
    situations = draw(st.lists(_situations(figure), min_size=1, max_size=3, unique=True))
    sources = draw(st.lists(st.sampled_from(SOURCES), min_size=2, max_size=6))
    return [
        draw(_statement(figure, source, draw(st.sampled_from(situations)), sorted({*sources} - {source})))
        for source in sources
    ]


@st.composite
def _situations(draw: st.DrawFn, figure: str) -> str:
    """A state and the conditions beside it."""
    kind = _example()[0].figures[figure]
    state = f"state: {draw(st.sampled_from(kind.states))}"
    known = [name for name in kind.conditions if name in CONDITIONS]
    names = draw(st.lists(st.sampled_from(known), max_size=2, unique=True)) if known else []
    at = ", ".join(f"{name}: {draw(st.sampled_from(CONDITIONS[name]))}" for name in names)
    return f"{state}, at: {{{at}}}" if at else state


@st.composite
def _statement(draw: st.DrawFn, figure: str, source: str, situation: str, others: Sequence[str]) -> str:
    if draw(st.integers(0, 9)) == 9:
        return f"{{{draw(st.sampled_from(ABSENT))}, source: {source}}}"
    parts = [draw(st.sampled_from(VALUES[figure])), situation, f"source: {source}"]
    if source in PAGED:
        parts.append(f"page: {draw(st.integers(1, 2))}")
    if draw(st.integers(0, 3)) == 3:
        parts.append(f"only: {draw(st.sampled_from(PARTS))}")
    if others and draw(st.integers(0, 5)) == 5:
        parts.append(f"supersedes: {{source: {draw(st.sampled_from(others))}}}")
    return f"{{{', '.join(parts)}}}"


@st.composite
def books(draw: st.DrawFn) -> MemoryBook:
    """A book with the family ``FAMILY``."""
    book, context = _example()
    top = _TOP.format(**{name: draw(st.sampled_from(choices)) for name, choices in HEADS.items()})
    figures = draw(st.lists(st.sampled_from(list(VALUES)), min_size=2, max_size=4, unique=True))
    figures += [one for one in ("cranking-correction",) if "max-advance" in figures and one not in figures]
    said = {figure: draw(statements(figure)) for figure in figures}
    document = _sound(top, said, context)
    stated = [
        {
            "family": FAMILY,
            "figure": figure,
            "source": one["source"],
            **({"page": one["page"]} if "page" in one else {}),
        }
        for figure, ones in document.get("figures", {}).items()
        for one in ones
    ]
    wrong = draw(st.lists(st.sampled_from(stated), max_size=2)) if stated else []
    withdrawals: Any = [
        {"statement": one, "since": "2026-02-01", "because": "a misprint", "severity": "care"} for one in wrong
    ]
    return replace(book, documents={**book.documents, FAMILY: document}, withdrawals=withdrawals)


def _sound(top: str, said: Statements, context: RuleContext) -> Any:
    """The family's document without the statements that the check finds an error in; those that then err go too."""
    while True:
        lines = [line for figure, ones in said.items() if ones for line in (f"  {figure}:", *_listed(ones))]
        found = check_file(FILE, "\n".join([top.rstrip("\n"), *(lines or ["  {}"]), ""]).encode(), context)
        faulty = _statements_with_errors(found)
        if not faulty:
            return found.document
        filled = {figure: ones for figure, ones in said.items() if ones}
        said = {
            figure: [one for index, one in enumerate(ones) if (figure, index) not in faulty]
            for figure, ones in filled.items()
        }


def _listed(ones: Sequence[str]) -> list[str]:
    return [f"    - {one}" for one in ones]


def _statements_with_errors(found: FileResult) -> set[tuple[str, int]]:
    errors = [one for one in found.findings if one.severity is Severity.ERROR]
    paths = [one.path for one in errors if one.path[:1] == ("figures",) and len(one.path) > 2]
    assert len(paths) == len(errors), errors
    return {(str(path[1]), int(path[2])) for path in paths}
