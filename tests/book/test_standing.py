"""How well a figure is supported: what counts, what agrees, and what answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.book.evidence.agreement import Agreement, agreement, safest
from kb.book.evidence.standing import Judgement, Role, Standing, judgement_of, judgements, original_of
from kb.book.model.crank_geometry import Crank
from kb.book.model.family import Fit, Range, Source, Statement
from kb.quantity import Quantity, Value, read_value

SOURCES: Mapping[str, Source] = {
    key: Source(key, {"kind": kind, "title": key, **({"reprint_of": reprint_of} if reprint_of else {})})
    for key, kind, reprint_of in (
        ("handbook", "handbook", ""),
        ("manual", "workshop-manual", ""),
        ("bulletin", "bulletin", ""),
        ("plate", "plate", ""),
        ("bench", "bench-measurement", ""),
        ("reprint", "handbook", "handbook"),
        ("anew", "handbook", "handbook"),
        ("reprint-of-reprint", "handbook", "reprint"),
        ("ring-a", "handbook", "ring-b"),
        ("ring-b", "handbook", "ring-a"),
        ("memory", "memory", ""),
        ("custom", "common-practice", ""),
    )
}
FITS = (Fit(Range("1978", "1981"), Range("300100", "418999")),)
LATE = {"serials": {"from": "350000"}}


def statements(*documents: Mapping[str, Any], figure: str = "plug-gap") -> list[Statement]:
    """Statements of one figure; ``btdc: 24`` of the handbook is ``{"btdc": "24", "source": "handbook"}``."""
    return [Statement.read(figure, index, document, "at-rest") for index, document in enumerate(documents)]


def judged(*documents: Mapping[str, Any], safest_end: str = "none", withdrawn: Sequence[Any] = ()) -> Judgement:
    like = statements(*documents)
    return judgement_of(like, like, SOURCES, safest_end=safest_end, withdrawn=withdrawn)


def mm(value: object, source: str, **more: object) -> dict[str, Any]:
    return {"mm": value, "source": source, **more}


def across(before: str, after: str, source: str) -> dict[str, Any]:
    return {"from": {"btdc": before}, "to": {"atdc": after}, "source": source}


@pytest.mark.parametrize(
    ("documents", "standing", "value"),
    [
        # one original, or one original twice
        ([mm("0.9", "handbook")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "handbook"), mm("0.9", "reprint")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "reprint"), mm("0.9", "reprint-of-reprint")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "handbook"), mm("0.9", "handbook", page="12")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "ring-a"), mm("0.9", "ring-b")], Standing.SINGLE, "0.9 mm"),
        # two originals
        ([mm("0.9", "handbook"), mm("0.9", "manual")], Standing.AGREED, "0.9 mm"),
        ([mm("0.9", "reprint"), mm("0.9", "manual")], Standing.AGREED, "0.9 mm"),
        ([mm("0.9", "handbook"), mm("0.8", "manual")], Standing.DISPUTED, None),
        ([mm("0.9", "handbook"), mm("0.8", "reprint")], Standing.DISPUTED, None),
        ([mm("0.9", "handbook"), mm("0.9", "manual"), mm("0.8", "plate")], Standing.DISPUTED, None),
        # memory and common practice
        ([mm("0.9", "memory")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "memory"), mm("0.9", "custom")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "memory"), mm("0.7", "custom")], Standing.DISPUTED, None),
        ([mm("0.7", "memory"), mm("0.9", "handbook")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.9", "memory"), mm("0.9", "handbook")], Standing.SINGLE, "0.9 mm"),
        ([mm("0.7", "custom"), mm("0.9", "handbook"), mm("0.9", "plate")], Standing.AGREED, "0.9 mm"),
        # a source that is not in the book is an original of its own
        ([mm("0.9", "lost"), mm("0.9", "handbook")], Standing.AGREED, "0.9 mm"),
        # the coarser printed unit decides
        ([mm("0.76", "handbook"), {"in": "0.030", "source": "manual"}], Standing.AGREED, "0.76 mm"),
        ([mm("0.8", "handbook"), {"in": "0.030", "source": "manual"}], Standing.AGREED, "0.8 mm"),
        ([mm("0.75", "handbook"), {"in": "0.030", "source": "manual"}], Standing.AGREED, "0.75 mm"),
        ([mm("0.74", "handbook"), {"in": "0.030", "source": "manual"}], Standing.DISPUTED, None),
        # windows
        ([mm(["0.7", "0.9"], "handbook"), mm(["0.8", "1.0"], "manual")], Standing.AGREED, "0.8 to 0.9 mm"),
        ([mm(["0.7", "0.8"], "handbook"), mm(["0.8", "1.0"], "manual")], Standing.AGREED, "0.8 mm"),
        ([mm(["0.7", "0.9"], "handbook"), mm("0.8", "manual")], Standing.AGREED, "0.8 mm"),
        ([mm({"at_most": "0.9"}, "handbook"), mm({"at_most": "0.8"}, "manual")], Standing.AGREED, "at most 0.8 mm"),
        ([mm({"at_least": "0.9"}, "handbook"), mm("0.8", "manual")], Standing.DISPUTED, None),
        (
            [mm(["0.7", "0.9"], "handbook"), mm(["0.9", "1.1"], "manual"), mm(["0.6", "0.8"], "plate")],
            Standing.DISPUTED,
            None,
        ),
        # windows across top dead centre, alike at one end
        ([across("2", "5", "handbook"), across("2", "3", "manual")], Standing.AGREED, "2° BTDC to 3° ATDC"),
        ([across("4", "3", "handbook"), across("2", "3", "manual")], Standing.AGREED, "2° BTDC to 3° ATDC"),
        # words and codes
        ([{"mark": "A", "source": "handbook"}, {"mark": "a", "source": "manual"}], Standing.AGREED, "A"),
        ([{"mark": "one", "source": "handbook"}, {"mark": "other", "source": "manual"}], Standing.SINGLE, "one"),
        ([{"code": "TQ  4", "source": "handbook"}, {"code": "tq 4", "source": "manual"}], Standing.AGREED, "TQ  4"),
        ([{"code": "TQ 4", "source": "handbook"}, {"code": "TQ 5", "source": "manual"}], Standing.DISPUTED, None),
    ],
)
def test_standing(documents: list[dict[str, Any]], standing: Standing, value: str | None) -> None:
    found = judged(*documents)
    assert found.standing is standing
    assert (None if found.value is None else str(found.value)) == value


@pytest.mark.parametrize(
    ("documents", "is_judged", "same"),
    [
        ([mm("0.9", "handbook"), mm("0.9", "manual")], True, True),
        ([mm(["0.7", "0.9"], "handbook"), mm("0.8", "manual")], True, False),
        ([mm("0.9", "handbook"), mm("0.8", "manual")], True, False),
        ([{"mark": "one", "source": "handbook"}, {"mark": "other", "source": "manual"}], False, False),
    ],
)
def test_what_could_be_compared_and_is_the_same(documents: list[dict[str, Any]], is_judged: bool, same: bool) -> None:
    found = judged(*documents)
    assert (found.judged, found.same) == (is_judged, same)


def test_three_windows_that_meet_only_pair_by_pair_are_a_dispute() -> None:
    windows = [mm(["1", "4"], "handbook"), mm(["3", "6"], "manual"), mm(["5", "8"], "plate")]
    assert [judged(*pair).standing for pair in (windows[:2], windows[1:])] == [Standing.AGREED, Standing.AGREED]
    assert judged(*windows).standing is Standing.DISPUTED
    three = [mm(["1", "6"], "handbook"), mm(["3", "8"], "manual"), mm(["5", "9"], "plate")]
    assert str(judged(*three).value) == "5 to 6 mm"


def new(**supersedes: str) -> dict[str, Any]:
    return mm("0.9", "bulletin", page="2", supersedes=supersedes)


@pytest.mark.parametrize(
    ("documents", "roles"),
    [
        ([mm("0.9", "handbook"), mm("0.9", "reprint")], [Role.COUNTS, Role.REPRINT]),
        ([mm("0.9", "reprint"), mm("0.9", "handbook")], [Role.REPRINT, Role.COUNTS]),
        ([mm("0.9", "anew"), mm("0.9", "handbook")], [Role.REPRINT, Role.COUNTS]),  # whichever name comes first
        ([mm("0.9", "reprint"), mm("0.9", "anew")], [Role.COUNTS, Role.REPRINT]),
        (
            [mm("0.9", "handbook"), mm("0.9", "handbook", page="12"), mm("0.9", "anew")],
            [Role.COUNTS, Role.COUNTS, Role.REPRINT],
        ),
        ([mm("0.9", "memory"), mm("0.7", "manual")], [Role.HEARSAY, Role.COUNTS]),
        ([new(source="handbook", page="38"), mm("0.7", "handbook", page="38")], [Role.COUNTS, Role.SUPERSEDED]),
        ([new(source="handbook", page="38"), mm("0.7", "handbook", page="39")], [Role.COUNTS, Role.COUNTS]),
        ([new(source="handbook"), mm("0.7", "reprint", page="41")], [Role.COUNTS, Role.SUPERSEDED]),
    ],
)
def test_roles(documents: list[dict[str, Any]], roles: list[Role]) -> None:
    assert [found.role for found in judged(*documents).evidence] == roles


def test_a_source_without_pages_supersedes_too() -> None:
    found = judged(mm("0.9", "plate", supersedes={"source": "handbook"}), mm("0.7", "handbook", page="38"))
    assert found.evidence[1].reason == "by plate"


def test_a_statement_does_not_supersede_itself() -> None:
    found = judged(new(source="bulletin"), mm("0.7", "handbook", page="38"))
    assert [one.role for one in found.evidence] == [Role.COUNTS, Role.COUNTS]


def test_what_is_superseded_stays_visible_with_its_reason() -> None:
    found = judged(new(source="handbook", page="38"), mm("0.7", "handbook", page="38"))
    assert (found.standing, str(found.value)) == (Standing.SINGLE, "0.9 mm")
    assert found.evidence[1].reason == "by bulletin page 2"
    assert [one.source for one in found.counting] == ["bulletin"]


WITHDRAWN = [{"statement": {"figure": "plug-gap", "source": "handbook", "page": "38"}, "because": "a misprint"}]


def test_what_is_withdrawn_drops_out_and_stays_visible() -> None:
    found = judged(mm("0.7", "handbook", page="38"), mm("0.9", "plate"), withdrawn=WITHDRAWN)
    assert (found.standing, str(found.value)) == (Standing.SINGLE, "0.9 mm")
    assert [(one.role, one.reason) for one in found.evidence] == [(Role.WITHDRAWN, "a misprint"), (Role.COUNTS, "")]


def test_nothing_answers_when_all_is_withdrawn_or_absent() -> None:
    assert judged(mm("0.7", "handbook", page="38"), withdrawn=WITHDRAWN).standing is None
    assert judged(mm("0.7", "handbook", page="38"), withdrawn=WITHDRAWN).value is None
    found = judged({"absent": "not-stated", "source": "handbook"})
    assert (found.standing, found.value, len(found.absent)) == (None, None, 1)


def test_what_was_superseded_does_not_rise_when_its_successor_is_withdrawn() -> None:
    entry = {"statement": {"figure": "plug-gap", "source": "bulletin"}, "because": "misread"}
    found = judged(new(source="handbook", page="38"), mm("0.7", "handbook", page="38"), withdrawn=[entry])
    assert found.standing is None
    assert [one.role for one in found.evidence] == [Role.WITHDRAWN, Role.SUPERSEDED]


def test_a_statement_is_superseded_only_for_the_engines_of_the_part() -> None:
    like = statements(
        mm("0.9", "bulletin", page="2", only=LATE, supersedes={"source": "handbook", "page": "38"}),
        mm("0.7", "handbook", page="38"),
    )
    found = judgements(like, SOURCES, FITS)
    assert sorted((len(holding), str(one.standing), str(one.value)) for holding, one in found) == [
        (1, "single", "0.7 mm"),
        (2, "single", "0.9 mm"),
    ]


def test_one_state_may_be_superseded_by_another_for_a_part_only() -> None:
    like = [
        Statement.read(
            "max-advance",
            0,
            {
                "btdc": "22",
                "state": "running",
                "source": "bulletin",
                "only": LATE,
                "supersedes": {"source": "handbook"},
            },
        ),
        Statement.read("max-advance", 1, {"btdc": "24", "state": "cranking", "source": "handbook"}),
    ]
    cranking = [one.standing for holding, one in judgements(like, SOURCES, FITS) if holding == (like[1],)]
    assert sorted(map(str, cranking)) == ["None", "single"]


@pytest.mark.parametrize(
    ("values", "end", "index"),
    [
        ([{"btdc": "24"}, {"btdc": "26"}], "later", 0),
        ([{"btdc": "26"}, {"btdc": "24"}], "later", 1),
        ([{"btdc": "24"}, {"btdc": "26"}], "earlier", 1),
        ([{"atdc": "4"}, {"atdc": "6"}], "later", 1),
        ([{"btdc": ["20", "27"]}, {"btdc": ["24", "26"]}], "later", 1),
        ([{"btdc": ["20", "27"]}, {"btdc": ["24", "26"]}], "earlier", 1),
        ([{"to_one": "50"}, {"to_one": "40"}], "smaller", 1),
        ([{"V": {"at_least": "9"}}, {"V": {"at_most": "8"}}], "larger", None),
        ([{"mm": "1.0"}, {"in": "0.030"}], "smaller", 1),
        ([{"btdc": "24"}, {"btdc": "26"}], "none", None),
        ([{"cranking_earlier": "2"}, {"cranking_later": "1"}], "later", 1),
        ([{"code": "B7"}, {"code": "B8"}], "smaller", None),
        ([{"btdc": {"mm": "3.47"}}, {"btdc": "26"}], "later", None),
    ],
)
def test_the_safest_of_disagreeing_values(values: list[dict[str, Any]], end: str, index: int | None) -> None:
    assert safest([read_value(value) for value in values], end) == index


def test_a_dispute_answers_with_its_safest_end_and_says_so() -> None:
    like = statements({"btdc": "26", "source": "handbook"}, {"btdc": "24", "source": "manual"}, figure="max-advance")
    found = judgement_of(like, like, SOURCES, safest_end="later")
    assert (found.standing, str(found.value), found.safest_end) == (Standing.DISPUTED, "24° BTDC", "later")
    assert judgement_of(like, like, SOURCES).safest_end == ""


DISAGREE = Agreement(agree=False, common=None, same=False)
ONE_DEGREE = {"by_rpm": [{"rpm": "1000", "cranking_earlier": "1"}, {"rpm": "5000", "cranking_earlier": "2"}]}
ONE_POINT_NOUGHT = {"by_rpm": [{"rpm": "1000", "cranking_earlier": "1.0"}, {"rpm": "5000", "cranking_earlier": "2"}]}
TWO_DEGREES = {"by_rpm": [{"rpm": "1000", "cranking_earlier": "2"}, {"rpm": "5000", "cranking_earlier": "2"}]}
OTHER_SPEED = {"by_rpm": [{"rpm": "1000", "cranking_earlier": "1"}, {"rpm": "4000", "cranking_earlier": "2"}]}


def alike(document: dict[str, Any]) -> Agreement:
    return Agreement(agree=True, common=read_value(document), same=True)


def in_part(document: dict[str, Any]) -> Agreement:
    return Agreement(agree=True, common=read_value(document), same=False)


@pytest.mark.parametrize(
    ("values", "crank", "wanted"),
    [
        # Ketch 47 of the demonstration book
        ([{"btdc": "24"}, {"btdc": {"mm": "3.47"}}], Crank(32, 120), alike({"btdc": "24"})),
        ([{"btdc": "24"}, {"btdc": {"mm": "3.9"}}], Crank(32, 120), DISAGREE),
        ([{"btdc": "24"}, {"btdc": {"mm": "3.47"}}], None, None),  # no crank, no judgement
        # one dimension wants no crank
        ([{"btdc": {"mm": "3.47"}}, {"btdc": {"in": "0.137"}}], None, alike({"btdc": {"mm": "3.47"}})),
        ([{"in": "1/4"}, {"mm": "6.4"}], None, alike({"in": "1/4"})),  # 1/4 in is 6.35 mm
        ([{"in": "1/4"}, {"mm": "8.0"}], None, DISAGREE),  # a fraction claims sixty-fourths, not quarters
        ([{"mm": ["4", "6"]}, {"mm": ["5", "7"]}], None, in_part({"mm": ["5", "6"]})),
        ([{"mm": {"at_least": "4"}}, {"mm": {"at_least": "5"}}], None, in_part({"mm": {"at_least": "5"}})),
        ([{"mm": ["4", "5"]}, {"mm": ["6", "7"]}], None, DISAGREE),
        ([{"cranking_earlier": "2"}, {"cranking_earlier": "2.0"}], None, alike({"cranking_earlier": "2"})),
        ([{"cranking_earlier": "2.0"}, {"cranking_earlier": "2"}], None, alike({"cranking_earlier": "2.0"})),
        ([{"cranking_earlier": "2"}, {"cranking_later": "2"}], None, DISAGREE),
        ([ONE_DEGREE, ONE_POINT_NOUGHT], None, alike(ONE_DEGREE)),  # tables agree at each speed
        ([ONE_DEGREE, TWO_DEGREES], None, DISAGREE),
        ([ONE_DEGREE, OTHER_SPEED], None, DISAGREE),
        ([{"code": "TQ 4"}, {"code": "tq  4"}], None, alike({"code": "TQ 4"})),
        ([{"code": "TQ 4"}, {"code": "TQ 5"}], None, DISAGREE),
        ([{"order": ["1", "3", "2"]}, {"order": ["1", "2", "3"]}], None, DISAGREE),
        ([{"mark": "a line"}, {"mm": "2"}], None, None),
    ],
)
def test_agreement(values: list[dict[str, Any]], crank: Crank | None, wanted: Agreement | None) -> None:
    assert agreement([read_value(value) for value in values], crank) == wanted


@pytest.mark.parametrize(
    ("source", "original"),
    [
        ("handbook", "handbook"),
        ("reprint", "handbook"),
        ("reprint-of-reprint", "handbook"),
        ("ring-a", "ring-a"),
        ("ring-b", "ring-a"),
        ("nowhere", "nowhere"),
    ],
)
def test_root(source: str, original: str) -> None:
    assert original_of(source, SOURCES) == original


def _ends(value: Value | None) -> object:
    if not isinstance(value, Quantity):
        return value
    return tuple(
        None if end is None else value.unit.convert(end, value.unit) * value.unit.factor
        for end in (value.low, value.high)
    )


NUMBERS = st.integers(1, 9).map(lambda tenth: f"0.{tenth}")
SHAPES = st.one_of(
    NUMBERS, st.tuples(NUMBERS, NUMBERS).map(lambda pair: sorted(pair)), NUMBERS.map(lambda number: {"at_most": number})
)
DOCUMENTS = st.lists(
    st.builds(lambda shape, source: mm(shape, source), SHAPES, st.sampled_from(sorted(SOURCES))), min_size=1, max_size=5
)


@given(DOCUMENTS, st.randoms(use_true_random=False))
def test_neither_the_order_of_statements_nor_of_sources_changes_the_standing(documents: list[Any], chance: Any) -> None:
    first = judged(*documents, safest_end="later")
    turned = documents[:]
    chance.shuffle(turned)
    keys = list(SOURCES)
    chance.shuffle(keys)
    like = statements(*turned)
    second = judgement_of(like, like, {key: SOURCES[key] for key in keys}, safest_end="later")
    assert second.standing is first.standing
    assert second.same is first.same
    if first.standing is Standing.AGREED:
        assert _ends(second.value) == _ends(first.value)


@given(DOCUMENTS)
def test_what_is_agreed_lies_within_every_original(documents: list[Any]) -> None:
    found = judged(*documents)
    if found.standing is Standing.AGREED and isinstance(found.value, Quantity):
        for statement in found.counting:
            assert isinstance(statement.value, Quantity)
            for end in (found.value.low, found.value.high):
                assert end is None or statement.value.holds(Fraction(end)) or statement.value.low is None
