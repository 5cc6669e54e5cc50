"""The bench aids of the site say what the bench's commands say; their pages are whole and safe."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import Any

import pytest

from kb.bench.compression import work_compression
from kb.bench.cylinders import Firing, work_cylinders
from kb.bench.dead_centre import work_dead_centre
from kb.bench.next_turn import Adjuster, Target, work_next_turn
from kb.bench.piston import work_degrees, work_position
from kb.bench.premix import Ratio, work_oil
from kb.bench.rim import Rim, work_angle, work_distance
from kb.bench.said import CrankGiven
from kb.bench.worked import Worked
from kb.errors import StopscrewError
from kb.publish.site.bench_fields import bench_aids
from kb.publish.site.bench_pages import bench_pages
from kb.publish.site.build import SITE
from kb.quantity import UNITS, spoken_angle, spoken_quantity
from tests.node import ASSETS, run_node

F = Fraction
LENGTHS = ("mm", "in")


def exact(value: Fraction | int | str) -> dict[str, str]:
    return {"exact": str(spoken_angle(value) if isinstance(value, str) else value)}


def size(number: str, unit: str) -> dict[str, str]:
    return {"size": number, "unit": unit}


CONTACTS = [
    ("31 before", "27 after"), ("27.5 after", "30 before"), ("14 before", "12.25 after"), ("50 before", "44 after"),
    ("31 before", "31 before"), ("31 before", "27 before"), ("8 before", "7 after"), ("70 before", "65 after"),
    ("35 before", "27 after"), ("33 before", "27.3 after"), ("30 before", "30 after"), ("30.01 before", "30 after"),
]  # fmt: skip
REPEATED = [("31 before", "27 after", "30.5 before", "26.75 after"), ("31 before", "27 after", "33 before", "24 after")]
TURNS = [
    [(F(0), "24 before"), (F(1, 2), "25 before"), (F(1), "25.8 before"), (F(3, 2), "26.7 before")],
    [(F(0), "20 before"), (F(1), "22 before")], [(F(0), "20 before"), (F(-1, 2), "26 before")],
    [(F(0), "24 before")], [(F(0), "5 after"), (F(1, 4), "4 after"), (F(1, 2), "2.5 after")],
    [(F(0), "24 before"), (F(1), "24 before")], [(F(0), "24 before"), (F(1), "27 before"), (F(2), "23 before")],
    [(F(0), "3 after"), (F(1, 8), "9 before")],
]  # fmt: skip
ORDERS: list[tuple[list[int], bool, bool | None]] = [
    ([1, 3, 2], False, True), ([1, 3, 4, 2], True, True), ([3, 2, 1], False, True), ([1], False, None),
    ([1, 2], False, False), ([1, 2], False, None), ([1, 3, 3], False, True), ([1, 4, 5, 2, 3, 6], False, True),
]  # fmt: skip

Row = tuple[str, dict[str, Any], Callable[[], Worked]]


def rows() -> list[Row]:
    """Every aid that has a command, on rows that it answers and rows that it refuses."""
    found: list[Row] = []
    given: dict[str, Any]
    for first, second in CONTACTS:
        given = {"first": exact(first), "second": exact(second), "again": None, "second_again": None}
        found.append(("dead-centre", given, partial(work_dead_centre, [(spoken_angle(first), spoken_angle(second))])))
    for four in REPEATED:
        angles = [spoken_angle(words) for words in four]
        given = dict(zip(("first", "second", "again", "second_again"), map(exact, four), strict=True))
        pairs = [(angles[0], angles[1]), (angles[2], angles[3])]
        found.append(("dead-centre", given, partial(work_dead_centre, pairs)))
    for target in ("28 before", "21 before", "25 before", "4 after", "20 before"):
        for readings in TURNS:
            for late, works, sign in ((True, "", 0), (False, "", 0), (True, "earlier", 1), (True, "later", -1)):
                typed = [[exact(turns), exact(words)] for turns, words in readings]
                given = {"target": exact(target), "maximum": "yes" if late else "no", "works": works, "readings": typed}
                settings = [(turns, spoken_angle(words)) for turns, words in readings]
                aimed = Target(spoken_angle(target), late=late)
                found.append(("turn", given, partial(work_next_turn, settings, aimed, Adjuster(sign=sign))))
    for number, unit in (("240", "mm"), ("9.5", "in"), ("231.25", "mm")):
        rim = Rim(spoken_quantity(f"{number} {unit}", LENGTHS))
        for degrees in (F(10), F(1, 3), F(180), F(200), F(361), F(59, 2)):
            given = {"diameter": size(number, unit), "degrees": exact(degrees), "tape": None, "callipers": None}
            found.append(("rim", given, partial(work_distance, degrees, rim)))
        for distance in (("62", "mm"), ("2.5", "in"), ("900", "mm"), ("7/8", "in")):
            measured = spoken_quantity(" ".join(distance), LENGTHS)
            given = {"diameter": size(number, unit), "degrees": None}
            given |= {"tape": size(*distance), "callipers": size(*distance)}
            found.append(("rim", given, partial(work_angle, rim, measured, measured)))
    crank = CrankGiven(spoken_quantity("70 mm", LENGTHS), spoken_quantity("125 mm", LENGTHS))
    lengths = {"stroke": size("70", "mm"), "rod": size("125", "mm")}
    for words in ("20 before", "5.5 after", "0", "180 before", "181 before", "90 after"):
        given = {**lengths, "crank": exact(words), "position": None}
        found.append(("piston", given, partial(work_position, spoken_angle(words), crank)))
    for number in ("2.54", "70", "71", "35.00"):
        given = {**lengths, "crank": None, "position": size(number, "mm")}
        shown = spoken_quantity(f"{number} mm", LENGTHS)
        found.append(("piston", given, partial(work_degrees, shown, 0, crank)))
    for order, four_stroke, even in ORDERS:
        for figure in (None, F(24), F(-11, 2), F(200)):
            given = {
                "order": "-".join(map(str, order)), "cycle": "four-stroke" if four_stroke else "two-stroke",
                "even": "" if even is None else str(even).lower(), "figure": None if figure is None else exact(figure),
            }  # fmt: skip
            found.append(("cylinders", given, partial(work_cylinders, Firing(tuple(order), four_stroke, even), figure)))
    for unit, pressures in (
        ("psi", [F(110), F(122), F(118)]), ("psi", [F(120), F(120)]), ("bar", [F(8), F(17, 2)]), ("psi", [F(110)]),
        ("psi", [F(110), F(0)]), ("kPa", [F(110), F(800), F(110)]), ("psi", [F(55), F(190), F(120), F(55)]),
    ):  # fmt: skip
        given = {"unit": unit, "readings": [exact(one) for one in pressures]}
        found.append(("compression", given, partial(work_compression, pressures, UNITS[unit])))
    for number, unit in (("6", "us_gal"), ("5", "L"), ("2.5", "imp_gal")):
        for parts in (F(50), F(16), F(99, 2), F(120), F(1, 2)):
            given = {"petrol": size(number, unit), "parts": exact(parts)}
            petrol = spoken_quantity(f"{number} {unit}", ("us_gal", "imp_gal", "L"))
            found.append(("premix", given, partial(work_oil, petrol, Ratio.typed(parts))))
    return found


ROWS = rows()


def tried(work: Callable[[], Worked]) -> Worked | str:
    try:
        return work()
    except StopscrewError as refusal:
        return type(refusal).__name__


@pytest.fixture(scope="module")
def told() -> list[dict[str, Any]]:
    done = run_node("bench_lines.mjs", ASSETS, given=json.dumps([[aid, given] for aid, given, _ in ROWS]))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def test_answers_cautions_and_refusals_are_the_commands(told: list[dict[str, Any]]) -> None:
    for (aid, given, work), found in zip(ROWS, told, strict=True):
        assert "broken" not in found, found
        wanted = tried(work)
        if isinstance(wanted, str):
            assert found.get("refused") == wanted, (aid, given, found)
            continue
        assert "refused" not in found, (aid, given, found)
        lines = [line for line in wanted.answer if not line.startswith("for the other commands")]
        if aid == "piston":  # there the page counts hundredths of a millimetre, and the command the printed digits
            lines = [line for line in lines if "last digit" not in line]
            found["answer"] = [line for line in found["answer"] if "last digit" not in line]
        assert found["answer"] == lines, (aid, given)
        assert found["cautions"] == list(wanted.cautions), aid
        assert all(step["result"] for step in found["steps"])


def test_a_target_is_shown_with_the_printed_figure() -> None:
    figure = {"kind": "maximum", "printed": exact("24 before"), "other_end": None, "margin": exact(1)}
    given = {**figure, "dead_centre": exact("2 before"), "diameter": size("240", "mm")}
    rest = {"other_end": None, "margin": None, "dead_centre": None}
    asked = [
        ["target", given], ["judge", {**given, "reading": exact("25 before")}],
        ["judge", {**given, "reading": exact("27 before")}],
        ["target", {**given, "dead_centre": exact("4 before")}], ["target", {**given, "margin": exact(3)}],
        ["target", {**rest, "kind": "setting", "printed": exact("6 after"), "other_end": exact("4 after"),
                    "diameter": None}],
    ]  # fmt: skip
    done = run_node("bench_lines.mjs", ASSETS, given=json.dumps(asked))
    aimed, inside, early, far, wide, pickup = json.loads(done.stdout)
    assert aimed["answer"][0] == "set it to 25° BTDC on the light, printed 24° BTDC"
    assert inside["answer"][0] == "inside: it reads 25 before, printed 24° BTDC"
    assert early["answer"][0] == "1 degree early (advanced): it reads 27 before, printed 24° BTDC"
    assert far["refused"] == "DeadCentreTooFar"
    assert wide["refused"] == "MarginTooWide"
    assert pickup["answer"][0] == "set it to 5° ATDC on the light, printed 4 to 6° ATDC"


def test_the_pages_are_whole() -> None:
    pages = dict(bench_pages(SITE / "theme"))
    assert next(iter(pages)) == "bench/index.html"
    assert len(pages) == 1 + len(list(bench_aids())) == 10
    for path, html in pages.items():
        assert "<script>" not in html
        assert " style=" not in html
        assert "onclick" not in html
        assert "default-src 'none'" in html
        assert path == "bench/index.html" or (ASSETS / "bench" / f"{path.split('/')[1]}.js").exists()
        assert path == "bench/index.html" or "<noscript>" in html
