"""An engine that turns: mechanics walk whole jobs by the screens alone, and the engine is looked at afterwards.

A walk that fails says the command that prints it from its first screen.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.npm import NotBrought, package, skip
from tests.walk.careless import CAREFUL, UNSEEN
from tests.walk.faults import FAULTS, Fault, put_back
from tests.walk.phone import Phone
from tests.walk.table import lines
from tests.walk.walks import Asked, Walked, plan, walk_all, walked

JOBS = 14
FINISHED = 0.9
"""What part of the careful walks ends finished in the window, as a fraction: it only ever goes up."""
FIRST = Asked(1, "skerrow/ketch-47", serial="301455")


@pytest.fixture(scope="module")
def walks() -> list[Walked]:
    try:
        package("linkedom")
    except NotBrought as reason:
        skip(reason)
    return list(walk_all([FIRST, *plan(JOBS)]))


def test_no_job_ends_finished_with_the_engine_early(walks: list[Walked]) -> None:
    """Nor is one cranked into the piston stop, nor a target shown that lies earlier than printed."""
    wrong = [
        f"{fault}: {one.asked.command}"
        for one in walks
        if one.asked.mechanic not in UNSEEN
        for fault in one.judged.faults
    ]
    assert not wrong, "\n".join(wrong)


def test_a_careful_walk_ends_finished_in_the_window(walks: list[Walked]) -> None:
    assert walks[0].judged.inside, walks[0].walk.ended
    careful = [one for one in walks if one.asked.mechanic == CAREFUL]
    inside = sum(one.judged.inside for one in careful)
    assert inside >= FINISHED * len(careful), "\n".join(lines(walks))


ONCE_LED_IN_CIRCLES = [
    # seed, family, exact -> what the screens did
    (28, "ostmere/whimbrel-41", False, "after half a turn that hardly moved a screw with play: 14 7/8 turns"),
    (215, "ostmere/dunlin-6-7", False, "a fault put right, but judged by what was read before"),
]


@pytest.mark.parametrize(("seed", "family", "exact", "did"), ONCE_LED_IN_CIRCLES)
def test_a_careful_mechanic_is_not_led_in_circles(seed: int, family: str, exact: bool, did: str) -> None:
    try:
        package("linkedom")
    except NotBrought as reason:
        skip(reason)
    (one,) = walk_all([Asked(seed, family, exact=exact)])
    assert one.judged.inside, did


def test_every_job_ends(walks: list[Walked]) -> None:
    endless = [one.asked.command for one in walks if "does not end" in one.walk.ended or "went wrong" in one.walk.ended]
    assert not endless


def test_a_seed_gives_the_same_walk_to_the_last_word() -> None:
    asked = [Asked(7, "skerrow/smack-71", "reloads", exact=False), Asked(8, "skerrow/ketch-47", "two-tabs")]
    first, again = (list(walk_all(asked, told=True)) for _ in range(2))
    assert first == again
    assert all(len(one.walk.told) > 30 for one in first)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.does)
def test_an_old_fault_put_back_is_found(fault: Fault, tmp_path: Path) -> None:
    with Phone(put_back(fault, tmp_path)) as phone:
        one = walked(phone, fault.asked)
    assert one.found, f"{one.walk.ended}: {fault.asked.command}"
