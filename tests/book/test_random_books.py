"""Of books made at random everything that is asked ends in an answer, or in an error that is documented."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import redirect_stderr, redirect_stdout
from fractions import Fraction
from functools import cache, partial
from io import StringIO
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import kb
from kb.book.lookup.combinations import combinations_of
from kb.book.model.answer import Answer
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.book.store.compiled import CompiledBook
from kb.book.store.in_memory import MemoryBook
from kb.book.store.writing import write_store
from kb.cli import DONE, NOT_FOUND, REFUSED, main
from kb.errors import LookUpError, Refusal
from kb.publish.sheet.document import sheet_json
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.template import page_template
from kb.publish.site.family.view import Choices, view
from kb.vocabulary.conditions import Condition
from kb.vocabulary.states import SETTING_STATES, State
from tests.support.folders import SITE
from tests.support.random_books import FAMILY, FIGURES, SERIALS, YEARS, books
from tests.support.samples import tries

CONDITIONS: Mapping[str, tuple[Any, ...]] = {
    Condition.RPM: (5000, "4000", "4500.5", "fast", "1e3"),
    Condition.GEAR: ("in-gear", "neutral", "reverse"),
    Condition.CYLINDER: (1, "2", 9),
    Condition.MODULE: ("connected", "disconnected"),
    Condition.ENGINE: ("cold", "warm"),
    Condition.PLUGS: ("in", "out"),
    Condition.CARBURETTOR: (1, 2),
    Condition.ALTITUDE: ({"m": "500"}, {"ft": "2953"}, {"m": "900"}, {"fathom": "1"}, 500, "high"),
    Condition.OCTANE: ({"ron": "90"}, {"aki": "90"}, 90),
    "colour": ("red",),
}
"""What is asked for under each condition, and under one that there is not."""

Question = tuple[str, str | None, dict[str, Any]]
"""A figure, a state, and by name what is known of the engine and the conditions."""

engines = st.fixed_dictionaries(
    {},
    optional={
        "serial": st.sampled_from(SERIALS),
        "year": st.sampled_from(YEARS),
        "margin": st.sampled_from((0, 1, 2, Fraction(1, 2), 3, -1)),
        "dead_centre": st.sampled_from((0, 1, Fraction(-3, 2), 4)),
        "running_rpm": st.sampled_from((5000, 3000, 9000)),
    },
)
quick = partial(settings, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def books_and_questions(draw: st.DrawFn) -> tuple[MemoryBook, list[Question]]:
    """A book, and what is asked of it: mostly what it speaks of, as a statement gives it."""
    book = draw(books())
    family = book.family(FAMILY)
    ways = [way for figure in family.statements for way in combinations_of(family, figure)]
    asked: list[Question] = []
    for _ in range(draw(st.integers(4, 8))):
        if draw(st.booleans()) and ways:
            way = draw(st.sampled_from(ways))
            figure, state, conditions = way.figure, way.state or None, way.conditions
            if draw(st.booleans()):
                state = None
            if draw(st.booleans()):
                conditions = {}
        else:
            figure = draw(st.sampled_from([*family.statements, *FIGURES, "idle-stop", "max-advanse"]))
            state = draw(st.sampled_from((None, None, *State.words, "idling")))
            names = draw(st.lists(st.sampled_from(list(CONDITIONS)), max_size=2, unique=True))
            conditions = {name: draw(st.sampled_from(CONDITIONS[name])) for name in names}
        asked.append((figure, state, draw(engines) | conditions))
    return book, asked


def outcome(ask: Callable[[], Any]) -> Any:
    """What is answered, or why not: an error of one of the kinds below the two roots, with words and candidates."""
    try:
        return ask()
    except (LookUpError, Refusal) as error:
        refused = error
    assert type(refused) not in (LookUpError, Refusal)
    assert refused.message
    assert all(isinstance(one, str) and one for one in refused.candidates)
    return refused


@quick(max_examples=tries(40, 100))
@given(books_and_questions())
def test_a_figure_is_answered_or_refused(both: tuple[MemoryBook, list[Question]]) -> None:
    book, asked = both
    for figure, state, engine in asked:
        found = outcome(partial(book.look_up, FAMILY, figure, state, **engine))
        if isinstance(found, Answer):
            assert str(found.value) == found.printed
            assert found.evidence
            assert found.how_sure
            json.dumps(found.to_document())
        for ask in (partial(book.aim, FAMILY, figure), partial(book.judge, FAMILY, figure, Fraction(47, 2))):
            target = outcome(partial(ask, state, **engine))
            if not isinstance(target, Exception):
                assert target.answer == found
                json.dumps(target.to_document())


@quick(max_examples=tries(10, 25))
@given(both=books_and_questions())
def test_compiled_it_says_the_same(
    both: tuple[MemoryBook, list[Question]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    book, asked = both
    path = tmp_path_factory.mktemp("random") / "random.book"
    write_store(path, book)
    with CompiledBook(path) as store:
        for figure, state, engine in asked:
            one, other = (outcome(partial(held.look_up, FAMILY, figure, state, **engine)) for held in (book, store))
            assert type(one) is type(other)
            assert str(one) == str(other)
        assert json.dumps(family_page(store, FAMILY)) == json.dumps(family_page(book, FAMILY))


@quick(max_examples=tries(25, 60))
@given(books(), engines, st.sampled_from(("", *SETTING_STATES)), st.sampled_from(("", "metric", "inch")))
def test_a_page_and_a_sheet_are_made_or_refused(
    book: MemoryBook, engine: dict[str, Any], state: str, units: str
) -> None:
    on_the_stand = EngineOnTheStand.of(state, **engine)
    page, shared = family_page(book, FAMILY), shared_document(book)
    choices = Choices(state, Fraction(engine.get("margin", 0)), engine.get("serial", ""), units)
    for chosen in (Choices(), choices):
        drawn = outcome(partial(view, page, shared, chosen))
        if not isinstance(drawn, Exception):
            assert template().render(drawn)
    sheet = outcome(partial(make_sheet, book, FAMILY, on_the_stand))
    if not isinstance(sheet, Exception):
        assert sheet_markdown(sheet)
        json.loads(sheet_json(sheet))


@cache
def template() -> Any:
    return page_template((SITE / "theme" / "family.html").read_text(encoding="utf-8"))


@quick(max_examples=tries(10, 25))
@given(books_and_questions())
def test_a_command_ends_with_a_documented_code(both: tuple[MemoryBook, list[Question]]) -> None:
    book, asked = both
    commands = [["show", FAMILY], ["job", FAMILY]]
    for figure, state, engine in asked:
        named = [f"--state={state}"] if state in State.words else []
        named += [f"--{name}={engine[name]}" for name in ("serial", "year", "gear", "rpm", "module") if name in engine]
        commands += [["show", FAMILY, figure, *named], ["aim", FAMILY, figure, *named, "--json"]]
    with patch.object(kb, "open_book", lambda _: book):
        for words in commands:
            said, why = StringIO(), StringIO()
            with redirect_stdout(said), redirect_stderr(why):
                code = main(words)
            assert code in (DONE, NOT_FOUND, REFUSED), words
            assert bool(said.getvalue()) == (code == DONE or "--json" in words), words
            assert bool(why.getvalue()) == (code != DONE and "--json" not in words), words
