"""Walks by their seeds: the same seed, family and mechanic give the same walk, to the last word."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from tests.support.folders import ASSETS
from tests.walk.book import book, documents, page
from tests.walk.careless import CAREFUL, MECHANICS
from tests.walk.drawing import draw, serials
from tests.walk.judging import Judged, judge
from tests.walk.mechanic import Walk, Way
from tests.walk.phone import Phone, PhoneError


@dataclass(frozen=True)
class Asked:
    """Which walk: ``serial`` empty draws one of the family's."""

    seed: int
    family: str
    mechanic: str = CAREFUL
    exact: bool = True
    serial: str = ""

    @property
    def command(self) -> str:
        """What prints this walk again."""
        more = "" if self.exact else " --scatter"
        serial = f" --serial {self.serial}" if self.serial else ""
        return (
            f"python -m tests.walk --seed {self.seed} --family {self.family} --mechanic {self.mechanic}{serial}{more}"
        )


@dataclass(frozen=True)
class Walked:
    """How it went."""

    asked: Asked
    judged: Judged
    walk: Walk

    @property
    def found(self) -> tuple[str, ...]:
        """What this walk shows to be wrong; a careful one that does not end in the window shows something too."""
        lost = self.asked.mechanic == CAREFUL and not self.judged.inside and not self.judged.overridden
        return self.judged.faults or (
            () if not lost else (f"a careful walk does not end in the window: {self.walk.ended}",)
        )


def families() -> list[str]:
    """The families that have an order of work."""
    return [family for family in sorted(book().family_ids()) if page(family).get("routine")]


def walked(phone: Phone, asked: Asked) -> Walked:
    """One job from its first screen to its end."""
    chance = random.Random(f"{asked.seed} {asked.family} {asked.mechanic} {asked.exact}")
    serial = asked.serial or chance.choice(serials(asked.family))
    engine = draw(asked.family, serial, chance, exact=asked.exact)
    way = Way(
        margin=chance.choice(["", "0.5", "1", "1", "2"]),
        state=chance.choice(["", "", "running"]),
        moves_pointer=chance.random() < 0.5,
        digits=2 if asked.exact else 1,
    )
    for family in (asked.family, *(twin["id"] for twin in (page(asked.family).get("twins") or {}).get("others", ()))):
        phone.keep(documents(family))
    phone.reset(asked.seed)
    mechanic = MECHANICS[asked.mechanic](phone, engine, chance, way)
    try:
        walk = mechanic.work()
    except PhoneError as error:
        walk = mechanic.walk
        walk.ended = f"a script went wrong: {str(error).splitlines()[0]}"
        walk.told.append(str(error))
    judged = judge(mechanic)
    return Walked(asked, judged, walk)


def _some(asked: list[Asked], assets: Path, keep: bool) -> list[Walked]:
    with Phone(assets) as phone:
        done = [walked(phone, one) for one in asked]
    if not keep:
        for one in done:
            one.walk.told.clear()
    return done


def walk_all(
    asked: Iterable[Asked], workers: int = 2, assets: Path = ASSETS, *, told: bool = False, batch: int = 50
) -> Iterator[Walked]:
    """Many walks, on several cores; without what was told unless it is wanted."""
    wanted = list(asked)
    batch = max(1, min(batch, -(-len(wanted) // workers)))
    batches = [wanted[at : at + batch] for at in range(0, len(wanted), batch)]
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        for done in pool.map(_some, batches, [assets] * len(batches), [told] * len(batches)):
            yield from done


def plan(count: int, seed: int = 1, mechanics: Iterable[str] = MECHANICS) -> list[Asked]:
    """So many walks over all families: half of them careful, half of those exact."""
    others = [name for name in mechanics if name != CAREFUL] or [CAREFUL]
    names = families()
    asked = []
    for place in range(count):
        careless = place % 2 == 1
        mechanic = others[place // 2 % len(others)] if careless else CAREFUL
        family = names[(place // 2 + place // (2 * len(names))) % len(names)]
        asked.append(Asked(seed + place, family, mechanic, exact=place % 4 < 2))
    return asked
