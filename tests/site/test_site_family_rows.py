"""What stands in the rows of a family's page: printed figures, cautions where they belong, what engines ran at."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from kb.publish.site.family.document import family_page
from kb.publish.site.family.page_types import PageReading, PageReport, PageRow, SharedDocument
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.value_parts import in_units, pieces
from kb.publish.site.family.view import Choices, view
from kb.publish.site.family.view_types import RowView
from tests.site.test_site_view import page_of
from tests.support.frozen import frozen_book
from tests.support.one_family import FAMILY, one_family

FAMILIES = sorted(frozen_book().family_ids())
DEPENDS = "pellwater/gregale-58"


@cache
def shared() -> SharedDocument:
    return shared_document(frozen_book())


def rows(family: str, choices: Choices | None = None) -> dict[str, RowView]:
    """Every row of a family's page by its id, in the order of the page."""
    seen = view(page_of(family), shared(), choices or Choices())
    return {row["id"]: row for row in (*seen["top"], *seen["rest"])}


def test_a_worked_out_maximum_stands_on_the_figures_that_are_printed() -> None:
    maximum = rows("skerrow/ketch-47")["max-advance"]
    assert maximum["how"][0] == "printed 22° BTDC running + correction 2° earlier cranking"
    assert maximum["how"][-1] == "runs at 22° BTDC at 5000 rpm"
    running = rows("skerrow/ketch-47")["max-advance-running"]
    assert (running["digits"][0]["number"], running["how"][0]) == (
        "22°",
        "printed 24° BTDC cranking, correction 2° earlier cranking",
    )
    later = rows("skerrow/ketch-47", Choices(margin=Fraction(1)))["max-advance"]
    assert (maximum["digits"][0]["number"], later["digits"][0]["number"]) == ("24°", "23°")
    assert later["how"][:2] == [maximum["how"][0], "1° kept to the late side"]


@pytest.mark.parametrize("family", FAMILIES)
def test_no_target_stands_without_a_printed_figure(family: str) -> None:
    for margin in (Fraction(0), Fraction(3, 2)):
        for row in rows(family, Choices(margin=margin)).values():
            if row["sets"]:
                assert row["how"][0].startswith("printed "), row["id"]
            for side in row["sides"] if row["is_maximum"] else ():
                assert "printed " in side["who"], row["id"]


def test_the_other_unit_of_what_is_printed_never_stands_beside_another_target() -> None:
    printed, later = (rows("ostmere/redshank-27", Choices(margin=Fraction(n)))["max-advance"] for n in (0, 1))
    assert (printed["digits"][0]["number"], printed["other"]) == ("24°", "3.36 mm travel")
    assert (later["digits"][0]["number"], later["other"]) == ("23°", "")
    assert rows("ostmere/whimbrel-41")["max-advance"]["other"] == ""  # the late end of a printed window


def test_a_margin_is_kept_for_each_engine_that_a_maximum_depends_on() -> None:
    plain, kept = (rows(DEPENDS, Choices(margin=Fraction(n)))["max-advance"]["sides"] for n in (0, 1))
    assert [side["digits"][0]["number"] for side in plain] == ["21°", "22°"]
    assert [side["digits"][0]["number"] for side in kept] == ["20°", "21°"]
    assert kept[0]["who"] == "serials from GR38201 · printed 21° BTDC · 1° kept to the late side"


def told() -> Iterator[tuple[str, str, PageReport, PageReading]]:
    """Every reading that a report left where the page has a row for it."""
    for family in FAMILIES:
        for report in page_of(family)["reports"]:
            for figure, readings in report["left"].items():
                for one in readings:
                    yield family, figure, report, one


def test_every_reported_reading_stands_by_its_window() -> None:
    seen = 0
    for family, figure, report, one in told():
        doubt = f" ({one['doubt']})" if "doubt" in one else ""
        label, words = shared()["figures"][figure]["label"], f"{one['printed']}{doubt} on {report['on']}"
        strips = [
            strip
            for row in rows(family).values()
            if row["label"] == label and row["state"] == one["state"]
            for strip in row["dots"]
        ]
        assert any(said["words"] == words for strip in strips for said in strip["said"]), (family, figure, words)
        assert all(strip["printed"] for strip in strips)
        assert doubt or all(strip["wide"] > 0 for strip in strips)
        seen += 1
    assert seen >= 14


def test_an_angle_that_may_not_be_true_is_in_words_and_no_dot() -> None:
    (strip,) = rows("skerrow/ketch-47")["max-advance"]["dots"]
    assert strip["ran_at"] == "25° BTDC?, 23° BTDC"
    assert [one["words"] for one in strip["said"]] == ["25° BTDC (as shown) on 2026-06-30", "23° BTDC on 2026-05-09"]
    assert (len(strip["points"]), strip["wide"] > 0) == (1, True)
    (old,) = rows(DEPENDS)["max-advance"]["dots"]
    assert old["ran_at"] == "20° BTDC?"
    assert (old["points"], old["wide"]) == ([], 0)
    (by_gauge,) = rows("hollin-drake/gimlet-6-1")["max-advance"]["dots"]
    assert (by_gauge["ran_at"], len(by_gauge["points"])) == ("0.131 in travel BTDC", 1)


def test_an_engine_stands_beside_its_own_window_alone() -> None:
    (strip,) = rows(DEPENDS)["max-advance"]["dots"]
    assert (strip["engines"], strip["printed"]) == ("serials from GR38201", "21° BTDC")
    assert rows(DEPENDS, Choices(serial="GR39000"))["max-advance"]["dots"][0]["printed"] == "21° BTDC"
    assert rows(DEPENDS, Choices(serial="GR38000"))["max-advance"]["dots"] == []


def test_a_bound_is_a_block_to_the_strips_end() -> None:
    (strip,) = rows(DEPENDS)["cranking-voltage"]["dots"]
    assert strip["from"] > 0
    assert strip["from"] + strip["wide"] == 300
    assert strip["from"] < strip["points"][0]["x"] < 300


def test_a_reading_in_another_unit_is_put_where_it_belongs() -> None:
    page = page_of("ostmere/whimbrel-41")
    (left,) = (report["left"] for report in page["reports"])
    one = left["flywheel-nut-torque"][0]
    in_newton_metres, one["value"] = one["value"], {"lbf_ft": "90"}
    strip = next(row for row in view(page, shared())["rest"] if row["id"] == "flywheel-nut-torque")["dots"][0]
    one["value"] = in_newton_metres
    same = next(row for row in view(page, shared())["rest"] if row["id"] == "flywheel-nut-torque")["dots"][0]
    assert abs(strip["points"][0]["x"] - same["points"][0]["x"]) <= 1  # 90 lbf ft is 122 N m


@pytest.mark.parametrize("family", FAMILIES)
def test_cautions_stand_where_they_belong(family: str) -> None:
    page, seen = page_of(family), rows(family)
    named = [shared()["cautions"][one] for one in page["cautions"]]
    maximum = next((row for row in seen.values() if row["is_maximum"]), None)
    assert maximum is not None
    titles = [one["title"] for one in maximum["cautions"]]
    assert {one["title"] for one in named if one["severity"] == "danger"} <= set(titles)
    assert titles[0] == "Too much advance, or too lean"
    assert [one["title"] for one in maximum["warned"]] == [
        one["title"] for one in maximum["cautions"] if one["severity"] != "care"
    ]
    first: set[str] = set()
    for row in seen.values():
        assert {one["title"] for one in row["again"]} <= first
        assert first.isdisjoint(one["title"] for one in row["warned"])
        first |= {one["title"] for one in row["warned"]}
        assert all(one["text"] for one in row["cautions"])
    whole = view(page, shared())
    anywhere = {one["title"] for row in seen.values() for one in row["cautions"]} | {
        one["title"] for one in whole["before"]
    }
    assert {one["title"] for one in named} <= anywhere


def test_a_caution_of_a_step_that_does_not_apply_is_left_out() -> None:
    page = page_of("skerrow/ketch-47")
    whole = view({**page, "cautions": [], "ignition": {"type": "breaker-magneto"}}, shared())
    assert "Hundreds of volts" not in str(whole["before"])
    assert "Hundreds of volts" in str(view({**page, "cautions": []}, shared())["before"])


def test_a_family_without_a_routine_has_its_own_cautions() -> None:
    page = page_of("skerrow/ketch-47")
    page["routine"] = ""
    seen = view(page, shared())
    assert [one["title"] for one in seen["top"][0]["cautions"]] == [
        shared()["cautions"][one]["title"]
        for one in page["cautions"]
        if shared()["cautions"][one]["severity"] == "danger"
    ]


def test_not_stated_does_not_apply_and_unknown_are_three_things() -> None:
    barque = rows("skerrow/barque-113")
    assert barque["plug-gap"]["digits"][0]["number"] == "does not apply"
    assert barque["trigger-gap"]["digits"][0]["number"] == "not stated"
    whole = view(page_of("skerrow/ketch-47"), shared())
    assert "contact breaker gap" in whole["unknown"]
    assert "breaker-gap" not in rows("skerrow/ketch-47")


def test_a_maximum_of_another_state_is_not_passed_off_as_none() -> None:
    page = page_of("skerrow/ketch-47")
    assert view(page, shared(), Choices("running"))["no_maximum"] == ""
    unsaid = "No maximum advance is published"
    assert view(page, shared(), Choices("static"))["no_maximum"] == f"{unsaid} for an engine set standing still"
    page["figures"] = [figure for figure in page["figures"] if figure["id"] != "max-advance"]
    assert view(page, shared())["no_maximum"] == unsaid


def test_a_family_whose_maximum_no_source_states_has_a_page() -> None:
    book = one_family("max-advance: [{absent: not-stated}]\nplug-gap: [{mm: 0.9}]")
    seen = view(family_page(book, FAMILY), shared_document(book))
    assert seen["state"] == ""
    assert "plug-gap" in {row["id"] for row in (*seen["top"], *seen["rest"])}


PIECES = [
    ("4 to 6° ATDC", [("4 to 6°", "ATDC", "")]),
    ("3° BTDC to TDC", [("3°", "BTDC", ""), ("to TDC", "", "")]),
    ("0.134 in of piston travel BTDC", [("0.134", "in", "piston travel BTDC")]),
    ("0.70 +0.10 −0.05 mm", [("0.70 +0.10 −0.05", "mm", "")]),
    ("at least 6.8 kgf/cm²", [("at least 6.8", "kgf/cm²", "")]),
    ("50:1", [("50:1", "", "")]),
    ("reads 2° earlier while cranking than when running", [("2°", "earlier", "while cranking")]),
    (
        "reads 0° earlier while cranking than when running at 800 rpm; "
        "reads 1 1/2° later while cranking than when running at 3500 rpm",
        [("0°", "earlier", "while cranking at 800 rpm"), ("1 1/2°", "later", "while cranking at 3500 rpm")],
    ),
]


@pytest.mark.parametrize(("value", "wanted"), PIECES)
def test_digits_stand_apart_from_what_goes_with_them(value: str, wanted: list[tuple[str, str, str]]) -> None:
    assert [tuple(one.values()) for one in pieces(value)] == wanted


UNITS = [
    ({"in": "0.030"}, "0.030 in", [], "", ("0.030 in", "0.76 mm")),
    ({"in": "0.030"}, "0.030 in", [], "metric", ("0.76 mm", "printed 0.030 in")),
    ({"in": "0.030"}, "0.030 in", [], "inch", ("0.030 in", "0.76 mm")),
    ({"in": "0.030"}, "0.030 in", ["0.75 mm"], "metric", ("0.75 mm", "printed 0.030 in")),  # as the page itself has it
    ({"kgf_m": "4.8"}, "4.8 kgf m", [], "metric", ("4.8 kgf m", "47.1 N m")),
    ({"kgf_m": "4.8"}, "4.8 kgf m", [], "inch", ("34.7 lbf ft", "printed 4.8 kgf m")),
    (
        {"btdc": {"mm": "2.60"}},
        "2.60 mm of piston travel BTDC",
        [],
        "inch",
        ("0.1024 in of piston travel BTDC", "printed 2.60 mm of piston travel BTDC"),
    ),
    ({"btdc": "24"}, "24° BTDC", [], "metric", ("24° BTDC", "")),
    ({"rpm": ["700", "800"]}, "700 to 800 rpm", [], "inch", ("700 to 800 rpm", "")),
]


@pytest.mark.parametrize(("value", "printed", "also", "units", "wanted"), UNITS)
def test_units(value: dict[str, Any], printed: str, also: list[str], units: str, wanted: tuple[str, str]) -> None:
    row: PageRow = {"state": "", "printed": printed, "value": value, "statements": [[0]]}
    assert in_units(row, [[printed, also]], units) == wanted
