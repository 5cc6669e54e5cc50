"""The long bench sheet: what stands on it, for every family; the forms agree; nothing contributed does anything."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable
from fractions import Fraction
from functools import cache, partial
from statistics import median
from typing import Any

import pytest
from jsonschema import Draft202012Validator

import kb
from kb.book.book import Book
from kb.book.model.answer import ORDER_OF_TRUST
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.errors import DeadCentreTooFar, FamilyNotFound, MarginTooWide, QuantityError, RoutineNotFound, SerialFitsNone
from kb.publish.sheet.address import family_address, qr_code, read_site
from kb.publish.sheet.document import sheet_document, sheet_json
from kb.publish.sheet.html import sheet_html
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.sheet.record import Sheet, SheetTarget
from kb.quantity import spoken_angle
from tests.support.folders import FROZEN, SCHEMA
from tests.support.frozen import frozen_book

FAMILIES = sorted(
    path.relative_to(FROZEN / "families").with_suffix("").as_posix() for path in (FROZEN / "families").rglob("*.yaml")
)
INVENTED = "invented demonstration data"

GOLDEN: list[tuple[str, str, dict[str, Any]]] = [
    ("magneto", "hollin-drake/gimlet-6-1", {}),  # breakers, piston positions, no numbered marks
    ("triple", "skerrow/ketch-47", {"serial": "301455", "margin": 1}),  # capacitor discharge with a module
    ("six", "hollin-drake/rasp-79", {"margin": 1, "dead_centre": 2}),  # a V that turns anticlockwise
    ("fixed", "ostmere/knot-4-1", {"year": 1981}),  # one spark, set once
    ("scale", "pellwater/levanter-19", {"dead_centre": Fraction(-3, 2)}),  # a fixed scale, a disputed pickup
]
WHOLE = "triple"
"""The one that stands whole in its other forms too: what differs between engines shows in Markdown."""


long_html, long_markdown = partial(sheet_html, long=True), partial(sheet_markdown, long=True)


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


@cache
def plain(family: str) -> Sheet:
    """The sheet of a family with nothing given."""
    return make_sheet(frozen_book(), family)


@pytest.fixture(scope="module")
def sheets(book: Book) -> dict[str, Sheet]:
    return {family: make_sheet(book, family) for family in FAMILIES}


@pytest.mark.parametrize(("name", "family", "given"), GOLDEN, ids=[row[0] for row in GOLDEN])
def test_whole_sheets(
    name: str, family: str, given: dict[str, Any], book: Book, golden: Callable[[str, str], None]
) -> None:
    sheet = make_sheet(book, family, EngineOnTheStand.of(**given))
    golden(f"sheets/{name}.md", long_markdown(sheet))
    if name == WHOLE:
        golden(f"sheets/{name}.html", long_html(sheet))
        golden(f"sheets/{name}.json", sheet_json(sheet))


def test_the_sheet_has_the_promised_shape(sheets: dict[str, Sheet]) -> None:
    schema = json.loads((SCHEMA / "published" / "sheet.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    for sheet in sheets.values():
        validator.validate(sheet_document(sheet))
    document = json.loads(sheet_json(sheets["skerrow/ketch-47"]))
    for spoilt in ({**document, "margin": "1"}, {key: document[key] for key in document if key != "targets"}):
        assert not validator.is_valid(spoilt)
    document["targets"][0]["given"]["printed"] = 24
    assert not validator.is_valid(document)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_steps_are_those_of_the_job(family: str, book: Book, sheets: dict[str, Sheet]) -> None:
    """Each conditional step is there or not as the order of work says; every number leads to an earlier step."""
    sheet, job = sheets[family], book.job(family)
    assert [(step.id, step.do, step.gate, step.module) for step in sheet.steps] == [
        (step.id, step.do, step.gate, step.module) for step in job.steps
    ]
    assert [step.number for step in sheet.steps] == list(range(1, len(job.steps) + 1))
    for step, asked in zip(sheet.steps, job.steps, strict=True):
        assert all(number < step.number for number in step.stale)
        assert [sheet.steps[number - 1].id for number in step.stale] == list(asked.makes_stale)
        severities = [("danger", "warning", "care").index(caution.severity) for caution in step.cautions]
        assert severities == sorted(severities), "danger first"
        assert len(step.cautions) == len(asked.cautions)
        for caution in step.cautions:  # its text stands here, or at the earlier step that is named
            told = sheet.steps[caution.told_at - 1] if caution.told_at else step
            assert caution.told_at < step.number
            assert any(one.text == caution.text and not one.told_at for one in told.cautions)
        records = {record.replace("-", " ") for record in asked.records}
        assert {blank.label for blank in step.blanks} == records
        assert bool(step.targets or step.given) == bool(asked.figures)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_module_that_is_disconnected_is_connected_again_before_the_plugs_go_back(
    family: str, book: Book, sheets: dict[str, Sheet]
) -> None:
    modules = [step.module for step in sheets[family].steps if step.module]
    fitted = bool(book.family(family).part("ignition", "modules"))
    assert modules == (["disconnected", "connected"] if fitted else [])
    gates = [step for step in sheets[family].steps if step.gate]
    assert len(gates) == 2
    if fitted:
        back = next(step for step in sheets[family].steps if step.module == "connected")
        assert back.number < gates[1].number
        assert any("module" in item and "plugged in" in item for item in gates[1].gate)


@pytest.mark.parametrize("family", FAMILIES)
def test_never_a_target_without_the_printed_figure(family: str, sheets: dict[str, Sheet]) -> None:
    page = long_html(sheets[family])
    cards = re.findall(r'<article class="target">.*?</article>', page, re.DOTALL)
    assert len(cards) == len(sheets[family].targets) > 0
    for card, target in zip(cards, sheets[family].targets, strict=True):
        given = target.given
        if target.set_to:
            assert given.printed
            assert given.cited
            assert given.sure
            assert f"printed <strong>{given.printed}</strong>, {given.state}" in card
            assert given.where.replace("'", "&#39;") in card
            assert target.right in card
        else:
            assert "digits" not in card.replace("nodigits", "")
            assert "no number" in card
            assert given.refused or target.remarks
        assert card.count(">so on this engine set<") == bool(target.set_to)


def test_what_can_not_be_answered_is_said_with_its_candidates(sheets: dict[str, Sheet]) -> None:
    rows = [
        ("pellwater/levanter-19", "throttle-pickup", "do not agree", 2),
        ("skerrow/barque-113", "throttle-pickup", "do not agree", 2),
        ("ostmere/sanderling-93", "idle-timing", "do not agree", 2),
        ("pellwater/gregale-58", "max-advance", "serial number", 2),
        ("skerrow/ketch-47", "idle-timing", "not stated", 1),
    ]
    for family, figure, said, count in rows:
        (target,) = [one for one in sheets[family].targets if one.given.figure == figure]
        assert target.set_to == target.right == target.rim == target.running == target.given.printed == ""
        assert said in target.given.refused
        assert len(target.given.candidates) >= count
        for form in (long_html(sheets[family]), long_markdown(sheets[family])):
            assert all(candidate in form.replace("\\", "") for candidate in target.given.candidates)


def test_a_serial_number_answers_what_needs_it(book: Book) -> None:
    needed = next(one for one in plain("pellwater/gregale-58").targets if one.given.figure == "max-advance")
    assert not needed.set_to
    serials = next(fit.serials for fit in book.family("pellwater/gregale-58").fits if fit.serials)
    sheet = make_sheet(book, "pellwater/gregale-58", EngineOnTheStand.of(serial=serials.first))
    assert next(one for one in sheet.targets if one.given.figure == "max-advance").set_to
    assert sheet.serial == serials.first


def _moved(target: SheetTarget, reading: Fraction) -> Fraction:
    """What the words of a target's rule make of it, as a mechanic would follow them."""
    shown = spoken_angle(target.set_to)
    if shown == 0:
        assert target.rule == "Set it to what the pointer reads at true top dead centre, on the same side."
        return reading
    found = re.match(r"Pointer reads before: (add|take away). After: (add|take away).", target.rule)
    assert found
    what = found[1] if reading > 0 else found[2]
    size = abs(shown) + (abs(reading) if what == "add" else -abs(reading))
    if size < 0:
        assert "the rest is" in target.rule
    return size if shown > 0 else -size


@pytest.mark.parametrize("family", FAMILIES)
def test_the_rule_in_words_comes_to_what_the_book_reckons(family: str, book: Book, sheets: dict[str, Sheet]) -> None:
    for reading in (Fraction(-3), Fraction(-1), Fraction(1, 2), Fraction(3)):
        reckoned = make_sheet(book, family, EngineOnTheStand.of(dead_centre=reading))
        for target, done in zip(sheets[family].targets, reckoned.targets, strict=True):
            assert done.rule == ""
            if target.set_to:
                assert _moved(target, reading) == spoken_angle(done.set_to)


def test_the_dead_centre_reading_stays_on_the_sheet(book: Book) -> None:
    with_it = make_sheet(book, "skerrow/ketch-47", EngineOnTheStand.of(serial="301455", margin=1, dead_centre=2))
    assert with_it.address == plain("skerrow/ketch-47").address
    assert qr_code(with_it.address) == qr_code(plain("skerrow/ketch-47").address)
    page = long_html(with_it)
    assert "The pointer shows 2 before at true top dead centre" in page
    assert not re.search(r'href="[^"]*(301455|before|2)', page)
    assert "pointer at true top dead centre<" not in page
    assert [target.set_to for target in with_it.targets if target.set_to] == ["3° ATDC", "25° BTDC"]


@pytest.mark.parametrize(
    ("given", "error", "words"),
    [
        ({"dead_centre": Fraction(7, 2)}, DeadCentreTooFar, "beyond 3 degrees stop"),
        ({"margin": Fraction(5, 2)}, MarginTooWide, "0 to 2 degrees"),
        ({"margin": -1}, MarginTooWide, "too wide"),
        ({"serial": "999999"}, SerialFitsNone, "no range"),
    ],
)
def test_what_is_refused(given: dict[str, Any], error: type[Exception], words: str, book: Book) -> None:
    with pytest.raises(error, match=re.escape(words)):
        make_sheet(book, "skerrow/ketch-47", EngineOnTheStand.of(**given))


@pytest.mark.parametrize("site", ["ftp://book.example/", "https://book.example/?engine=1"])
def test_what_is_no_site_is_refused(site: str, book: Book) -> None:
    with pytest.raises(QuantityError, match="not the address of a site"):
        make_sheet(book, "skerrow/ketch-47", site=site)


def test_no_family_and_no_order_of_work(book: Book) -> None:
    with pytest.raises(FamilyNotFound, match="no family"):
        make_sheet(book, "skerrow/ketch-48")
    other: Any = kb.open_book(FROZEN)
    document = dict(other.documents["skerrow/ketch-47"])
    del document["linkage"]
    other.documents = {**other.documents, "skerrow/ketch-47": document}
    with pytest.raises(RoutineNotFound, match="linkage"):
        make_sheet(other, "skerrow/ketch-47")


@pytest.mark.parametrize(
    ("site", "right"),
    [
        ("https://book.example", "https://book.example/"),
        ("http://localhost:8000/deep/er/", "http://localhost:8000/deep/er/"),
        ("book.example", ""),
        ("https://", ""),
        ("javascript:alert(1)", ""),
        ("https://a@b.example/", ""),
        ('https://b.example/"><script>', ""),
        ("https://b.example/#x", ""),
        ("https://b.example:99999/", ""),
        ("https://[::1/", ""),
        ("https://bück.example/", ""),
        ("https://b.example/ x", ""),
        ("", ""),
    ],
)
def test_the_address_of_a_site(site: str, right: str) -> None:
    if right:
        assert read_site(site) == right
        assert family_address(site, "skerrow/ketch-47") == f"{right}families/skerrow/ketch-47/"
    else:
        with pytest.raises(QuantityError, match=re.escape("such as https://stopscrew.example/")):
            read_site(site)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_head_says_what_it_is_for_and_what_it_rests_on(family: str, sheets: dict[str, Sheet]) -> None:
    sheet = sheets[family]
    for form in (long_html(sheet).replace("&#39;", "'"), long_markdown(sheet)):
        head = form[: form.index("The job, step by step")]
        for words in (
            INVENTED,
            ORDER_OF_TRUST,
            f"data of {sheet.date}".removeprefix("d"),
            f"{len(sheet.sources)} source",
            "ne engine, one job",
            sheet.full_name.replace("&", "&amp;" if "<html" in form else "\\&"),
            sheet.address,
            "not given",
            "Done by",
        ):
            assert words in head, words
        for hazard in sheet.hazards:
            assert hazard.words.replace("|", "\\|") in head
    assert {one.number for step in sheet.steps for given in step.given for one in given.cited} <= {
        source.number for source in sheet.sources
    }


def test_two_makings_are_alike_to_the_byte(book: Book) -> None:
    """There is no clock and no chance in it."""
    other = kb.open_book(FROZEN)
    for _, family, given in GOLDEN:
        first, second = (make_sheet(one, family, EngineOnTheStand.of(**given)) for one in (book, other))
        assert first == second
        assert long_html(first) == long_html(second)
        assert sheet_json(first) == sheet_json(second)


def test_a_sheet_takes_little_time(book: Book) -> None:
    """Making and writing HTML: less than 50 ms of CPU each, warm."""
    took = []
    for family in FAMILIES:
        started = time.process_time()
        long_html(make_sheet(book, family))
        took.append(time.process_time() - started)
    assert median(took) < 0.05
