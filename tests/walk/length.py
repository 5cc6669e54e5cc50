"""How long a job is: its screens, the words in sight on them, and the taps before anything is read."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tests.walk.book import documents, limits, page
from tests.walk.drawing import draw, serials
from tests.walk.mechanic import Mechanic, Way
from tests.walk.phone import Hand, Phone, Screen


@dataclass(frozen=True)
class Length:
    """One job, worked in order as each screen says; ``words`` by screen, until something is read there."""

    family: str
    ended: str
    words: dict[str, int]
    taps: int
    taps_to_light: int

    @property
    def screens(self) -> int:
        """The screens of the job, the first form and the end among them."""
        return len(self.words)


def words_of(screen: Screen) -> list[str]:
    """What is read on a screen; keys of digits and signs are not words."""
    return [word for word in screen.sight.split() if any(letter.isalpha() for letter in word)]


class Reader(Mechanic):
    """Reads every word in sight, also those that come when a danger is met or another figure is chosen, until
    the first reading is kept there; and counts what it took to come to the first reading of all.
    """

    def __init__(self, phone: Phone, family: str) -> None:
        chance = random.Random(f"length {family}")
        engine = draw(family, serials(family)[0], chance, exact=True)
        for figure, screw in engine.screws.items():  # the shortest way: it is found as it should be
            printed = limits(family, figure, engine.serial)
            screw.angle, screw.drag = min((one.low for one in printed), default=0.0) - 0.1, 0.0
        engine.offsets, engine.cable_pull = {}, 0.0
        super().__init__(phone, engine, chance, Way(margin=""))
        self.known: dict[str, Counter[str]] = {}
        self.read_at: set[str] = set()
        self.first = self.first_light = 0

    def see(self, screen: Screen) -> None:
        """Reads what is new on the screen."""
        super().see(screen)
        if screen.title not in self.read_at and not screen.find("anyway"):
            self.known[screen.title] = self.known.get(screen.title, Counter()) | Counter(words_of(screen))

    def do(self, *hands: Hand) -> None:
        """Counts what the hands did until the first reading is kept."""
        before = self.phone.taps
        light = bool(self.figure())
        if ("tap", "store") in hands:
            self.read_at.add(self.screen.title)
            self.first = self.first or before
            self.first_light = self.first_light or before * light
        super().do(*hands)

    def works_step(self) -> None:
        """The words that only come with another figure of the step are read too."""
        choice = self.screen.find("figure")
        if choice and self.screen.title not in self.read_at:
            taps = self.phone.taps
            for option in (*choice["options"][1:], choice["options"][0]):
                self.see(self.phone.do(("choose", "figure", option["value"]), tab=self.tab))
            self.phone.taps = taps
        super().works_step()


def length_of(phone: Phone, family: str) -> Length:
    """A job on the family's first engine, from the form to its end."""
    phone.keep(documents(family))
    for twin in (page(family).get("twins") or {}).get("others", ()):
        phone.keep(documents(twin["id"]))
    phone.reset(1)
    reader = Reader(phone, family)
    walk = reader.work()
    words = {title: known.total() for title, known in reader.known.items()}
    return Length(family, walk.ended, words, reader.first, reader.first_light)


def table(lengths: Sequence[Length]) -> Iterator[str]:
    """A row for each family, the longest first."""
    yield f"{'family':<28}{'screens':>9}{'words':>8}{'taps before a reading':>24}{'before the light':>18}"
    for one in sorted(lengths, key=lambda one: (-one.screens, -sum(one.words.values()))):
        ended = "" if one.ended == "finished" else f"  {one.ended}"
        words = sum(one.words.values())
        yield f"{one.family:<28}{one.screens:>9}{words:>8}{one.taps:>24}{one.taps_to_light:>18}{ended}"
