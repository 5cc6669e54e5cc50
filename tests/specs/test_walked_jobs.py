"""Whole jobs, walked as the screens lead: an honest one ends finished, and going back never lets the engine be cranked
into the stop or turned by hand with its ignition live."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.routines import routines_document
from tests.specs.book import families, specs_book
from tests.support.engines import LINKAGES
from tests.support.node import answered

BOOK = specs_book()
WORKED = [key for key in BOOK.family_ids() if "linkage" in BOOK.documents[key]]
FAMILIES = [key for key in families() if key in WORKED]
Detours = list[tuple[str, str]]


def walked(*jobs: tuple[str, Detours]) -> list[Any]:
    """Each job walked to its end."""
    given = {
        "pages": {family: family_page(BOOK, family) for family, _ in jobs},
        "shared": shared_document(BOOK),
        "routines": routines_document(BOOK),
        "jobs": jobs,
    }
    return list(answered("walked_jobs.mjs", given))


@cache
def honest() -> dict[str, Any]:
    return dict(zip(FAMILIES, walked(*((family, []) for family in FAMILIES)), strict=True))


def test_there_are_families_of_every_linkage() -> None:
    assert {BOOK.documents[family]["linkage"] for family in WORKED} == set(LINKAGES)


@pytest.mark.parametrize("family", FAMILIES)
def test_an_honest_job_ends_finished(family: str) -> None:
    job = honest()[family]
    assert "error" not in job, job
    assert (job["stale"], job["undone"], job["why"], job["wrong"]) == ([], [], "", [])


@pytest.mark.parametrize("family", FAMILIES)
def test_what_must_be_read_again_is_led_through_once(family: str) -> None:
    worked = honest()[family]["worked"]
    again = {step for step in worked if worked.count(step) > 1}
    assert all(worked.count(step) == 2 for step in again)
    still = {step.id for step in BOOK.job(family).steps if not step.turned}
    assert again <= still, "in the state that the engine is in"
    plugs_in = worked.index("plugs-in")
    assert len(set(worked[plugs_in:])) == len(worked[plugs_in:]), "nothing is read again with the plugs in"


def steps(family: str, **wanted: str) -> list[str]:
    """The steps of a family's job that have these words."""
    return [
        step.id for step in BOOK.job(family).steps if all(getattr(step, key) == word for key, word in wanted.items())
    ]


@pytest.mark.parametrize("to", ["dead-centre", "trigger"])
def test_going_back_makes_the_ignition_dead_and_closes_the_gate_again(to: str) -> None:
    (job,) = walked(("skerrow/ketch-47", [("maximum", to)]))
    assert "error" not in job, job
    back = job["worked"][job["worked"].index("maximum") + 1 :]
    cranked = min(back.index(step) for step in steps("skerrow/ketch-47", turned="by-starter") if step in back)
    way = [step for step in back[:cranked] if step in ("stop-lead-grounded", to, "before-light", "stop-lead-released")]
    assert way == ["stop-lead-grounded", to, "before-light", "stop-lead-released"]
    assert (job["stale"], job["undone"], job["why"], job["wrong"]) == ([], [], "", [])


def test_with_the_plugs_in_every_gate_is_ticked_again_and_the_engine_closed_up_again() -> None:
    (job,) = walked(("skerrow/ketch-47", [("plugs-in", "maximum")]))
    assert "error" not in job, job
    back = job["worked"][job["worked"].index("plugs-in") + 1 :]
    assert back[:3] == ["before-cranking", "before-light", "maximum"]
    assert back[3 : back.index("start")] == ["maximum-with-cable", "before-plugs", "plugs-in"]


AFTER = ["trigger", "dead-centre", "before-light", "maximum", "spark", "before-plugs", "plugs-in", "after-an-hour"]


@pytest.mark.parametrize("family", ["skerrow/ketch-47", "hollin-drake/adze-31", "ostmere/knot-4-1", "skerrow/smack-71"])
def test_wherever_one_goes_back_from_the_engine_is_never_turned_as_it_should_not_be(family: str) -> None:
    """To steps at which the flywheel turns; and the job ends finished all the same."""
    names = [step.id for step in BOOK.job(family).steps]
    by_hand, by_starter = steps(family, turned="by-hand"), steps(family, turned="by-starter")
    turned = [by_starter[0], by_hand[0], "dead-centre", by_starter[-1]]
    later = [name for name in AFTER if name in names]
    detours = [[(after, to)] for after in later for to in turned if names.index(to) < names.index(after)]
    for asked, job in zip(detours, walked(*((family, one) for one in detours)), strict=True):
        assert "error" not in job, (asked, job)
        assert (job["stale"], job["undone"], job["why"], job["wrong"]) == ([], [], "", []), asked
