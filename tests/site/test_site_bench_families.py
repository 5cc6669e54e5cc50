"""A bench aid opened from a family fills in what the family knows, and comes to what the commands come to for it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import Any

import pytest

from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
from kb.bench.compression import work_compression
from kb.bench.cylinders import Firing, work_cylinders
from kb.bench.next_turn import work_next_turn
from kb.bench.piston import work_position
from kb.bench.premix import Ratio, work_oil
from kb.bench.rim import Rim, work_place
from kb.bench.wording import CrankGiven
from kb.book.model.family import Family, stated_values
from kb.errors import FigureUnknown, LookUpError, Refusal, StopscrewError
from kb.publish.site.bench.aids import bench_aids, timing_light_figures
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.quantity import UNITS, Quantity, spoken_quantity, write_value
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_node
from tests.support.timing import FIGURES, MAXIMUM, serials

F = Fraction
STATES = ("cranking", "running", "static")
CENTRE = {"dead_centre": {"text": "1.5", "side": "btdc"}}
MARGIN = {"margin": {"text": "1"}}
READINGS = [
    [{"text": "0"}, {"text": "20", "side": "btdc"}],
    [{"text": "1/2", "side": "in"}, {"text": "21.2", "side": "btdc"}],
]
TAKEN = [(F(0), F(20)), (F(1, 2), F("21.2"))]

Case = tuple[dict[str, Any], Callable[[], dict[str, Any]]]


def case(family: str, aid: str, figure: str, typed: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {
        "page": FAMILIES.index(family),
        "aid": aid,
        "figure": figure,
        "typed": typed,
        "state": "",
        "serial": "",
        "held": True,
        **more,
    }


FAMILIES = sorted(frozen_book().family_ids())


def of_the_lamp() -> list[Case]:
    """Targets, verdicts and turns for every figure, state and end of a serial range."""
    found: list[Case] = []
    for number, family in enumerate(FAMILIES):
        for figure in FIGURES:
            for serial in serials(frozen_book(), family):
                for state in STATES:
                    asked: dict[str, Any] = {"state": state, "serial": serial or ""}
                    engine: dict[str, Any] = {"dead_centre": F("1.5"), "serial": serial}
                    typed = {**CENTRE, **(MARGIN if figure == MAXIMUM or number % 7 == 0 else {})}
                    if "margin" in typed:
                        engine["margin"] = 1
                    found.append(
                        (case(family, "target", figure, typed, **asked), partial(target, family, figure, state, engine))
                    )
                    if number % 3 == 0:
                        reading = {**typed, "reading": {"text": "22", "side": "btdc"}}
                        found.append(
                            (
                                case(family, "judge", figure, reading, **asked),
                                partial(verdict, family, figure, state, engine),
                            )
                        )
                        found.append(
                            (
                                case(family, "turn", figure, {**typed, "readings": READINGS}, **asked),
                                partial(turn, family, figure, state, engine),
                            )
                        )
    return found


def target(family: str, figure: str, state: str, engine: dict[str, Any]) -> dict[str, Any]:
    aimed = frozen_book().aim(family, figure, state, **engine)
    return {"big": str(aimed.show), "steps": aimed.to_document()["working"]}


def verdict(family: str, figure: str, state: str, engine: dict[str, Any]) -> dict[str, Any]:
    judged = frozen_book().judge(family, figure, 22, state, **engine)
    return {"big": judged.words, "steps": judged.to_document()["working"]}


def turn(family: str, figure: str, state: str, engine: dict[str, Any]) -> dict[str, Any]:
    aimed = frozen_book().aim(family, figure, state, **engine)
    aim = ScrewTarget.of(aimed, frozen_book().figures[figure].is_limit)
    worked = work_next_turn(TAKEN, aim, AdjustingScrew.of(frozen_book().family(family), figure)).to_document()
    return {"answer": worked["answer"], "steps": worked["working"], "cautions": worked["cautions"]}


def measured() -> list[Case]:
    """What needs the family's own numbers and no light."""
    found: list[Case] = []
    for family in FAMILIES:
        made = frozen_book().family(family)
        crank = {"crank": {"text": "20", "side": "btdc"}}
        found.append((case(family, "piston", "", crank), partial(stands, made)))
        place = {"shown": {"text": "21", "side": "btdc"}, **CENTRE}
        found.append((case(family, "rim", "", place), partial(placed, made)))
        found.append((case(family, "cylinders", "", {}), partial(fired, family)))
        pressures = {"unit": {"text": "psi"}, "readings": [[{"text": "118"}], [{"text": "99"}]]}
        found.append((case(family, "compression", "compression", pressures), partial(pressed, family)))
        found.append(
            (case(family, "premix", "premix", {"petrol": {"text": "20", "unit": "L"}}), partial(mixed, family))
        )
    return found


def told(worked: Any) -> dict[str, Any]:
    document = worked.to_document()
    return {"answer": document["answer"], "steps": document["working"]}


def stands(family: Family) -> dict[str, Any]:
    return told(work_position(F(20), CrankGiven.of(family)))


def placed(family: Family) -> dict[str, Any]:
    return told(work_place(F(21), Rim.of(family), family, None, F("1.5")))


def fired(family: str) -> dict[str, Any]:
    made = frozen_book().family(family)
    try:
        diameter = Rim.of(made).millimetres
    except FigureUnknown:
        diameter = None
    return told(work_cylinders(Firing.of(made, diameter)))


def pressed(family: str) -> dict[str, Any]:
    cylinders = frozen_book().family(family).part("engine", "cylinders")
    answer = frozen_book().look_up(family, "compression")
    return told(work_compression([F(118), F(99)], UNITS["psi"], answer, int(cylinders) if cylinders else None))


def mixed(family: str) -> dict[str, Any]:
    return told(work_oil(spoken_quantity("20 L", ("L",)), Ratio.of(frozen_book().look_up(family, "premix"))))


CASES = [*of_the_lamp(), *measured()]


def converted() -> list[Case]:
    """Maxima that the book derives in one state, typed by hand as printed in the other, with the correction."""
    found: list[Case] = []
    for family in FAMILIES:
        for serial in serials(frozen_book(), family):
            for wanted, printed in (("cranking", "running"), ("running", "cranking")):
                try:
                    answer = frozen_book().look_up(family, MAXIMUM, wanted, serial=serial)
                    frozen_book().look_up(family, MAXIMUM, printed, serial=serial)
                except (LookUpError, Refusal):
                    continue
                if answer.working:
                    typed = {**CENTRE, "set": {"text": wanted}}
                    asked = case(family, "target", MAXIMUM, typed, state=printed, serial=serial or "", held=False)
                    engine = {"dead_centre": F("1.5"), "serial": serial}
                    found.append((asked, partial(target, family, MAXIMUM, wanted, engine)))
    return found


def node(document: dict[str, Any]) -> list[dict[str, Any]]:
    done = run_node("bench_lines.mjs", ASSETS, given=json.dumps(document))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def families(cases: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What the browser makes of the cases."""
    shared = shared_document(frozen_book())
    kinds = timing_light_figures(shared["figures"])
    fields = {aid["aid"]: aid["fields"] for aid in bench_aids(kinds)}
    pages = [family_page(frozen_book(), family) for family in FAMILIES]
    return node({"families": {"pages": pages, "shared": shared, "kinds": kinds, "cases": cases, "fields": fields}})


@pytest.fixture(scope="module")
def found() -> list[dict[str, Any]]:
    return families([asked for asked, _ in CASES])


def tried(work: Callable[[], dict[str, Any]]) -> dict[str, Any] | type[StopscrewError]:
    try:
        return work()
    except StopscrewError as refusal:
        return type(refusal)


def test_it_comes_to_what_the_commands_come_to(found: list[dict[str, Any]]) -> None:
    came_of: Counter[tuple[str, str]] = Counter()
    for (asked, work), one in zip(CASES, found, strict=True):
        assert "broken" not in one, (asked, one)
        wanted = tried(work)
        if isinstance(wanted, dict):
            assert {key: one.get(key) for key in wanted} == wanted, (asked, one)
            came_of[asked["aid"], "answered"] += 1
        elif "why" in one:
            assert issubclass(wanted, LookUpError | Refusal), (asked, one, wanted)
            came_of[asked["aid"], "not filled in"] += 1
        else:
            assert one.get("refused") == wanted.__name__ or issubclass(wanted, FigureUnknown), (asked, one, wanted)
            came_of[asked["aid"], "refused"] += 1
    assert {aid for aid, how in came_of if how == "answered"} == {
        "target",
        "judge",
        "turn",
        "piston",
        "rim",
        "cylinders",
        "compression",
        "premix",
    }
    assert came_of["target", "answered"] > 100
    assert came_of["target", "not filled in"] > 100


def test_without_a_state_it_is_set_cranking_where_that_is_known() -> None:
    cases = [case(family, "target", MAXIMUM, {}) for family in FAMILIES]
    seen: Counter[str] = Counter()
    for family, one in zip(FAMILIES, families(cases), strict=True):
        answered = {
            state: tried(partial(target, family, MAXIMUM, state, {})) for state in ("cranking", "static", "running")
        }
        state, first = next((pair for pair in answered.items() if isinstance(pair[1], dict)), ("", {}))
        if "big" in one:
            assert isinstance(first, dict)
            assert one["big"] == first["big"], (family, state, one)
            seen[state] += 1
    assert set(seen) == {"cranking", "static"}


def test_a_verdict_tells_where_the_target_is(found: list[dict[str, Any]]) -> None:
    by_aid: dict[str, dict[tuple[Any, ...], dict[str, Any]]] = {"target": {}, "judge": {}, "turn": {}}
    for (asked, _), one in zip(CASES, found, strict=True):
        if "big" in one:
            by_aid[asked["aid"]][asked["page"], asked["figure"], asked["state"], asked["serial"]] = one
    judged = [(by_aid["target"][key], one) for key, one in by_aid["judge"].items() if key in by_aid["target"]]
    for target_of, one in judged:
        places = [line for line in target_of["answer"] if line.startswith("on the rim") or "depth gauge" in line]
        assert f"the target is {target_of['big']} on the light" in one["answer"]
        assert set(places) <= set(one["answer"])
    assert len(judged) > 20


def test_typed_by_hand_it_comes_to_the_same(found: list[dict[str, Any]]) -> None:
    pairs = [
        (asked, one)
        for (asked, _), one in zip(CASES, found, strict=True)
        if "big" in one and asked["aid"] in ("target", "judge")
    ]
    by_hand = families([{**asked, "held": False} for asked, _ in pairs])
    for (asked, one), typed in zip(pairs, by_hand, strict=True):
        assert typed.get("big") == one["big"], (asked, typed)
        if asked["aid"] == "target":  # why a correction is not known, only the book can tell
            known = [line for line in one["answer"][1:] if "running figure unknown" not in line]
            assert typed["answer"][1:] == known, asked
    assert len(pairs) > 150


def test_the_other_state_of_a_maximum_is_worked_out_by_hand_too() -> None:
    cases = converted()
    for (asked, work), one in zip(cases, families([asked for asked, _ in cases]), strict=True):
        assert one.get("big") == work()["big"], (asked, one)
    assert len(cases) > 3


BARE = {
    "kind": {"text": "max-advance"},
    "printed": {"text": "22", "unit": "crank_deg", "side": "btdc"},
    "state": {"text": "running"},
    "set": {"text": "cranking"},
}
ONE_LINE = [[{"text": "2", "side": "earlier"}, {"text": "5000"}]]
TABLE = [[{"text": "1", "side": "earlier"}, {"text": "1000"}], [{"text": "3", "side": "earlier"}, {"text": "5000"}]]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (BARE, "NoCorrectionKnown: the maximum is known running, not cranking, and no sourced"),
        ({**BARE, "corrections": [[{"text": "2"}, {"text": ""}]]}, "cannot be reasoned out, only printed or measured"),
        ({**BARE, "corrections": [[{"text": ""}, {"text": "5000"}]]}, "by how many degrees it reads earlier or later"),
        ({**BARE, "corrections": ONE_LINE}, "applies at 5000 rpm, the running maximum at a speed not stated"),
        ({**BARE, "corrections": ONE_LINE, "rpm": {"text": "5000"}}, "set it to 24° BTDC on the light; worked out 24"),
        (
            {**BARE, "corrections": [[{"text": "1.5", "side": "later"}, {"text": ""}]]},
            "set it to 20.5° BTDC on the light",
        ),
        ({**BARE, "corrections": TABLE, "rpm": {"text": "3000"}}, "set it to 24° BTDC on the light; worked out 24"),
        ({**BARE, "corrections": TABLE, "rpm": {"text": "6000"}}, "Extrapolation: "),
        ({**BARE, "corrections": TABLE}, "give the rpm of the running figure"),
        ({**BARE, "corrections": [[*TABLE[0][:1], {"text": ""}], TABLE[1]]}, "a table: type the speed of each"),
        (
            {**BARE, "kind": {"text": "throttle-pickup"}},
            "NoCorrectionKnown: the correction holds for the maximum alone",
        ),
        ({**BARE, "set": {"text": ""}}, "set it to 22° BTDC on the light; printed 22° BTDC, running"),
        (
            {**BARE, "printed": {"text": "22", "unit": "crank_deg"}},
            "Printed figure: choose one of the two keys beside 22",
        ),
        (
            {**BARE, "printed": {"text": "-22", "unit": "crank_deg"}},
            "'-22' has a sign; type the number alone, and choose",
        ),
        ({**BARE, "bound": {"text": "at_least"}, "set": {"text": ""}}, "a bound, not a window"),
    ],
)
def test_a_correction_typed_by_hand(typed: dict[str, Any], told: str) -> None:
    (one,) = families([case(FAMILIES[0], "target", "", typed, held=False)])
    assert told in " ".join([f"{one.get('refused')}: {one.get('message')}", *one.get("answer", ())])


def test_a_side_of_a_dispute_is_read_back_to_the_same_words() -> None:
    figures = (*FIGURES, "compression", "premix")
    values = {
        str(value): value
        for family in FAMILIES
        for figure in figures
        for value in stated_values(frozen_book().family(family).statements.get(figure, ()))
    }
    more = (
        "2° BTDC to 3° ATDC",
        "24 ± 1° BTDC",
        "at most 24° BTDC",
        "0.150 in of piston travel BTDC",
        "TDC",
        "an arrow",
        "24 +1 −2° BTDC",
        "8 to 9 kgf/cm²",
        "at least 110 psi",
        "24 BTDC",
        "24° BTDC; 5",
    )
    words = [*values, *more]
    read = node({"printed": words})
    for text, typed in zip(words, read, strict=True):
        if text in values and isinstance(values[text], Quantity):
            assert typed == write_value(values[text]), text
    assert [typed is None for typed in read[len(values) :]] == [
        False,
        False,
        False,
        False,
        False,
        True,
        True,
        False,
        False,
        True,
        True,
    ]
